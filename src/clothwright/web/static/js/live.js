// @ts-check
// One websocket to the server: it says that there is news, the page fetches what it shows.
import { heard, nextWait } from "./backoff.js";
import { partsFor, refresh } from "./morph.js";

/** @type {import("./backoff.js").Known} */
let known = { run: "", revision: Number(document.body.dataset.revision ?? 0) };
let tries = 0;
let lost = false;
/** @type {Promise<void>} */
let drawing = Promise.resolve();
/** Topics whose news could not be fetched, because the server was away. @type {Set<string>} */
const owed = new Set();
/** @type {number | undefined} */
let timer;

/** The revision this page shows; an edit is sent with it. @returns {number} */
export function revision() {
  return known.revision;
}

/** Show the revision that an edit of this page made, unless the socket told of it already.
 * @param {number} now @returns {Promise<void>} when it is drawn */
export function moveTo(now) {
  if (known.revision !== now) {
    known = { ...known, revision: now };
    document.body.dataset.revision = String(now);
    drawing = draw(["book"]);
  }
  return drawing;
}

/** Fetch what shows these topics, parts marked data-later in a request of their own behind it; what cannot be fetched now is owed until the server is back.
 * @param {string[]} topics @returns {Promise<void>} */
async function draw(topics) {
  const owe = () => topics.forEach((topic) => owed.add(topic));
  const names = partsFor(topics);
  const later = names.filter((n) => document.querySelector(`[data-part="${CSS.escape(n)}"][data-later]`));
  try {
    await refresh(names.filter((n) => !later.includes(n)));
  } catch {
    owe();
  }
  if (later.length) refresh(later).catch(owe);
}

/** @param {string} words @param {boolean} back */
function state(words, back) {
  const line = document.getElementById("link-state");
  if (!line) return;
  line.hidden = words === "";
  line.classList.toggle("back", back);
  line.textContent = words;
}

/** @param {import("./backoff.js").Said} said */
async function take(said) {
  const next = heard(known, said);
  known = next.known;
  document.body.dataset.revision = String(known.revision);
  if (said.kind === "progress") {
    document.dispatchEvent(new CustomEvent("live:progress", { detail: said }));
  }
  const topics = [...new Set([...next.topics, ...owed])];
  if (!topics.length) return;
  owed.clear();
  drawing = draw(topics);
  await drawing;
  document.dispatchEvent(new CustomEvent("live:event", { detail: { ...said, topics } }));
}

export function connect() {
  const book = document.body.dataset.book;
  if (!book) return;
  const url = new URL(`/live/${encodeURIComponent(book)}`, location.href);
  url.protocol = "ws:";
  const socket = new WebSocket(url);
  socket.addEventListener("open", () => {
    tries = 0;
    document.documentElement.dataset.live = "yes";
    document.dispatchEvent(new CustomEvent("live:back"));
    if (lost) {
      lost = false;
      state("The connection is back.", true);
      setTimeout(() => !lost && state("", false), 4000);
    }
  });
  socket.addEventListener("message", (event) => {
    take(JSON.parse(String(event.data))).catch(() => {});
  });
  socket.addEventListener("close", () => {
    delete document.documentElement.dataset.live;
    const wait = nextWait(tries++);
    if (!lost && tries > 1) {
      lost = true;
      state("The connection is lost; what was saved is safe. Trying again …", false);
    }
    clearTimeout(timer);
    timer = setTimeout(connect, wait);
  });
}
