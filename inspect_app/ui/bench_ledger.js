/* What was typed into the boxes of one group and is not yet known to be on the disk. Each change has an id of
   its own, so that sending it twice saves it once; all are kept in this browser until the server says saved. */

const fresh = () =>
  [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");

class Ledger {
  constructor(core, group) {
    Object.assign(this, { core, group, name: `bench|${core}|${group}` });
    this.edits = this.recall().map((edit) => ({ ...edit, sent: false, told: null, pasted: false }));
    this.known = new Set(this.edits.map((edit) => edit.id));
  }

  recall() {
    try {
      return JSON.parse(localStorage.getItem(this.name) ?? "[]");
    } catch {
      return [];
    }
  }

  /* Another window of this browser may keep changes of its own under the same name. */
  keep() {
    for (const edit of this.edits) this.known.add(edit.id);
    const all = [...this.recall().filter((edit) => !this.known.has(edit.id)), ...this.edits];
    try {
      if (all.length) localStorage.setItem(this.name, JSON.stringify(all));
      else localStorage.removeItem(this.name);
    } catch {
      /* A browser that keeps nothing still types and saves. */
    }
  }

  /* The change that stands in a box: the last one made. */
  of(key) {
    return this.edits.findLast((edit) => edit.box === key);
  }

  /* Change a box that shows `box`. What is under way is followed by a new change, which corrects it. */
  change(key, box, setup, changes) {
    const was = this.of(key);
    let edit = was;
    if (!was || was.sent || was.told || was.keep) {
      const bases = was ? (was.sent ? [`reading-${was.id}`, ...was.bases] : was.bases) : [box.base].filter(Boolean);
      if (was && !was.sent) this.edits = this.edits.filter((other) => other !== was);
      const text = was && !was.keep ? was.text : box.text;
      edit = { id: fresh(), box: key, text, meant: false, reason: "", keep: "", bases: bases.slice(0, 8), open: true };
      this.edits.push(edit);
    }
    Object.assign(edit, { setup }, changes);
    this.keep();
    return edit;
  }

  settle(key, box, setup, id) {
    this.drop(key);
    const bases = box.rivals.map((rival) => rival.id).slice(0, 8);
    const rest = { text: "", meant: false, reason: "", keep: id, open: false };
    this.edits.push({ id: fresh(), box: key, bases, setup, ...rest });
    this.keep();
  }

  /* Forget what was typed into a box, but not what is under way. */
  drop(key) {
    this.edits = this.edits.filter((edit) => edit.box !== key || edit.sent);
    this.keep();
  }

  /* What is to be sent: done with, and not answered yet. */
  due() {
    return this.edits.filter((edit) => !edit.open && !edit.sent && !edit.told);
  }

  /* What could not be saved is due once more. */
  tryAgain() {
    for (const edit of this.edits) if (edit.told?.state === "retry") edit.told = null;
  }

  /* Take what the server says of changes that were sent; only what is saved is forgotten. */
  hear(told) {
    this.edits = this.edits.filter((edit) => told[edit.id]?.state !== "saved");
    for (const edit of this.edits) {
      if (told[edit.id] && edit.sent) Object.assign(edit, { told: told[edit.id], sent: false });
    }
    this.keep();
  }
}

/* The groups of which this browser still keeps something that was typed, whoever left the page and when. */
function keptLedgers() {
  try {
    const names = Object.keys(localStorage).filter((name) => name.startsWith("bench|"));
    return names.map((name) => new Ledger(...name.split("|").slice(1)));
  } catch {
    return [];
  }
}
