/* The boxes of the bench. What is typed is text and stays in its box; typing never waits for the server: one
   message is under way at a time, and what comes meanwhile follows it. */

const benches = new WeakMap();
const PATIENCE = 2500;
const MOST_PATIENCE = 20000;
const LOOK = 200;
const DESK = "(min-width: 761px)";
const MARKS = {
  empty: "", read: "saved", sent: "saving", typed: "not saved yet", pasted: "from the clipboard",
  question: "not saved yet", refused: "not saved", retry: "not saved yet",
};

export default function ({ data, parentElement, setStateValue }) {
  let bench = benches.get(parentElement);
  if (!bench) benches.set(parentElement, (bench = new Bench(parentElement)));
  bench.post = (outbox) => setStateValue("outbox", outbox);
  bench.update(data);
  return () => clearTimeout(bench.timer);
}

const placeOf = (key) => key.split("|").slice(0, 2).join("|");

class Bench {
  edit = (key) => this.ledger.of(key);

  constructor(parent) {
    this.root = make("div", "bench");
    parent.appendChild(this.root);
    Object.assign(this, { left: keptLedgers(), seq: 0, waits: 0, patience: PATIENCE, at: "", sentAt: "", cells: new Map() });
  }

  update(data) {
    const moved = this.ledger?.core !== data.core || this.ledger?.group !== data.group;
    const ready = data.ready && !this.data?.ready;
    if (moved) this.open(data);
    this.data = data;
    const shape = JSON.stringify([data.core, data.group, data.tables]);
    if (shape !== this.shape) this.build(shape);
    for (const ledger of this.ledgers()) ledger.hear(data.told);
    this.left = this.left.filter((ledger) => ledger.edits.length);
    if (this.waits && data.seq >= this.waits) Object.assign(this, { waits: 0, patience: PATIENCE });
    this.root.dataset.ready = data.ready;
    this.paint();
    this.flush(ready);
    if (moved) this.begin(data);
  }

  ledgers() {
    return [this.ledger, ...this.left];
  }

  /* Another group: what is still to be saved of the one before goes on being sent. */
  open(data) {
    if (this.ledger?.edits.length) this.left.push(this.ledger);
    const before = this.left.find((ledger) => ledger.core === data.core && ledger.group === data.group);
    this.left = this.left.filter((ledger) => ledger !== before);
    this.ledger = before ?? new Ledger(data.core, data.group);
    Object.assign(this, { at: "", sentAt: "", last: "", pasted: null });
  }

  /* A desk is ready to type on; a phone would lift its keyboard over what is to be chosen first. */
  begin(data) {
    if (data.start) this.show(data.start);
    if (data.ready && data.begun && matchMedia(DESK).matches) this.focus(data.start || this.firstEmpty());
  }

  firstEmpty() {
    return this.data.hand.find((key) => !this.data.boxes[key].base && !this.edit(key)) ?? this.data.hand[0];
  }

  change(key, changes) {
    return this.ledger.change(key, this.data.boxes[key], this.data.setup, changes);
  }

  drop(key) {
    this.ledger.drop(key);
    this.paint();
  }

  /* Done with a box: send what was typed, or ask why it was emptied. True where the hand may go on. */
  commit(key) {
    const edit = this.edit(key);
    const box = this.data.boxes[key];
    if (!edit?.open || edit.pasted) return true;
    const text = edit.text.trim();
    const same = edit.bases.length === 1 && edit.bases[0] === box.base && text === box.text;
    if (same || (!edit.bases.length && !text)) this.ledger.drop(key);
    else if (!text && !edit.reason.trim()) edit.asks = true;
    else Object.assign(edit, { open: false, asks: false, setup: this.data.setup });
    this.ledger.keep();
    this.paint();
    this.flush();
    return !edit.asks;
  }

  flush(retry = false) {
    if (retry) for (const ledger of this.ledgers()) ledger.tryAgain();
    if (this.waits) return;
    const ledger = this.ledgers().find((one) => one.due().length) ?? this.ledger;
    const edits = ledger.due();
    const elsewhere = ledger === this.ledger && placeOf(this.at) !== placeOf(this.sentAt);
    if (!edits.length && !elsewhere) return;
    for (const edit of edits) Object.assign(edit, { sent: true, told: null });
    if (ledger === this.ledger) this.sentAt = this.at;
    this.seq = this.waits = Math.max(this.seq + 1, Date.now());
    const plain = edits.map(({ id, box, text, meant, bases, reason, keep, setup }) => (
      { id, box, text, meant, bases, reason, keep, setup }
    ));
    this.post({ seq: this.seq, core: ledger.core, group: ledger.group, at: this.at, edits: plain });
    this.paint();
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.again(), this.patience);
  }

  /* No answer came: a lost message is sent once more, and a slow server is given longer each time. */
  again() {
    if (!this.waits) return;
    this.waits = 0;
    this.patience = Math.min(2 * this.patience, MOST_PATIENCE);
    for (const ledger of this.ledgers()) for (const edit of ledger.edits) edit.sent = false;
    this.sentAt = "";
    this.flush();
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
    const held = this.root.getRootNode().activeElement?.closest?.("[data-key]")?.dataset.key;
    this.shape = shape;
    this.cells.clear();
    this.root.replaceChildren();
    this.bar = make("div", "bar");
    this.bar.setAttribute("role", "status");
    const tables = make("div", "tables");
    for (const table of this.data.tables) tables.appendChild(this.table(table));
    this.root.append(this.bar, tables, phoneKeys(this));
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
      row.append(Object.assign(make("th", "", label), { scope: "row" }), ...boxes.map((key, at) => this.cell(key, heads[at])));
      const under = Object.assign(body.insertRow().insertCell(), { colSpan: boxes.length + 1, className: "under" });
      under.append(...boxes.map((key) => this.cells.get(key).said));
    }
    return table;
  }

  cell(key, column) {
    const cell = make("td", "cell");
    cell.dataset.key = key;
    const input = make("input", "box");
    Object.assign(input, { type: "text", inputMode: "decimal", autocomplete: "off", enterKeyHint: "next" });
    input.setAttribute("aria-label", this.data.boxes[key].name);
    const mark = make("span", "mark");
    const said = make("div", "said");
    said.dataset.key = key;
    const typed = () => ({ text: input.value, open: true, asks: false, meant: false });
    input.addEventListener("input", () => (this.change(key, typed()), this.paint()));
    input.addEventListener("keydown", (event) => this.key(event, key));
    input.addEventListener("blur", () => this.commit(key));
    input.addEventListener("paste", (event) => this.paste(event, key));
    input.addEventListener("focus", () => this.look(key));
    input.addEventListener("click", () => this.pointed(key));
    cell.append(input, mark);
    this.cells.set(key, { cell, input, mark, said, column });
    return cell;
  }

  /* What stands in a box that is pointed at is typed over; pointing at it once more sets the cursor. */
  pointed(key) {
    if (this.entered && !this.edit(key)?.open) this.cells.get(key).input.select();
    this.entered = false;
  }

  look(key) {
    this.entered = true;
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
    else if (event.key === "Escape") this.drop(key);
    else return;
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
    this.ledger.settle(key, this.data.boxes[key], this.data.setup, id);
    this.paint();
    this.flush();
  }

  paste(event, key) {
    const values = clipboardValues(event);
    if (!values) return;
    event.preventDefault();
    const room = this.data.hand.slice(this.data.hand.indexOf(key));
    const filled = room.filter((_, at) => values[at]);
    for (const to of filled) {
      this.change(to, { text: values[room.indexOf(to)], open: true, pasted: true, asks: false });
    }
    const over = values.slice(room.length).filter(Boolean).length;
    const changed = filled.filter((to) => this.data.boxes[to].base).length;
    this.pasted = { keys: filled, over, changed };
    this.paint();
    this.bar.querySelector("button")?.focus();
  }

  pasteDone(save) {
    const { keys } = this.pasted;
    this.pasted = null;
    for (const key of keys.filter((one) => this.edit(one)?.pasted)) {
      delete this.edit(key).pasted;
      if (save) this.commit(key);
      else this.drop(key);
    }
    this.paint();
    this.focus(keys.at(-1));
  }

  paint() {
    for (const [key, parts] of this.cells) this.paintCell(key, parts);
    const states = this.ledgers().map(({ edits }) => edits.map((edit) => this.state(edit, {})));
    const above = JSON.stringify([this.pasted, states]);
    if (this.bar.told === above) return;
    this.bar.told = above;
    this.bar.replaceChildren(...wordsAbove(this));
  }

  paintCell(key, { cell, input, mark, said }) {
    const box = this.data.boxes[key];
    const edit = this.edit(key);
    const text = edit && !edit.keep ? edit.text : box.text;
    if (input.value !== text) input.value = text;
    input.placeholder = this.data.hint;
    const state = this.state(edit, box);
    cell.dataset.state = state;
    if (mark.textContent !== MARKS[state]) mark.textContent = MARKS[state];
    const told = JSON.stringify([edit?.asks, edit?.told, box, state]);
    if (said.told === told) return;
    said.told = told;
    said.replaceChildren(...wordsUnder(this, key, edit, box));
  }

  state(edit, box) {
    if (!edit) return box.base ? "read" : "empty";
    if (edit.pasted) return "pasted";
    return edit.told?.state ?? (edit.open ? "typed" : "sent");
  }
}
