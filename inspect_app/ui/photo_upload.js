/* Sends photos to the server one after the other, each with its own progress and words. The page may be
   drawn again meanwhile: what is being sent is kept beside the page, not in it. */

const WAYS = [
  { text: "Take a photo", capture: true },
  { text: "Choose photos", capture: false },
];
const queue = [];
const shown = new Set();
let busy = false;

export default function ({ data, parentElement, setTriggerValue }) {
  const place = parentElement.place ?? build(parentElement);
  place.data = data;
  place.done = () => setTriggerValue("arrived", Date.now());
  shown.add(place);
  const ready = data.who !== "";
  for (const { input, label } of place.inputs) {
    input.disabled = !ready;
    label.classList.toggle("off", !ready);
  }
  place.hint.textContent = ready
    ? `They are kept as photos of this part, ${data.state_words}.`
    : "Type your initials above: a photo names who took it.";
  list();
  return () => shown.delete(place);
}

function build(parent) {
  const place = { inputs: [], list: document.createElement("ul"), hint: document.createElement("p") };
  const buttons = document.createElement("div");
  buttons.className = "buttons";
  for (const way of WAYS) {
    const label = document.createElement("label");
    const input = document.createElement("input");
    Object.assign(input, { type: "file", accept: "image/*", multiple: !way.capture });
    if (way.capture) input.setAttribute("capture", "environment");
    input.addEventListener("change", () => {
      for (const file of input.files) add(file, place.data);
      input.value = "";
    });
    label.append(way.text, input);
    buttons.append(label);
    place.inputs.push({ input, label });
  }
  place.list.setAttribute("aria-live", "polite");
  parent.append(buttons, place.hint, place.list);
  parent.place = place;
  return place;
}

function add(file, data) {
  queue.push({ file, data, said: "Waits", sent: 0, state: "waiting" });
  list();
  next();
}

function next() {
  const one = queue.find((other) => other.state === "waiting");
  if (busy || !one) return;
  if (one.file.size > one.data.largest) {
    finish(one, "refused", `Not taken: more than ${one.data.largest / 1e6} MB. Save it as JPEG and send that.`);
    return;
  }
  busy = true;
  one.state = "sending";
  const { core, position, state, who } = one.data;
  const asked = new URLSearchParams({ position, state, who, name: one.file.name });
  const request = new XMLHttpRequest();
  request.open("POST", `/photos/${encodeURIComponent(core)}?${asked}`);
  request.upload.onprogress = (event) => {
    one.sent = event.loaded / (event.total || 1);
    one.said = one.sent < 1 ? `${Math.round(one.sent * 100)} of 100 sent` : "Sent, being read";
    list();
  };
  request.onload = () => answered(one, request);
  request.onerror = () => finish(one, "failed", "Not sent: the server did not answer. It is not saved.");
  request.send(one.file);
}

function answered(one, request) {
  if (request.status === 401) {
    finish(one, "failed", "Not saved: this phone is no longer paired. Pair it again in another tab, then send it.");
    return;
  }
  let told = {};
  try {
    told = JSON.parse(request.responseText);
  } catch {
    told = { problem: request.responseText || "The server gave no answer." };
  }
  if (request.status === 200) finish(one, "taken", told.said);
  else finish(one, request.status >= 500 ? "failed" : "refused", told.problem);
}

function finish(one, state, said) {
  Object.assign(one, { state, said, sent: 1 });
  busy = false;
  list();
  if (!queue.some((other) => other.state === "waiting")) {
    for (const place of shown) place.done();
  }
  next();
}

function list() {
  for (const place of shown) place.list.replaceChildren(...lines(place.data));
}

function lines({ core, position }) {
  const mine = queue.filter(({ data }) => data.core === core && data.position === position);
  const items = mine.map(line);
  if (mine.length > 1) {
    const head = document.createElement("li");
    const done = mine.filter((one) => one.state === "taken").length;
    head.textContent = `${done} of ${mine.length} photos are saved.`;
    items.unshift(head);
  }
  return items;
}

function line(one) {
  const item = document.createElement("li");
  const words = document.createElement("span");
  words.textContent = `${one.file.name}: ${one.said}`;
  item.append(words);
  if (one.state === "waiting" || one.state === "sending") {
    const bar = document.createElement("progress");
    Object.assign(bar, { max: 1, value: one.sent });
    bar.setAttribute("aria-label", `${one.file.name}, sent`);
    item.append(bar);
  }
  if (one.state === "failed") {
    const again = document.createElement("button");
    again.type = "button";
    again.textContent = "Send it again";
    again.addEventListener("click", () => {
      one.state = "waiting";
      list();
      next();
    });
    item.append(again);
  }
  return item;
}
