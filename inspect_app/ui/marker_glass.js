/* The glass of the marker: the photo, the part of it that is seen, and the marks drawn upon it. */

const seenParts = new Map(); // by photo, so that zoom outlives the component
const DEEPEST = 40;

class Glass {
  constructor() {
    this.svg = draw("svg", { class: "photo", tabindex: "0", role: "group" });
    this.image = draw("image", { x: 0, y: 0, preserveAspectRatio: "none" });
    // Marks are drawn anew under a finger, and a finger whose target is gone is lost: none is a target.
    this.layer = draw("g", { "pointer-events": "none" });
    this.svg.append(this.image, this.layer);
  }

  open(photo) {
    this.photo = photo;
    this.seen = seenParts.get(photo.id) ?? [0, 0, photo.width, photo.height];
    this.svg.style.aspectRatio = `${photo.width} / ${photo.height}`;
    this.image.setAttribute("width", photo.width);
    this.image.setAttribute("height", photo.height);
    if (this.image.getAttribute("href") !== photo.url) this.image.setAttribute("href", photo.url);
    this.svg.setAttribute("aria-label", photo.words);
    this.frame();
  }

  frame() {
    this.svg.setAttribute("viewBox", this.seen.join(" "));
    seenParts.set(this.photo.id, this.seen);
  }

  // Pixels of the picture to one on the glass.
  unit() {
    const scale = this.svg.getScreenCTM()?.a;
    return scale > 0 ? 1 / scale : 1;
  }

  at(event) {
    const spot = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [spot.x, spot.y];
  }

  show(left, top, wide) {
    const { width, height } = this.photo;
    const across = clampTo(wide, Math.max(width / DEEPEST, Math.min(width, 20)), width);
    const down = (across * height) / width;
    this.seen = [clampTo(left, 0, width - across), clampTo(top, 0, height - down), across, down];
    this.frame();
  }

  zoom(by, about = [this.seen[0] + this.seen[2] / 2, this.seen[1] + this.seen[3] / 2]) {
    const before = this.seen[2];
    const after = clampTo(before / by, Math.max(this.photo.width / DEEPEST, Math.min(this.photo.width, 20)), this.photo.width);
    const kept = after / before;
    this.show(about[0] - (about[0] - this.seen[0]) * kept, about[1] - (about[1] - this.seen[1]) * kept, after);
  }

  pan(dx, dy) {
    this.show(this.seen[0] - dx, this.seen[1] - dy, this.seen[2]);
  }

  whole() {
    this.show(0, 0, this.photo.width);
  }

  // `items` are marks with letter, words, dashed and what may be done with them; `pending` is being drawn.
  paint(items, pending, sizes, vertex) {
    const had = this.svg.getRootNode().activeElement?.dataset?.name;
    const unit = this.unit();
    const centres = [];
    const nodes = [];
    for (const item of items) {
      const group = this.mark(item, unit, sizes);
      const { centre, foot } = balloonOf(item, centres, this.room(item), unit, sizes);
      centres.push(centre);
      group.append(...this.balloon(item, centre, foot, unit, sizes));
      nodes.push(group);
      if (item.selected && item.draft) nodes.push(...this.handles(item, unit, sizes, vertex));
    }
    if (pending) nodes.push(this.mark({ ...pending, pending: true }, unit, sizes), ...this.dots(pending, unit, sizes));
    this.layer.replaceChildren(...nodes);
    if (had) [...this.layer.querySelectorAll("[data-name]")].find((node) => node.dataset.name === had)?.focus();
  }

  // A balloon stays in sight while its mark is.
  room(item) {
    const [x, y, wide, high] = this.seen;
    const seen = [x, y, x + wide, y + high];
    const [left, top, right, bottom] = boxOf(item.points);
    const inSight = right >= seen[0] && left <= seen[2] && bottom >= seen[1] && top <= seen[3];
    return inSight ? seen : [0, 0, this.photo.width, this.photo.height];
  }

  mark(item, unit, sizes) {
    const group = draw("g", { class: "mark" });
    if (!item.pending) {
      group.dataset.name = item.name;
      for (const [key, value] of Object.entries({ tabindex: 0, role: "button", "aria-label": item.words })) group.setAttribute(key, value);
      group.setAttribute("aria-pressed", String(Boolean(item.selected)));
    }
    const line = (stroke, width, dash) => ({ fill: "none", stroke, "stroke-width": width * unit, "stroke-dasharray": dash ? `${sizes.dash * unit} ${sizes.dash * unit}` : null });
    if (item.shape === "point") {
      const [x, y] = item.points[0];
      group.append(draw("circle", { cx: x, cy: y, r: sizes.dot * unit, fill: sizes.yellow, stroke: sizes.ink, "stroke-width": unit }));
    } else {
      group.append(this.outline(item, line(sizes.ink, sizes.ink_width, false)), this.outline(item, line(sizes.yellow, sizes.yellow_width, item.dashed)));
    }
    return group;
  }

  outline({ shape, points, pending }, line) {
    const [left, top, right, bottom] = boxOf(points);
    if (shape === "ellipse") return draw("ellipse", { cx: (left + right) / 2, cy: (top + bottom) / 2, rx: (right - left) / 2, ry: (bottom - top) / 2, ...line });
    const corners = shape === "rectangle" ? handlesOf({ shape, points }) : points;
    const closed = shape === "rectangle" || (shape === "polygon" && !pending);
    return draw(closed ? "polygon" : "polyline", { points: corners.map((point) => point.join(",")).join(" "), ...line });
  }

  balloon({ letter, dashed }, [x, y], [u, v], unit, sizes) {
    const leader = { x1: u, y1: v, x2: x, y2: y };
    const disc = { cx: x, cy: y, r: sizes.radius * unit };
    return [
      draw("line", { ...leader, stroke: sizes.ink, "stroke-width": 3 * unit }),
      draw("line", { ...leader, stroke: sizes.balloon, "stroke-width": 1.2 * unit }),
      draw("circle", { ...disc, fill: sizes.balloon }),
      draw("circle", { ...disc, fill: "none", stroke: sizes.ink, "stroke-width": 1.2 * unit, "stroke-dasharray": dashed ? `${3 * unit} ${2 * unit}` : null }),
      draw("text", { x, y: y + sizes.letter * 0.36 * unit, "font-size": sizes.letter * unit, "text-anchor": "middle", fill: sizes.ink, class: "letter" }, letter),
    ];
  }

  handles(item, unit, sizes, vertex) {
    const side = sizes.handle * unit;
    return handlesOf(item).map(([x, y], index) => {
      const node = draw("rect", { x: x - side / 2, y: y - side / 2, width: side, height: side, fill: index === vertex ? sizes.yellow : sizes.balloon,
        stroke: sizes.ink, "stroke-width": 1.2 * unit, class: "handle", tabindex: 0, role: "button", "aria-label": `Point ${index + 1} of ${item.letter}, at ${Math.round(x)}, ${Math.round(y)}` });
      node.dataset.name = `${item.name}/${index}`;
      return node;
    });
  }

  dots({ points }, unit, sizes) {
    return points.map(([x, y]) => draw("circle", { cx: x, cy: y, r: 3 * unit, fill: sizes.balloon, stroke: sizes.ink, "stroke-width": unit }));
  }
}
