/* Takes the code out of the address, where the scanned picture carries it: what stands behind "#" is never
   sent to a server by itself, and it must not stay in the phone's history. */
const scanned = decodeURIComponent(location.hash.slice(1));
if (scanned) {
  document.querySelector("input[name=code]").value = scanned;
  document.querySelector("input[name=who]").focus();
  history.replaceState(null, "", location.pathname);
}
