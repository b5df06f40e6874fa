/* The boxes of the bench. What is typed is text: it is kept in this browser until the server says that it
   is on the disk, and each change has an id of its own, so that sending it twice saves it once. Typing
   never waits for the server: one message is under way at a time, and what comes meanwhile follows it. */

const benches = new WeakMap();
const PATIENCE = 5000;
const LOOK = 200;

export default function ({ data, parentElement, setStateValue }) {
  let bench = benches.get(parentElement);
  if (!bench) benches.set(parentElement, (bench = new Bench(parentElement)));
  bench.post = (outbox) => setStateValue("outbox", outbox);
  bench.update(data);
  return () => clearTimeout(bench.timer);
}

const fresh = () => [...crypto.getRandomValues(new Uint8Array(8))].map((b) => b.toString(16).padStart(2, "0")).join("");
const make = (name, cls = "", text = "") => Object.assign(document.createElement(name), { className: cls, textContent: text });
const shelfName = (core, group) => `bench|${core}|${group}`;

function recall(name) {
  try {
    return JSON.parse(localStorage.getItem(name) ?? "[]");
  } catch {
    return [];
  }
}

class Bench {
  constructor(parent) {
    this.root = make("div", "bench");
    parent.appendChild(this.root);
    this.left = []; // changes of groups that were shown before
    this.seq = 0;
    this.waits = 0;
    this.cells = new Map();
  }

  update(data) {
    const moved = !this.data || this.data.core !== data.core || this.data.group !== data.group;
    if (moved) this.open(data);
    this.data = data;
    const shape = JSON.stringify([data.core, data.group, data.tables]);
    if (shape !== this.shape) this.build(shape);
    for (const ledger of [this, ...this.left]) this.hear(ledger, data.told);
    this.left = this.left.filter((ledger) => ledger.edits.length);
    if (data.seq >= this.waits) this.waits = 0;
    this.paint();
    this.flush();
  }

  /* Another group: what is still to be saved of the one before goes on being sent. */
  open(data) {
    if (this.edits?.length) this.left.push({ core: this.core, group: this.group, edits: this.edits });
    Object.assign(this, { core: data.core, group: data.group, at: "", sentAt: "", pasted: null });
    this.edits = recall(shelfName(data.core, data.group)).map((edit) => ({ ...edit, sent: false, told: null }));
    const again = this.left.find((ledger) => ledger.core === data.core && ledger.group === data.group);
    if (again) this.edits = again.edits;
    this.left = this.left.filter((ledger) => ledger !== again);
  }

  keep(ledger = this) {
    try {
      const name = shelfName(ledger.core, ledger.group);
      if (ledger.edits.length) localStorage.setItem(name, JSON.stringify(ledger.edits));
      else localStorage.removeItem(name);
    } catch {
      /* A browser that keeps nothing still types and saves. */
    }
  }

  hear(ledger, told) {
    const before = ledger.edits.length;
    ledger.edits = ledger.edits.filter((edit) => told[edit.id]?.state !== "saved");
    for (const edit of ledger.edits) {
      if (told[edit.id] && edit.sent) Object.assign(edit, { told: told[edit.id], sent: false });
    }
    if (ledger.edits.length !== before) this.keep(ledger);
  }

  /* The change of a box that stands in it: the last one made. */
  edit(key) {
    return this.edits.findLast((edit) => edit.box === key);
  }

  change(key, changes) {
    let edit = this.edit(key);
    const was = edit;
    if (!edit || edit.sent || edit.told || edit.keep) {
      const bases = edit ? [`reading-${edit.id}`, ...edit.bases] : [this.data.boxes[key].base].filter(Boolean);
      if (edit && !edit.sent) this.edits = this.edits.filter((other) => other !== edit);
      edit = { id: fresh(), box: key, text: was?.text ?? this.data.boxes[key].text, meant: false, reason: "", keep: "", bases: bases.slice(0, 8), open: true };
      this.edits.push(edit);
    }
    Object.assign(edit, { setup: this.data.setup }, changes);
    this.keep();
    return edit;
  }

  drop(key) {
    this.edits = this.edits.filter((edit) => edit.box !== key || edit.sent);
    this.keep();
  }

  /* Done with a box: send what was typed, or ask why it was emptied. True where the hand may go on. */
  commit(key) {
    const edit = this.edit(key);
    const box = this.data.boxes[key];
    if (!edit?.open || edit.pasted) return true;
    const text = edit.text.trim();
    if (!edit.bases.length && !text) this.drop(key);
    else if (edit.bases.length === 1 && text === box.text && edit.bases[0] === box.base) this.drop(key);
    else if (!text && !edit.reason.trim()) {
      edit.asks = true;
      this.keep();
      this.paint();
      return false;
    } else Object.assign(edit, { open: false, asks: false, setup: this.data.setup });
    this.keep();
    this.paint();
    this.flush();
    return true;
  }

  flush(retry = false) {
    if (this.waits) return;
    const due = (edit) => !edit.open && (!edit.told || (retry && edit.told.state === "retry"));
    const ledger = [this, ...this.left].find((one) => one.edits.some(due)) ?? this;
    const edits = ledger.edits.filter(due);
    const elsewhere = ledger === this && this.at !== this.sentAt && this.place(this.at) !== this.place(this.sentAt);
    if (!edits.length && !elsewhere) return;
    for (const edit of edits) Object.assign(edit, { sent: true, told: null });
    if (ledger === this) this.sentAt = this.at;
    this.seq = this.waits = Math.max(this.seq + 1, Date.now());
    const plain = edits.map(({ id, box, text, meant, bases, reason, keep, setup }) => ({ id, box, text, meant, bases, reason, keep, setup }));
    this.post({ seq: this.seq, core: ledger.core, group: ledger.group, at: this.at, edits: plain });
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.again(), PATIENCE);
  }

  /* No answer came: a lost message is sent once more. */
  again() {
    if (!this.waits) return;
    this.waits = 0;
    for (const ledger of [this, ...this.left]) for (const edit of ledger.edits) edit.sent = false;
    this.sentAt = "";
    this.flush();
  }

  place(key) {
    return key.split("|").slice(0, 2).join("|");
  }

  go(key, steps) {
    const to = this.data.hand[this.data.hand.indexOf(key) + steps];
    if (to) this.focus(to);
    return Boolean(to);
  }

  focus(key) {
    this.show(key);
    const { input } = this.cells.get(key);
    input.focus();
    input.select();
  }

  /* A phone shows the table that holds the box. */
  show(key) {
    for (const table of this.root.querySelectorAll(".table")) {
      table.classList.toggle("now", table.contains(this.cells.get(key).cell));
    }
  }

  build(shape) {
    const held = this.root.getRootNode().activeElement?.closest?.(".cell")?.dataset.key;
    this.shape = shape;
    this.cells.clear();
    this.root.replaceChildren();
    this.bar = make("div", "bar");
    this.bar.setAttribute("role", "status");
    const tables = make("div", "tables");
    for (const table of this.data.tables) tables.appendChild(this.table(table));
    this.root.append(this.bar, tables, this.keys());
    this.show(this.cells.has(held) ? held : this.data.hand[0]);
    if (this.cells.has(held)) this.focus(held);
  }

  table({ title, heads, rows }) {
    const table = make("table", "table");
    if (title) table.appendChild(make("caption", "", title));
    if (heads.some(Boolean)) {
      const top = table.createTHead().insertRow();
      top.append(make("td"), ...heads.map((head) => Object.assign(make("th", "", head), { scope: "col" })));
    }
    const body = table.createTBody();
    for (const { label, boxes } of rows) {
      const row = body.insertRow();
      row.append(Object.assign(make("th", "", label), { scope: "row" }), ...boxes.map((key) => this.cell(key)));
    }
    return table;
  }

  cell(key) {
    const cell = make("td", "cell");
    cell.dataset.key = key;
    const input = make("input", "box");
    Object.assign(input, { type: "text", inputMode: "decimal", autocomplete: "off", spellcheck: false, enterKeyHint: "next" });
    input.setAttribute("aria-label", this.data.boxes[key].name);
    const mark = make("span", "mark");
    const said = make("div", "said");
    input.addEventListener("input", () => (this.change(key, { text: input.value, open: true, asks: false, meant: false }), this.paint()));
    input.addEventListener("keydown", (event) => this.key(event, key));
    input.addEventListener("blur", () => this.commit(key));
    input.addEventListener("paste", (event) => this.paste(event, key));
    input.addEventListener("focus", () => this.look(key));
    cell.append(input, mark, said);
    this.cells.set(key, { cell, input, mark, said });
    return cell;
  }

  look(key) {
    this.at = key;
    this.last = key;
    clearTimeout(this.looking);
    this.looking = setTimeout(() => this.flush(), LOOK);
  }

  key(event, key) {
    if (event.isComposing) return;
    const back = event.key === "ArrowUp" || (event.key === "Enter" && event.shiftKey);
    if (back || event.key === "Enter" || event.key === "ArrowDown") {
      if (this.commit(key) && !this.go(key, back ? -1 : 1) && !back) this.cells.get(key).input.select();
      else if (this.edit(key)?.asks) this.cells.get(key).said.querySelector("input")?.focus();
    } else if (event.key === "=" && this.asks(key)) this.meant(key);
    else if (event.key === "Escape") {
      this.drop(key);
      this.paint();
    } else return;
    event.preventDefault();
  }

  asks(key) {
    const edit = this.edit(key);
    return edit ? edit.told?.state === "question" : Boolean(this.data.boxes[key].asked);
  }

  meant(key) {
    this.change(key, { meant: true, open: false });
    this.paint();
    this.flush();
  }

  settle(key, id) {
    const ids = this.data.boxes[key].rivals.map((rival) => rival.id);
    this.drop(key);
    this.edits.push({ id: fresh(), box: key, text: "", meant: false, reason: "", keep: id, bases: ids, setup: this.data.setup, open: false });
    this.keep();
    this.paint();
    this.flush();
  }

  /* Rows and columns of a spreadsheet go into the boxes in the order of the hand, and wait to be saved. */
  paste(event, key) {
    const text = event.clipboardData.getData("text/plain").replace(/\r\n?/g, "\n").replace(/\n+$/, "");
    if (!/[\n\t]/.test(text)) return;
    event.preventDefault();
    const values = text.split(/[\n\t]/).map((value) => value.trim());
    const room = this.data.hand.slice(this.data.hand.indexOf(key));
    const filled = room.slice(0, values.length).filter((_, at) => values[at]);
    room.slice(0, values.length).forEach((to, at) => {
      if (values[at]) this.change(to, { text: values[at], open: true, pasted: true, asks: false });
    });
    const over = values.slice(room.length).filter(Boolean).length;
    const changed = filled.filter((to) => this.data.boxes[to].base).length;
    this.pasted = { keys: filled, over, changed };
    this.paint();
    this.bar.querySelector("button")?.focus();
  }

  pasteDone(save) {
    const { keys } = this.pasted;
    this.pasted = null;
    for (const key of keys) {
      const edit = this.edit(key);
      if (!edit?.pasted) continue;
      delete edit.pasted;
      if (save) this.commit(key);
      else this.drop(key);
    }
    this.paint();
    this.focus(keys.at(-1));
  }

  paint() {
    for (const [key, parts] of this.cells) this.paintCell(key, parts);
    this.paintBar();
  }

  paintCell(key, { cell, input, mark, said }) {
    const box = this.data.boxes[key];
    const edit = this.edit(key);
    const text = edit && !edit.keep ? edit.text : box.text;
    if (input.value !== text) input.value = text;
    input.placeholder = this.data.hint;
    const state = this.state(edit, box);
    cell.dataset.state = state;
    const word = { read: "saved", sent: "saving", typed: "not saved yet", question: "not saved yet", refused: "not saved", retry: "not saved yet", pasted: "from the clipboard", empty: "" }[state];
    if (mark.textContent !== word) mark.textContent = word;
    const told = JSON.stringify([edit?.asks, edit?.told, box, state]);
    if (said.told === told) return;
    said.told = told;
    said.replaceChildren(...this.words(key, edit, box));
  }

  state(edit, box) {
    if (!edit) return box.base ? "read" : "empty";
    if (edit.pasted) return "pasted";
    return edit.told?.state ?? (edit.open ? "typed" : "sent");
  }

  words(key, edit, box) {
    const found = [];
    const press = (text, does) => Object.assign(make("button", "", text), { type: "button", onclick: does });
    if (edit?.asks) return [this.reason(key, edit, box)];
    if (edit?.told) found.push(make("p", "asked", edit.told.words));
    if (edit?.told?.state === "retry") found.push(press("Save again", () => this.flush(true)));
    if (!edit && box.asked) found.push(make("p", "asked", box.asked));
    if (this.asks(key)) found.push(press("As meant, key =", () => (this.meant(key), this.focus(key))));
    if (box.settle) {
      found.push(make("p", "asked", box.settle));
      for (const rival of box.rivals) found.push(press(`Keep ${rival.words}`, () => this.settle(key, rival.id)));
    } else for (const text of box.beside) found.push(make("p", "beside", text));
    return found;
  }

  reason(key, edit, box) {
    const label = make("label", "asked", `Withdraw ${box.text}? It stays in the record, struck through. Why:`);
    const input = Object.assign(make("input", "why"), { type: "text", value: edit.reason, autocomplete: "off" });
    input.addEventListener("input", () => ((edit.reason = input.value), this.keep()));
    input.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.drop(key), this.focus(key);
      else if (event.key !== "Enter" || !input.value.trim()) return;
      else if (this.commit(key)) this.go(key, 1);
      event.preventDefault();
      this.paint();
    });
    label.appendChild(input);
    return label;
  }

  paintBar() {
    const count = (state) => this.edits.filter((edit) => this.state(edit, {}) === state).length;
    const retry = count("retry");
    const told = JSON.stringify([this.pasted, retry]);
    if (this.bar.told === told) return;
    this.bar.told = told;
    this.bar.replaceChildren();
    const press = (text, does) => Object.assign(make("button", "", text), { type: "button", onclick: does });
    if (this.pasted) {
      const { keys, over, changed } = this.pasted;
      const words = `${keys.length} values from the clipboard, from ${this.data.boxes[keys[0]].name} on.`;
      const more = (changed ? ` ${changed} change what was read.` : "") + (over ? ` ${over} more than there are boxes: left out.` : "");
      this.bar.append(make("p", "", words + more), press("Save them", () => this.pasteDone(true)), press("Discard", () => this.pasteDone(false)));
    } else if (retry) {
      this.bar.append(make("p", "", `${retry} not saved yet. They stay in their boxes and in this browser.`), press("Save again", () => this.flush(true)));
    }
  }

  /* Keys that a phone's number keyboard may lack. */
  keys() {
    const bar = make("div", "keys");
    const add = (text, name, does) => {
      const button = Object.assign(make("button", "", text), { type: "button", onclick: does });
      button.setAttribute("aria-label", name);
      button.addEventListener("pointerdown", (event) => event.preventDefault());
      bar.appendChild(button);
    };
    const here = () => (this.cells.has(this.last) ? this.last : this.data.hand[0]);
    const sign = (mark) => () => {
      const { input } = this.cells.get(here());
      input.value = mark + input.value.replace(/^[+\-\u2212]/, "");
      input.focus();
      input.dispatchEvent(new Event("input"));
    };
    add("+", "plus", sign("+"));
    add("\u2212", "minus", sign("-"));
    add("Back", "back", () => this.commit(here()) && this.go(here(), -1));
    add("Next", "next", () => this.commit(here()) && this.go(here(), 1));
    return bar;
  }
}
