// @ts-check
// The long table, as plain sums: how near one looks, where a dragged piece comes to lie.
// Cloth: mm, y up. Screen: y down.

/** @typedef {{x: number, y: number}} Place */

export const NEAREST = 6;
export const FARTHEST = 0.15;
const STEP = 1.25;

/** How near one looks after a step in or out, or by a factor (pinch). @param {number} zoom
 * @param {number} factor @returns {number} */
export function nearer(zoom, factor) {
  return Math.min(NEAREST, Math.max(FARTHEST, zoom * factor));
}

/** The factor of one step. @param {string} way "in" or "out" @returns {number} */
export function factorOf(way) {
  return way === "in" ? STEP : 1 / STEP;
}

/** The factor of a turn of the wheel; finer for a trackpad's small turns.
 * @param {number} delta px, positive away @returns {number} */
export function wheelFactor(delta) {
  return Math.exp(-Math.max(-100, Math.min(100, delta)) / 300);
}

/** Where to scroll to, so that what is under the pointer stays there.
 * @param {number} scroll @param {number} at of the pointer in the window it scrolls in
 * @param {number} grown after / before @returns {number} */
export function scrollKeeping(scroll, at, grown) {
  return Math.max(0, (scroll + at) * grown - at);
}

/** Where a piece lies when it is dragged. @param {Place} start of the piece, cloth
 * @param {Place} from of the pointer, drawing @param {Place} to @returns {Place} */
export function dragged(start, from, to) {
  return { x: start.x + to.x - from.x, y: start.y - (to.y - from.y) };
}

/** A shift on the drawing for a move on the cloth, before what stood there already.
 * @param {Place} from @param {Place} to @param {string} [own] @returns {string} */
export function shiftOf(from, to, own = "") {
  const x = round(to.x - from.x);
  const y = round(from.y - to.y);
  return [x || y ? `translate(${x} ${y})` : "", own].filter(Boolean).join(" ");
}

/** @param {number} value @returns {number} */
function round(value) {
  const out = Math.round(value * 100) / 100;
  return out === 0 ? 0 : out;
}

/** How far an arrow key pushes, mm on the cloth; null for other keys.
 * @param {string} key @param {number} mm @returns {Place | null} */
export function pushOf(key, mm) {
  const ways = /** @type {Record<string, Place>} */ ({
    ArrowLeft: { x: -mm, y: 0 },
    ArrowRight: { x: mm, y: 0 },
    ArrowUp: { x: 0, y: mm },
    ArrowDown: { x: 0, y: -mm },
  });
  return ways[key] ?? null;
}

/** How far two fingers are apart. @param {Place} a @param {Place} b @returns {number} */
export function spread(a, b) {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** What to say of a place. @param {{faults: string[], may_pin: boolean}} answer @returns {string} */
export function wordsOf(answer) {
  if (!answer.faults.length) return "Good here: nothing overlaps, and its rules are kept as far as they go together.";
  const end = answer.may_pin ? "It can be pinned; the rest gives way when it is laid anew." : "It cannot be pinned here.";
  return [...answer.faults.map(sentence), end].join(" ");
}

/** @param {string} words @returns {string} */
function sentence(words) {
  return /[.!?]$/.test(words) ? words : `${words}.`;
}
