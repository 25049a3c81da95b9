// @ts-check
// The first look: while a slide is drawn the cloth moves under the pieces here, in the browser; once
// it rests the server says how the print meets then.
import { refresh } from "./morph.js";
import { slidTo } from "./under.js";

/** Milliseconds a slide has to rest before the server is asked. */
const REST_MS = 350;
/** @type {number | undefined} */
let timer;

/** @returns {HTMLFormElement | null} */
function form() {
  const found = document.getElementById("look-form");
  return found instanceof HTMLFormElement ? found : null;
}

/** @param {HTMLFormElement} look @returns {HTMLInputElement[]} */
function slides(look) {
  return [...look.querySelectorAll("input[data-slide]")].filter((s) => s instanceof HTMLInputElement);
}

/** Draw every piece's cloth as the slides stand. @param {HTMLFormElement} look */
function draw(look) {
  const lies = JSON.parse(look.dataset.lies ?? "{}");
  const moved = slides(look).map((s) => ({ by: Number(s.value) - Number(s.dataset.slide), moves: JSON.parse(s.dataset.moves ?? "{}") }));
  for (const shape of new Set(moved.flatMap((m) => Object.keys(m.moves)))) {
    if (!lies[shape]) continue;
    const to = slidTo(lies[shape], moved.map((m) => ({ by: m.by, step: m.moves[shape] ?? [0, 0] })));
    for (const cloth of document.querySelectorAll(`#look [data-worn="${CSS.escape(shape)}"] use`)) cloth.setAttribute("transform", to);
  }
}

/** Ask the server for the words, with the slides in the address so that the look can be come back to.
 * @param {HTMLFormElement} look */
function ask(look) {
  const url = new URL(location.href);
  url.search = "";
  url.hash = "look";
  url.searchParams.set("look", look.dataset.look ?? "");
  for (const s of slides(look)) if (Number(s.value)) url.searchParams.set(s.name, s.value);
  history.replaceState(null, "", url);
  refresh(["look"]).catch(() => {});
}

document.addEventListener("input", (event) => {
  const look = form();
  const slide = event.target;
  if (!look || !(slide instanceof HTMLInputElement) || slide.dataset.slide === undefined) return;
  draw(look);
  clearTimeout(timer);
  timer = setTimeout(() => {
    const now = form();
    if (now) ask(now);
  }, REST_MS);
});

/** What came meanwhile is drawn as the slides stand now. */
document.addEventListener("morphed", (event) => {
  const look = form();
  if (/** @type {CustomEvent} */ (event).detail === "look" && look) draw(look);
});
