/* A click on a link with data-ask changes what the page shows, without loading it; the link itself still
   serves for a new tab. */
export default function ({ setTriggerValue }) {
  const follow = (event) => {
    const link = event.target.closest?.("a[data-ask]");
    const elsewhere = event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0;
    if (!link || elsewhere || event.defaultPrevented) return;
    event.preventDefault();
    setTriggerValue("asked", { name: link.dataset.ask, value: link.dataset.value });
  };
  document.addEventListener("click", follow);
  return () => document.removeEventListener("click", follow);
}
