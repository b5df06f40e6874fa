/* What stands beside the boxes: questions, what was refused, other readings, the clipboard, keys of a phone. */

const make = (name, cls = "", text = "") =>
  Object.assign(document.createElement(name), { className: cls, textContent: text });
const press = (text, does) => Object.assign(make("button", "", text), { type: "button", onclick: does });

/* Under the row of the box, each begun with the name of its column. */
function wordsUnder(bench, key, edit, box) {
  const found = edit?.asks ? [reasonFor(bench, key, edit, box)] : saidOf(bench, key, edit, box);
  const { column } = bench.cells.get(key);
  if (found.length && column) found[0].prepend(make("strong", "", `${column}: `));
  return found;
}

function saidOf(bench, key, edit, box) {
  const found = [];
  if (edit?.told) found.push(make("p", "asked", edit.told.words));
  if (edit?.told?.state === "retry") found.push(press("Save again", () => bench.flush(true)));
  if (!edit && box.asked) found.push(make("p", "asked", box.asked));
  if (bench.asks(key)) found.push(press("As meant, key =", () => (bench.meant(key), bench.focus(key))));
  if (box.settle) {
    found.push(make("p", "asked", box.settle));
    for (const rival of box.rivals) found.push(press(`Keep ${rival.words}`, () => bench.settle(key, rival.id)));
  } else for (const text of box.beside) found.push(make("p", "beside", text));
  return found;
}

function reasonFor(bench, key, edit, box) {
  const label = make("label", "asked", `Withdraw ${box.text}? It stays in the record, struck through. Why:`);
  const input = Object.assign(make("input", "why"), { type: "text", value: edit.reason, autocomplete: "off" });
  input.addEventListener("input", () => {
    edit.reason = input.value;
    bench.ledger.keep();
  });
  input.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      bench.drop(key);
      bench.focus(key);
    } else if (event.key === "Enter" && input.value.trim()) {
      bench.commit(key);
      if (!bench.go(key, 1)) bench.focus(key);
    } else return;
    event.preventDefault();
  });
  label.appendChild(input);
  return label;
}

/* Rows and columns of a spreadsheet, in the order of the hand; null where a single value is pasted. */
function clipboardValues(event) {
  const text = event.clipboardData.getData("text/plain").replace(/\r\n?/g, "\n").replace(/\n+$/, "");
  if (!/[\n\t]/.test(text)) return null;
  return text.split(/[\n\t]/).map((value) => value.trim());
}

/* The bar above the boxes: what waits there for a word of the person. */
function wordsAbove(bench) {
  const { pasted } = bench;
  if (pasted) {
    const { keys, over, changed } = pasted;
    const words = [`${keys.length} values from the clipboard, from ${bench.data.boxes[keys[0]].name} on.`];
    if (changed) words.push(`${changed} of them change what was read.`);
    if (over) words.push(`${over} more than there are boxes: left out.`);
    return [
      make("p", "", words.join(" ")),
      press("Save them", () => bench.pasteDone(true)),
      press("Discard", () => bench.pasteDone(false)),
    ];
  }
  const waiting = bench.ledger.edits.filter((edit) => edit.told?.state === "retry").length;
  const found = bench.left.filter(({ edits }) => edits.some((edit) => edit.open || edit.told)).map(elsewhere);
  if (!waiting) return found;
  const words = `${waiting} not saved yet. What was typed stays in its box and in this browser.`;
  return [make("p", "", words), press("Save again", () => bench.flush(true)), ...found];
}

function elsewhere({ core, group, edits }) {
  const line = make("p", "", `Typed in this browser and not saved yet: ${edits.length}, `);
  const asked = new URLSearchParams({ core, group });
  const link = make("a", "", `${core}, ${group.replace(/[/_]/g, " ")}`);
  link.href = `/bench?${asked}`;
  line.append(link, ".");
  return line;
}

/* Keys that a phone's number keyboard may lack. */
function phoneKeys(bench) {
  const bar = make("div", "keys");
  const add = (text, name, does) => {
    const button = press(text, does);
    button.setAttribute("aria-label", name);
    button.addEventListener("pointerdown", (event) => event.preventDefault());
    bar.appendChild(button);
  };
  const here = () => (bench.cells.has(bench.last) ? bench.last : bench.data.hand[0]);
  const sign = (mark) => () => {
    const { input } = bench.cells.get(here());
    input.value = mark + input.value.replace(/^[+\-\u2212]/, "");
    input.focus();
    input.dispatchEvent(new Event("input"));
  };
  add("+", "plus", sign("+"));
  add("\u2212", "minus", sign("-"));
  add("Back", "back", () => bench.commit(here()) && bench.go(here(), -1));
  add("Next", "next", () => bench.commit(here()) && bench.go(here(), 1));
  return bar;
}
