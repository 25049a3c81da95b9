// @ts-check
// A part of the page fetched anew and put in the place of the old one, node by node: what is
// focused stays focused, what is scrolled stays scrolled, a half-typed field keeps its words.
import { pairUp } from "./pairing.js";
import { letGo } from "./pressing.js";

/** @param {Node} node @returns {string} */
function keyOf(node) {
  if (!(node instanceof Element)) return `#${node.nodeType}`;
  const name = node.id || node.getAttribute("data-key") || node.getAttribute("data-part") || node.getAttribute("data-edge");
  return name ? `${node.tagName}=${name}` : node.tagName;
}

/** Make `old` like `fresh`; returns the node that now stands there.
 * @param {Node} old @param {Node} fresh @returns {Node} */
export function morph(old, fresh) {
  if (old.nodeType !== fresh.nodeType || old.nodeName !== fresh.nodeName) {
    old.parentNode?.replaceChild(fresh, old);
    return fresh;
  }
  if (!(old instanceof Element) || !(fresh instanceof Element)) {
    if (old.nodeValue !== fresh.nodeValue) old.nodeValue = fresh.nodeValue;
    return old;
  }
  if (old.isEqualNode(fresh)) return old;
  // What is typed, ticked or chosen stays, unless the server says something else than it did then.
  const writing = old === document.activeElement && "defaultValue" in old && !TICKED.includes(/** @type {any} */ (old).type);
  const stays = writing || drawn(old) === drawn(fresh);
  attributes(old, fresh);
  children(old, fresh);
  if (!stays) asDrawn(old);
  return old;
}

/** Fields without words of hers: what the server says of them is shown even where the focus is. */
const TICKED = ["checkbox", "radio"];

/** The value of a field as the server last drew it, whatever was typed since. A field with data-hers
 * is filled by nobody but her. @param {Element} field
 * @returns {string | null} null when the element is no field that is set here */
function drawn(field) {
  if (field instanceof HTMLInputElement && field.type !== "file") return `${field.defaultChecked} ${field.defaultValue}`;
  if (field instanceof HTMLTextAreaElement && field.dataset.hers === undefined) return field.defaultValue;
  if (field instanceof HTMLSelectElement) return [...field.options].map((o) => `${o.defaultSelected} ${o.value}`).join();
  return null;
}

/** Show the server's value. @param {Element} field */
function asDrawn(field) {
  if (field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) field.value = field.defaultValue;
  if (field instanceof HTMLInputElement) field.checked = field.defaultChecked;
  if (field instanceof HTMLSelectElement) {
    const at = [...field.options].findIndex((o) => o.defaultSelected);
    field.selectedIndex = Math.max(at, 0);
  }
}

/** @param {Element} old @param {Element} fresh */
function attributes(old, fresh) {
  for (const { name } of [...old.attributes]) {
    const kept = name === "open" && old instanceof HTMLDetailsElement;
    if (!fresh.hasAttribute(name) && !kept) old.removeAttribute(name);
  }
  for (const { name, value } of [...fresh.attributes]) {
    if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  }
}

/** @param {Element} old @param {Element} fresh */
function children(old, fresh) {
  const before = [...old.childNodes];
  const after = [...fresh.childNodes];
  const from = pairUp(before.map(keyOf), after.map(keyOf));
  const used = new Set(from);
  before.forEach((node, at) => {
    if (!used.has(at)) node.remove();
  });
  after.forEach((node, at) => {
    const kept = from[at] >= 0 ? morph(before[from[at]], node) : node;
    const here = old.childNodes[at] ?? null;
    if (here !== kept) old.insertBefore(kept, here);
  });
}

/** The newest fetching of each part: which turn, and when it is done.
 * @type {Map<string, {turn: number, done: Promise<void>}>} */
const latest = new Map();

let turns = 0;

/** Fetch parts of this page again, in one request, and morph them. A later call for a part
 * overtakes an earlier one, which waits for it: at the end each part is as new as this call.
 * @param {string[]} names @param {string} [address] @returns {Promise<void>} */
export async function refresh(names, address = location.href) {
  if (!names.length) return;
  const turn = ++turns;
  const done = fetched(names, address, turn);
  for (const name of names) latest.set(name, { turn, done });
  await done;
  for (const name of names) {
    for (let seen; seen !== latest.get(name); await seen?.done.catch(() => {})) seen = latest.get(name);
  }
}

/** @param {string[]} names @param {string} address @param {number} turn @returns {Promise<void>} */
async function fetched(names, address, turn) {
  const url = new URL(address, location.href);
  url.searchParams.set("part", names.join(","));
  url.hash = "";
  const answer = await fetch(url, { headers: { Accept: "application/json" } });
  if (!answer.ok) return;
  const box = document.createElement("template");
  box.innerHTML = await answer.text();
  await letGo();
  for (const fresh of [...box.content.children]) {
    const name = fresh.getAttribute("data-part") ?? "";
    const old = document.querySelector(`[data-part="${CSS.escape(name)}"]`);
    if (!old || latest.get(name)?.turn !== turn) continue;
    const put = morph(old, fresh);
    put.dispatchEvent(new CustomEvent("morphed", { bubbles: true, detail: name }));
  }
}

/** The parts that show a topic. A part without data-topics shows the workbook.
 * @param {string[]} topics @returns {string[]} */
export function partsFor(topics) {
  /** @type {string[]} */
  const out = [];
  for (const part of document.querySelectorAll("[data-part]")) {
    if (!(part instanceof HTMLElement)) continue;
    const shows = (part.dataset.topics ?? "book").split(" ");
    if (part.dataset.part && shows.some((t) => topics.includes(t))) out.push(part.dataset.part);
  }
  return out;
}

/** Links with data-swap="PART PART" change those parts instead of the page. */
export function followSwaps() {
  document.addEventListener("click", (event) => {
    const target = event.target instanceof Element ? event.target.closest("a[data-swap]") : null;
    const plain = event instanceof MouseEvent && event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey;
    if (!target || !plain) return;
    event.preventDefault();
    const href = target.getAttribute("href") ?? "";
    const parts = [...new Set(["table", ...(target.getAttribute("data-swap") ?? "").split(" ")])];
    const here = parts.filter((p) => document.querySelector(`[data-part="${CSS.escape(p)}"]`));
    const url = new URL(href, location.href);
    history.replaceState(null, "", url);
    refresh(here, url.href).then(() => {
      if (target.closest("[data-part]")?.getAttribute("data-part") !== url.hash.slice(1) && url.hash) {
        document.getElementById(url.hash.slice(1))?.scrollIntoView({ block: "start" });
      }
    });
  });
}
