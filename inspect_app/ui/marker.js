/* The marker: tools, photo, list in words for the keyboard, and what the server says. Joined last. */

const markers = new WeakMap();
const TOOLS = { select: "Select", rectangle: "Rectangle", ellipse: "Ellipse", polygon: "Polygon", crack_line: "Crack line", point: "Point", scale_line: "Scale line" };

export default function ({ data, parentElement, setStateValue }) {
  let marker = markers.get(parentElement);
  if (!marker) markers.set(parentElement, (marker = new Marker(parentElement)));
  marker.post = (value) => setStateValue("marks", value);
  marker.update(data);
}

class Marker {
  constructor(parent) {
    this.tool = "select";
    this.vertex = null;
    this.glass = new Glass();
    this.list = new DraftList((value) => this.post(value));
    this.root = make("div", { class: "marker" });
    this.build();
    this.hand = new Hand(this);
    parent.appendChild(this.root);
    new ResizeObserver(() => this.data && this.paint()).observe(this.glass.svg);
    this.root.addEventListener("keydown", (event) => this.keydown(event));
    for (const kind of ["keyup", "keypress"]) {
      this.root.addEventListener(kind, (event) => {
        event.stopPropagation();
        if (event.key === " ") this.hand.space = false;
      });
    }
  }

  build() {
    this.tools = make("div", { class: "tools", role: "group", "aria-label": "Draw on the photo" });
    this.buttons = {};
    for (const [tool, word] of Object.entries(TOOLS)) this.button(this.tools, tool, word, () => this.use(tool));
    this.acts = make("div", { class: "acts", role: "group", "aria-label": "The chosen mark" });
    this.button(this.acts, "done", "Done", () => this.hand.end());
    this.button(this.acts, "cancel", "Cancel", () => this.hand.cancel());
    this.button(this.acts, "undo", "Undo", () => this.step("undo"));
    this.button(this.acts, "redo", "Redo", () => this.step("redo"));
    this.button(this.acts, "add_point", "Add a point", () => this.addPoint());
    this.button(this.acts, "remove_point", "Remove the point", () => this.removePoint(this.vertex));
    this.button(this.acts, "delete", "Delete", () => this.list.selected && this.list.remove(this.list.selected));
    this.view = make("div", { class: "view", role: "group", "aria-label": "View of the photo" });
    this.button(this.view, "smaller", "\u2212", () => this.glass.zoom(1 / 1.5)).setAttribute("aria-label", "Smaller");
    this.button(this.view, "larger", "+", () => this.glass.zoom(1.5)).setAttribute("aria-label", "Larger");
    this.button(this.view, "whole", "Whole picture", () => this.glass.whole());
    this.said = make("p", { class: "said", role: "status" });
    this.root.append(this.tools, this.glass.svg, this.view, this.said, this.acts, this.form());
  }

  button(into, name, word, press) {
    const node = make("button", { type: "button", "data-do": name }, word);
    node.addEventListener("click", () => {
      press();
      this.paint();
    });
    into.append(node);
    return (this.buttons[name] = node);
  }

  // A new mark without a pointer: shape and points as numbers.
  form() {
    this.numbers = make("details", { class: "numbers" });
    this.shape = make("select", { "aria-label": "Shape" });
    for (const [shape, { word }] of Object.entries(SHAPES)) this.shape.append(make("option", { value: shape }, word));
    this.typed = make("input", { type: "text", autocomplete: "off", "aria-label": "Points in pixels: across down, across down" });
    const shape = make("label", {}, "Shape");
    const points = make("label", {}, "Points in pixels: across down, across down");
    shape.append(this.shape);
    points.append(this.typed);
    this.numbers.append(make("summary", {}, "Add a mark by numbers"), shape, points);
    this.button(this.numbers, "add", "Add the mark", () => this.addTyped());
    this.typed.addEventListener("keydown", (event) => event.key === "Enter" && (this.addTyped(), this.paint()));
    return this.numbers;
  }

  addTyped() {
    const numbers = this.typed.value.match(/-?\d+(?:\.\d+)?/g)?.map(Number) ?? [];
    const points = numbers.flatMap((value, at) => (at % 2 ? [[numbers[at - 1], value]] : []));
    const { width, height } = this.photo;
    const { word, fewest, most } = SHAPES[this.shape.value];
    const outside = points.find(([x, y]) => x < 0 || y < 0 || x > width || y > height);
    if (numbers.length % 2 || points.length < fewest || points.length > most) {
      return this.say(`A ${word} needs ${fewest === most ? fewest : `${fewest} or more`} points, each two numbers. Nothing was added.`);
    }
    if (outside) return this.say(`${outside.join(", ")} lies outside the picture of ${width} by ${height} pixels. Nothing was added.`);
    if (!this.list.add(this.shape.value, points)) return this.say(`These points make no ${word}: it has no size. Nothing was added.`);
    this.typed.value = "";
    this.say(`Added ${word} ${this.items().at(-1).letter}.`);
  }

  update(data) {
    const fresh = this.data?.photo.id !== data.photo.id;
    const told = this.data?.problem;
    this.data = data;
    this.photo = data.photo;
    this.readOnly = data.read_only;
    if (fresh) this.tool = "select";
    if (this.list.hear(data)) {
      this.hand.act = null;
      if (fresh) this.hand.pending = null;
      this.vertex = null;
    }
    if (fresh || data.problem || told) this.say(data.problem);
    this.glass.open(data.photo);
    this.root.classList.toggle("read-only", data.read_only);
    this.paint();
  }

  // Every mark in the order of its letter: first those on record, then the drafts.
  items() {
    const kept = this.data.drawn.map((mark, at) => ({ ...mark, name: `kept ${at}`, draft: false, selected: false,
      words: `Mark ${mark.letter}, ${SHAPES[mark.shape].word}, ${mark.words}` }));
    const drafts = this.list.marks.map((mark, at) => {
      const letter = letterAt(kept.length + at);
      return { ...mark, letter, name: mark.id, draft: true, selected: this.list.selected === mark.id, words: `Mark ${letter}, ${SHAPES[mark.shape].word}, draft` };
    });
    return [...kept, ...drafts];
  }

  paint() {
    const pending = this.hand.shown();
    const items = this.items();
    const shown = pending?.instead ? items.map((item) => (item.id === pending.instead ? { ...item, points: tidied(item.shape, pending.points) } : item)) : items;
    this.glass.paint(shown, pending?.instead ? null : pending, this.data.geometry, this.vertex);
    this.label();
  }

  label() {
    const chosen = this.list.find(this.list.selected);
    const many = chosen && MANY.includes(chosen.shape);
    const can = {
      done: this.hand.pending, cancel: this.hand.pending || this.hand.act, undo: this.list.past.length, redo: this.list.future.length,
      add_point: many, remove_point: many && this.vertex !== null && chosen.points.length > SHAPES[chosen.shape].fewest, delete: chosen,
    };
    for (const [name, able] of Object.entries(can)) this.buttons[name].disabled = !able;
    for (const tool of Object.keys(TOOLS)) this.buttons[tool].setAttribute("aria-pressed", String(tool === this.tool));
    this.glass.svg.dataset.tool = this.tool;
  }

  use(tool) {
    if (tool !== this.tool) this.hand.pending = null;
    this.tool = tool;
    this.say(tool === "polygon" || tool === "crack_line" ? "Tap point after point, then Done." : "");
    this.paint();
  }

  choose(item) {
    this.vertex = null;
    if (item && !item.draft) this.say(`${item.words}. It is on record: a correction is a finding of its own.`);
    else this.say("");
    if (!this.readOnly) this.list.choose(item?.draft ? item.id : null);
  }

  step(way) {
    if (this.readOnly) return;
    this.vertex = null;
    this.list[way]();
  }

  addPoint() {
    const { selected } = this.list;
    const chosen = this.list.find(selected);
    if (chosen) this.vertex = this.list.addPoint(selected, this.vertex ?? chosen.points.length - 1);
  }

  removePoint(index) {
    if (index === null || !this.list.removePoint(this.list.selected, index)) this.say("This point cannot go: the mark needs it.");
    this.vertex = null;
  }

  say(words) {
    this.said.textContent = words ?? "";
  }

  hasFocus() {
    const active = this.root.getRootNode().activeElement;
    return Boolean(active) && (active === this.glass.svg || this.glass.svg.contains(active));
  }

  keydown(event) {
    event.stopPropagation(); // the page has shortcuts of its own
    const typing = this.numbers.contains(event.target);
    const button = event.target.tagName === "BUTTON";
    if (typing || (button && (event.key === "Enter" || event.key === " "))) return;
    if (this.hand.key(event)) event.preventDefault();
  }
}
