/* A click on a link with data-ask changes what the page shows, without loading it; the link itself still
   serves for a new tab. What was asked for is scrolled to once it is there. */

const SHOWN = { item: ".st-key-changing", photo: ".st-key-opened" };
let awaited = null;

export default function ({ setTriggerValue }) {
  const follow = (event) => {
    const link = event.target.closest?.("a[data-ask]");
    const elsewhere = event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0;
    if (!link || elsewhere || event.defaultPrevented) return;
    event.preventDefault();
    const { ask, value } = link.dataset;
    awaited = SHOWN[ask];
    setTriggerValue("asked", { name: ask, value });
  };
  const watch = new MutationObserver(arrive);
  watch.observe(document.body, { childList: true, subtree: true });
  document.addEventListener("click", follow);
  return () => {
    watch.disconnect();
    document.removeEventListener("click", follow);
  };
}

function arrive() {
  const there = awaited && document.querySelector(awaited);
  if (!there) return;
  awaited = null;
  there.setAttribute("tabindex", "-1");
  there.focus({ preventScroll: true });
  there.scrollIntoView({ block: "start" });
}
