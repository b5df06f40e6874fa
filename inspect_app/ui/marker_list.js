/* The list of drafts: its revision, what can be undone, and the agreement with the server about it. Every
   edit sends the whole list, so that a message that is overtaken by the next loses nothing. */

const MOST_KEPT = 200;

class DraftList {
  constructor(changed) {
    this.changed = changed;
    this.marks = [];
    this.selected = null;
    this.revision = 0;
    this.agreed = 0;
    this.past = [];
    this.future = [];
  }

  // Take what the server holds unless edits of this list are still on their way to it; true if it changed.
  hear({ photo, epoch, revision, marks, selected }) {
    const begun = this.photo !== photo.id;
    const elsewhere = this.epoch !== epoch;
    const waiting = !begun && this.revision > this.agreed;
    Object.assign(this, { photo: photo.id, epoch, size: photo });
    if (!begun && elsewhere && waiting) {
      this.revision = Math.max(this.revision, revision);
      this.send(); // the server began anew before it heard of them
      return false;
    }
    if (!begun && !elsewhere && revision < this.revision) return false;
    const other = !same(marks, this.marks);
    if (begun || other) Object.assign(this, { marks, past: [], future: [] });
    if (begun || other || revision > this.revision) this.selected = selected;
    this.agreed = this.revision = revision;
    return begun || other;
  }

  send() {
    this.revision += 1;
    this.changed({ photo: this.photo, revision: this.revision, marks: this.marks, selected: this.selected });
  }

  find(id) {
    return this.marks.find((mark) => mark.id === id);
  }

  choose(id) {
    if (this.selected === id) return;
    this.selected = id;
    this.send();
  }

  become(marks, selected) {
    this.past = [...this.past, this.marks].slice(-MOST_KEPT);
    this.future = [];
    this.marks = marks;
    this.selected = selected;
    this.send();
  }

  add(shape, points) {
    const tidy = tidied(shape, points.map((point) => within(point, this.size)));
    if (!holds(shape, tidy)) return false;
    const mark = { id: freshId(), shape, points: tidy };
    this.become([...this.marks, mark], mark.id);
    return true;
  }

  replace(id, points) {
    const { shape, points: before } = this.find(id);
    const tidy = tidied(shape, points.map((point) => within(point, this.size)));
    if (!holds(shape, tidy) || same(tidy, before)) return false;
    this.become(this.marks.map((mark) => (mark.id === id ? { id, shape, points: tidy } : mark)), id);
    return true;
  }

  remove(id) {
    this.become(this.marks.filter((mark) => mark.id !== id), null);
  }

  removePoint(id, index) {
    const { shape, points } = this.find(id);
    return MANY.includes(shape) && this.replace(id, points.filter((_, at) => at !== index));
  }

  // Put a point halfway to the next one; returns its index, or null where a shape takes none.
  addPoint(id, index) {
    const { shape, points } = this.find(id);
    if (!MANY.includes(shape)) return null;
    const from = shape === "crack_line" && index === points.length - 1 ? index - 1 : index;
    const next = points[(from + 1) % points.length];
    const half = points[from].map((value, axis) => (value + next[axis]) / 2);
    return this.replace(id, [...points.slice(0, from + 1), half, ...points.slice(from + 1)]) ? from + 1 : null;
  }

  undo() {
    this.step(this.past, this.future);
  }

  redo() {
    this.step(this.future, this.past);
  }

  step(from, to) {
    if (!from.length) return;
    to.push(this.marks);
    this.marks = from.pop();
    if (!this.find(this.selected)) this.selected = null;
    this.send();
  }
}
