/* Puts the drawings of a page into the places its HTML keeps for them: st.html itself takes out SVG.
   A click or Enter on the map, or on a line of the list, chooses the part whose panel is shown; arrow keys
   go from place to place on the map, which is one tab stop. */

let made = 0;
let drawings = {};
let shown = "";
let awaited = null;
let choose = () => {};
let watch = null;

/* Called again with every run of the page: only the latest drawings count, and one watch is enough. */
export default function ({ data, setTriggerValue }) {
  drawings = data.drawings;
  shown = data.part;
  choose = (position) => {
    awaited = position;
    if (position === shown) arrive();
    else setTriggerValue("part", position);
  };
  fill();
  watch?.disconnect();
  watch = new MutationObserver(fill);
  watch.observe(document.body, { childList: true, subtree: true });
  document.addEventListener("click", follow);
  const mine = watch;
  return () => {
    mine.disconnect();
    document.removeEventListener("click", follow);
  };
}

function fill() {
  for (const place of document.querySelectorAll("[data-drawing]")) {
    const text = drawings[place.dataset.drawing];
    if (text && place.drawn !== text) {
      place.drawn = text;
      place.replaceChildren(drawing(text));
    }
  }
  for (const place of document.querySelectorAll("g[data-position]")) {
    place.classList.toggle("ia-chosen", place.dataset.position === shown);
  }
  arrive();
}

function drawing(text) {
  const svg = document.importNode(
    new DOMParser().parseFromString(text, "image/svg+xml").documentElement,
    true,
  );
  ownIds(svg);
  const places = [...svg.querySelectorAll("[data-position]")].filter(listed);
  places.forEach((place, at) => button(place, places, at));
  if (places.length) svg.setAttribute("role", "group");
  return svg;
}

/* A fill whose pattern stands in a drawing that is hidden just now would not be painted. */
function ownIds(svg) {
  made += 1;
  for (const pattern of svg.querySelectorAll("pattern")) pattern.id += `-${made}`;
  for (const filled of svg.querySelectorAll('[fill^="url("]')) {
    filled.setAttribute("fill", filled.getAttribute("fill").replace(")", `-${made})`));
  }
}

function listed(place) {
  return document.querySelector(`a[data-part="${CSS.escape(place.dataset.position)}"]`);
}

function button(place, places, at) {
  place.setAttribute("role", "button");
  place.setAttribute("tabindex", at ? "-1" : "0");
  place.setAttribute("aria-label", place.querySelector("title").textContent);
  place.addEventListener("click", () => choose(place.dataset.position));
  place.addEventListener("keydown", (event) => {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (step) places[(at + step + places.length) % places.length].focus();
    else if (event.key === "Enter" || event.key === " ") choose(place.dataset.position);
    else return;
    event.preventDefault();
  });
  place.addEventListener("focus", () => {
    for (const other of places) other.setAttribute("tabindex", other === place ? "0" : "-1");
  });
}

/* A line of the list is a link of its own, for a new tab too; here it changes the panel without loading. */
function follow(event) {
  const line = event.target.closest?.("a[data-part]");
  const elsewhere = event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0;
  if (!line || elsewhere || event.defaultPrevented) return;
  event.preventDefault();
  choose(line.dataset.part);
}

/* Once the panel asked for is there, go to it, and only as far as is needed to see its beginning. */
function arrive() {
  const panel = document.querySelector("[data-panel]");
  if (!panel || awaited === null || panel.dataset.panel !== awaited) return;
  awaited = null;
  panel.querySelector("h1, h2").focus({ preventScroll: true });
  const top = panel.getBoundingClientRect().top;
  if (top < 0 || top > window.innerHeight * 0.6) panel.scrollIntoView({ block: "start" });
}
