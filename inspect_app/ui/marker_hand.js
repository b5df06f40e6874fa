/* Hand and keys on the glass of the marker: drawing, moving, reshaping, panning, pinching, and the keyboard. */

const SLACK = 5; // pixels on the glass within which a press counts as a tap
const REACH = { mouse: 10, pen: 14, touch: 24 };
const DRAGGED = ["rectangle", "ellipse", "scale_line"];
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

class Hand {
  constructor(marker) {
    this.marker = marker;
    this.glass = marker.glass;
    this.fingers = new Map();
    this.act = null; // what the one finger does
    this.pending = null; // a line or polygon whose points are still being set
    this.space = false;
    const { svg } = this.glass;
    svg.addEventListener("pointerdown", (event) => this.down(event));
    svg.addEventListener("pointermove", (event) => this.move(event));
    svg.addEventListener("pointerup", (event) => this.up(event));
    svg.addEventListener("pointercancel", (event) => this.drop(event));
    svg.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    svg.addEventListener("click", (event) => this.click(event));
    svg.addEventListener("dblclick", (event) => event.preventDefault());
    svg.addEventListener("blur", () => (this.space = false));
  }

  get list() {
    return this.marker.list;
  }

  cancel() {
    this.act = this.pending = null;
    this.marker.paint();
  }

  down(event) {
    event.preventDefault();
    this.glass.svg.focus({ preventScroll: true });
    this.glass.svg.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (this.fingers.size > 1) {
      this.act = this.fingers.size === 2 ? { kind: "pinch", ...this.spread() } : null;
      return this.marker.paint();
    }
    const spot = this.glass.at(event);
    const from = { spot, x: event.clientX, y: event.clientY, reach: (REACH[event.pointerType] ?? 10) * this.glass.unit() };
    this.act = { ...this.begin(event, from), from };
  }

  // What a single press begins, by tool and by what lies under it.
  begin(event, { spot, reach }) {
    const { tool } = this.marker;
    if (event.button === 1 || this.space) return { kind: "pan" };
    if (this.marker.readOnly) return { kind: "press" };
    const chosen = this.list.find(this.list.selected);
    if (chosen && tool === "select") {
      const near = handlesOf(chosen).map((point, index) => ({ index, far: apart(point, spot) })).sort((a, b) => a.far - b.far)[0];
      // On a mark smaller than a finger's reach its middle carries it, and its points reshape it.
      const [left, top, right, bottom] = boxOf(chosen.points);
      const fromMiddle = apart(spot, [(left + right) / 2, (top + bottom) / 2]);
      if (near.far <= Math.min(reach, fromMiddle + 1e-9)) return { kind: "handle", id: chosen.id, index: near.index, before: chosen };
      if (distance(spot, chosen) <= reach) return { kind: "carry", id: chosen.id, before: chosen };
    }
    return { kind: tool === "select" ? "press" : DRAGGED.includes(tool) ? "stretch" : "set" };
  }

  // No pointer reaches a mark itself; a click on one comes from what reads the screen out.
  click(event) {
    const name = event.target.closest("[data-name]")?.dataset.name;
    const item = this.marker.items().find((one) => one.name === name);
    if (item) this.marker.choose(item);
    this.marker.paint();
  }

  spread() {
    const [one, two] = [...this.fingers.values()];
    return { wide: apart(one, two), x: (one[0] + two[0]) / 2, y: (one[1] + two[1]) / 2 };
  }

  move(event) {
    if (!this.fingers.has(event.pointerId)) return this.hover(event);
    const last = this.fingers.get(event.pointerId);
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (!this.act) return;
    if (this.act.kind === "pinch") return this.pinch();
    const { from } = this.act;
    if (apart([from.x, from.y], [event.clientX, event.clientY]) > SLACK) this.act.far = true;
    if (!this.act.far) return;
    const spot = within(this.glass.at(event), this.marker.photo);
    if (this.act.kind === "pan" || this.act.kind === "press") {
      const unit = this.glass.unit();
      this.glass.pan((event.clientX - last[0]) * unit, (event.clientY - last[1]) * unit);
    } else if (this.act.kind === "stretch") {
      this.act.shown = { shape: this.marker.tool, points: [within(from.spot, this.marker.photo), spot] };
    } else if (this.act.kind === "set") {
      this.act.shown = { shape: this.marker.tool, points: [...(this.pending?.points ?? []), spot] };
    } else {
      this.act.shown = { shape: this.act.before.shape, points: this.changed(spot), instead: this.act.id };
    }
    this.marker.paint();
  }

  changed(spot) {
    const { kind, before, index, from } = this.act;
    if (kind === "carry") return moved(before.points, spot[0] - from.spot[0], spot[1] - from.spot[1], this.marker.photo);
    const off = handlesOf(before)[index].map((value, axis) => value - from.spot[axis]);
    return reshaped(before, index, within([spot[0] + off[0], spot[1] + off[1]], this.marker.photo));
  }

  hover(event) {
    if (!this.pending || event.pointerType === "touch") return;
    this.pending.next = within(this.glass.at(event), this.marker.photo);
    this.marker.paint();
  }

  pinch() {
    const before = this.act;
    if (this.fingers.size !== 2) return;
    const now = this.spread();
    const unit = this.glass.unit();
    this.glass.pan((now.x - before.x) * unit, (now.y - before.y) * unit);
    const about = this.glass.at({ clientX: now.x, clientY: now.y });
    if (before.wide > 0) this.glass.zoom(now.wide / before.wide, about);
    this.act = { kind: "pinch", ...now };
    this.marker.paint();
  }

  up(event) {
    const act = this.act;
    this.fingers.delete(event.pointerId);
    if (this.fingers.size || !act || act.kind === "pinch") {
      if (!this.fingers.size) this.act = null;
      return this.marker.paint();
    }
    this.act = null;
    const spot = within(this.glass.at(event), this.marker.photo);
    if (act.kind === "stretch") this.stretched(act, spot);
    else if (act.kind === "set") this.set(spot, event);
    else if (act.far && act.shown) this.list.replace(act.id, act.shown.points);
    else if (!act.far && act.kind === "handle") this.marker.vertex = act.index;
    else if (!act.far && act.kind !== "pan") this.pick(act.from);
    if (act.kind === "handle" && act.far) this.marker.vertex = null;
    this.marker.paint();
  }

  drop(event) {
    this.fingers.delete(event.pointerId);
    this.act = null;
    this.marker.paint();
  }

  stretched({ far, from }, spot) {
    const made = far && this.list.add(this.marker.tool, [from.spot, spot]);
    this.marker.say(made ? "" : "Press at one corner or end and drag to the other.");
    if (made) this.marker.use("select");
  }

  set(spot, event) {
    const { tool } = this.marker;
    if (tool === "point") {
      this.list.add(tool, [spot]);
      return this.marker.use("select");
    }
    const points = this.pending?.points ?? [];
    const again = event.pointerType === "mouse" && points.length && apart(points.at(-1), spot) < SLACK * this.glass.unit();
    if (again) return event.detail > 1 || Date.now() - this.pending.when < 400 ? this.end() : undefined;
    if (points.length >= SHAPES[tool].most) return this.marker.say(`A line has at most ${SHAPES[tool].most} points. End it.`);
    this.pending = { shape: tool, points: [...points, spot], when: Date.now() };
  }

  // End the line or polygon being drawn.
  end() {
    if (!this.pending) return;
    const { shape, points } = this.pending;
    if (!this.list.add(shape, points)) {
      return this.marker.say(`A ${SHAPES[shape].word} needs ${SHAPES[shape].fewest} points or more that span something.`);
    }
    this.pending = null;
    this.marker.say("");
    this.marker.use("select");
  }

  pick({ spot, reach }) {
    const near = this.marker.items().map((item) => ({ item, far: distance(spot, item) })).filter(({ far }) => far <= reach);
    const size = ({ points }) => { const [l, t, r, b] = boxOf(points); return (r - l) + (b - t); };
    near.sort((one, other) => one.far - other.far || size(one.item) - size(other.item));
    this.marker.choose(near[0]?.item ?? null);
  }

  wheel(event) {
    const focused = this.marker.hasFocus();
    if (!event.ctrlKey && !focused) return;
    event.preventDefault();
    this.glass.zoom(Math.exp(-clampTo(event.deltaY, -300, 300) * 0.002), this.glass.at(event));
    this.marker.paint();
  }

  shown() {
    if (this.act?.shown) return this.act.shown;
    if (!this.pending) return null;
    const { shape, points, next } = this.pending;
    return { shape, points: next ? [...points, next] : points };
  }

  // A key on the glass, a mark or a handle; true if it meant something here.
  key(event) {
    const [name, vertex] = (event.target.dataset?.name ?? "").split("/");
    const item = this.marker.items().find((one) => one.name === name);
    if (event.key === "Escape") {
      if (this.act || this.pending) this.cancel();
      else this.marker.use("select");
    } else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
      this.marker.step(event.shiftKey ? "redo" : "undo");
    } else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "y") {
      this.marker.step("redo");
    } else if (event.key === "Enter" && this.pending) {
      this.end();
    } else if (event.key === " " && !item) {
      this.space = true;
    } else if ((event.key === "Enter" || event.key === " ") && item) {
      if (vertex === undefined) this.marker.choose(item);
      else this.marker.vertex = Number(vertex);
    } else if (STEPS[event.key]) {
      this.arrow(event, item, vertex);
    } else if (event.key === "Delete" && item?.draft && !this.marker.readOnly) {
      if (vertex === undefined) this.list.remove(item.id);
      else this.marker.removePoint(Number(vertex));
    } else {
      return false;
    }
    this.marker.paint();
    return true;
  }

  arrow(event, item, vertex) {
    const [dx, dy] = STEPS[event.key].map((step) => step * (event.shiftKey ? 10 : 1));
    if (!item) {
      const unit = 40 * this.glass.unit();
      return this.glass.pan(-Math.sign(dx) * unit, -Math.sign(dy) * unit);
    }
    if (!item.draft || this.marker.readOnly) return;
    if (vertex === undefined) return void this.list.replace(item.id, moved(item.points, dx, dy, this.marker.photo));
    const [x, y] = handlesOf(item)[vertex];
    this.list.replace(item.id, reshaped(item, Number(vertex), within([x + dx, y + dy], this.marker.photo)));
  }
}
