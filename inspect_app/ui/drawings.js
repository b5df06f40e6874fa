/* Puts the drawings of a page into the places its HTML keeps for them: st.html itself takes out SVG.
   On the map, a click or Enter opens the part; arrow keys go from place to place, one tab stop in all. */

let made = 0;
let drawings = {};
let watch = null;

/* Called again with every run of the page: only the latest drawings count, and one watch is enough. */
export default function ({ data }) {
  drawings = data.drawings;
  fill();
  watch?.disconnect();
  watch = new MutationObserver(fill);
  watch.observe(document.body, { childList: true, subtree: true });
  const mine = watch;
  return () => mine.disconnect();
}

function fill() {
  for (const place of document.querySelectorAll("[data-drawing]")) {
    const text = drawings[place.dataset.drawing];
    if (text && place.drawn !== text) {
      place.drawn = text;
      place.replaceChildren(drawing(text));
    }
  }
}

function drawing(text) {
  const svg = document.importNode(
    new DOMParser().parseFromString(text, "image/svg+xml").documentElement,
    true,
  );
  ownIds(svg);
  const places = [...svg.querySelectorAll("[data-position]")].filter(part);
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

function part(place) {
  return document.querySelector(`details[data-part="${CSS.escape(place.dataset.position)}"]`);
}

function button(place, places, at) {
  place.setAttribute("role", "button");
  place.setAttribute("tabindex", at ? "-1" : "0");
  place.setAttribute("aria-label", place.querySelector("title").textContent);
  place.addEventListener("click", () => open(place));
  place.addEventListener("keydown", (event) => {
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (step) places[(at + step + places.length) % places.length].focus();
    else if (event.key === "Enter" || event.key === " ") open(place);
    else return;
    event.preventDefault();
  });
  place.addEventListener("focus", () => {
    for (const other of places) other.setAttribute("tabindex", other === place ? "0" : "-1");
  });
}

function open(place) {
  const details = part(place);
  if (!details) return;
  details.open = true;
  details.scrollIntoView({ block: "start" });
  details.querySelector("summary").focus({ preventScroll: true });
}
