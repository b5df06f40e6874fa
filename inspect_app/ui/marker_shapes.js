/* Shapes of the marker, in pixels of the original picture. The files marker_*.js are joined into one module,
   this one first. Balloons stand where inspect_app/pictures/photo_marks.py puts them. */

const SVG = "http://www.w3.org/2000/svg";
const SHAPES = {
  rectangle: { word: "rectangle", fewest: 2, most: 2 },
  ellipse: { word: "ellipse", fewest: 2, most: 2 },
  polygon: { word: "polygon", fewest: 3, most: 500 },
  crack_line: { word: "crack line", fewest: 2, most: 500 },
  point: { word: "point", fewest: 1, most: 1 },
  scale_line: { word: "scale line", fewest: 2, most: 2 },
};
const BOXED = ["rectangle", "ellipse"];
const MANY = ["polygon", "crack_line"];

// No randomUUID: on plain http a browser has none.
const freshId = () => "m" + [...crypto.getRandomValues(new Uint8Array(8))].map((b) => b.toString(16).padStart(2, "0")).join("");
const clampTo = (value, low, high) => Math.min(Math.max(value, low), high);
const apart = ([x, y], [u, v]) => Math.hypot(x - u, y - v);
const same = (one, other) => JSON.stringify(one) === JSON.stringify(other);

function make(name, attributes = {}, text = "") {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) node.setAttribute(key, value);
  if (text) node.textContent = text;
  return node;
}

function draw(name, attributes = {}, text = "") {
  const node = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) if (value !== null) node.setAttribute(key, value);
  if (text) node.textContent = text;
  return node;
}

function within([x, y], { width, height }) {
  const tidy = (value, most) => Math.round(clampTo(value, 0, most) * 100) / 100;
  return [tidy(x, width), tidy(y, height)];
}

function boxOf(points) {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

// The two corners of a box from its upper left; other shapes keep their points as they are.
function tidied(shape, points) {
  if (!BOXED.includes(shape)) return points;
  const [left, top, right, bottom] = boxOf(points);
  return [[left, top], [right, bottom]];
}

// Whether the points make the shape at all: enough of them, and not all on one spot or one upright line.
function holds(shape, points) {
  const { fewest, most } = SHAPES[shape];
  if (points.length < fewest || points.length > most) return false;
  const [left, top, right, bottom] = boxOf(points);
  if (shape === "point") return true;
  return BOXED.includes(shape) || shape === "polygon" ? right > left && bottom > top : right > left || bottom > top;
}

function moved(points, dx, dy, photo) {
  const [left, top, right, bottom] = boxOf(points);
  const x = clampTo(dx, -left, photo.width - right);
  const y = clampTo(dy, -top, photo.height - bottom);
  return points.map(([u, v]) => within([u + x, v + y], photo));
}

function handlesOf({ shape, points }) {
  if (!BOXED.includes(shape)) return points;
  const [left, top, right, bottom] = boxOf(points);
  return [[left, top], [right, top], [right, bottom], [left, bottom]];
}

// The points after the handle at `index` went to `to`; a box keeps the corner opposite.
function reshaped({ shape, points }, index, to) {
  if (BOXED.includes(shape)) return [handlesOf({ shape, points })[(index + 2) % 4], to];
  return points.map((point, at) => (at === index ? to : point));
}

function segments({ shape, points }) {
  if (BOXED.includes(shape)) points = handlesOf({ shape, points });
  const closed = BOXED.includes(shape) || shape === "polygon";
  return points.slice(closed ? 0 : 1).map((point, at) => [points.at(closed ? at - 1 : at), point]);
}

function fromSegment([x, y], [[a, b], [c, d]]) {
  const long = (c - a) ** 2 + (d - b) ** 2;
  const along = long ? clampTo(((x - a) * (c - a) + (y - b) * (d - b)) / long, 0, 1) : 0;
  return apart([x, y], [a + along * (c - a), b + along * (d - b)]);
}

// How far a spot is from a mark; 0 within its box, its ellipse counted as a box.
function distance(spot, mark) {
  if (mark.shape === "point") return apart(spot, mark.points[0]);
  if (BOXED.includes(mark.shape) || mark.shape === "polygon") {
    const [left, top, right, bottom] = boxOf(mark.points);
    if (spot[0] >= left && spot[0] <= right && spot[1] >= top && spot[1] <= bottom) return 0;
  }
  return Math.min(...segments(mark).map((segment) => fromSegment(spot, segment)));
}

function letterAt(index) {
  let text = "";
  for (index += 1; index; index = Math.floor((index - 1) / 26)) text = String.fromCharCode(65 + ((index - 1) % 26)) + text;
  return text;
}

function footOf({ shape, points }, corner) {
  if (shape === "rectangle") return corner;
  if (shape === "ellipse") {
    const [left, top, right, bottom] = boxOf(points);
    const middle = [(left + right) / 2, (top + bottom) / 2];
    return middle.map((at, axis) => at + (corner[axis] - at) * Math.SQRT1_2);
  }
  return points.reduce((best, point) => (apart(point, corner) < apart(best, corner) ? point : best));
}

// Centre and foot of a balloon; `seen` is the part of the picture [left, top, right, bottom] it must be in.
function balloonOf(mark, others, seen, unit, sizes) {
  const [left, top, right, bottom] = boxOf(mark.points);
  const radius = sizes.radius * unit;
  const places = [[1, -1], [-1, -1], [1, 1], [-1, 1]].map(([across, down]) => {
    const corner = [across > 0 ? right : left, down > 0 ? bottom : top];
    return { centre: [corner[0] + across * sizes.away * unit, corner[1] + down * sizes.away * unit], corner };
  });
  const inside = places.filter(({ centre: [x, y] }) =>
    seen[0] + radius <= x && x <= seen[2] - radius && seen[1] + radius <= y && y <= seen[3] - radius);
  const clear = inside.filter(({ centre }) => others.every((other) => apart(centre, other) >= 2 * radius));
  const { centre: [x, y], corner } = clear[0] ?? inside[0] ?? places[0];
  const centre = [
    Math.min(Math.max(x, seen[0] + radius), seen[2] - radius),
    Math.min(Math.max(y, seen[1] + radius), seen[3] - radius),
  ];
  return { centre, foot: footOf(mark, corner) };
}
