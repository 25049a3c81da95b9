// @ts-check
// Flaws of a cloth: moved, made larger, drawn. Corners are [along, across] in mm. No browser in here.

/** @typedef {[number, number][]} Ring */
/** @typedef {{long: number, wide: number}} Ends how far the cloth is drawn, and how wide it is */

/** A flaw is no smaller than this (mm) either way. */
export const LEAST = 3;

/** @param {Ring} ring @returns {[number, number, number, number]} least and most: x0, y0, x1, y1 */
export function boxOf(ring) {
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** @param {string} text "10,20 30,20 ..." @returns {Ring} */
export function ringOf(text) {
  return text.split(" ").filter(Boolean).map((pair) => /** @type {[number, number]} */ (pair.split(",").map(Number)));
}

/** @param {number} mm @param {number} step @param {number} least @param {number} most */
const snapped = (mm, step, least, most) => Math.min(Math.max(most, least), Math.max(least, Math.round(mm / step) * step));

/** The flaw moved by so much, its nearest corner on the step, all of it on the cloth if it has room.
 * @param {Ring} ring @param {number} dx @param {number} dy @param {Ends} ends @param {number} step @returns {Ring} */
export function moved(ring, dx, dy, ends, step) {
  const [x0, y0, x1, y1] = boxOf(ring);
  const x = dx === 0 ? x0 : snapped(x0 + dx, step, 0, ends.long - (x1 - x0));
  const y = dy === 0 ? y0 : snapped(y0 + dy, step, 0, ends.wide - (y1 - y0));
  return ring.map(([a, b]) => [a + x - x0, b + y - y0]);
}

/** The flaw made larger by so much along and across, from its corner nearest to the cut end and the
 * lower selvedge, which stays.
 * @param {Ring} ring @param {number} dx @param {number} dy @param {Ends} ends @param {number} step @returns {Ring} */
export function sized(ring, dx, dy, ends, step) {
  const [x0, y0, x1, y1] = boxOf(ring);
  const wide = dx === 0 ? x1 - x0 : snapped(x1 - x0 + dx, step, LEAST, ends.long - x0);
  const high = dy === 0 ? y1 - y0 : snapped(y1 - y0 + dy, step, LEAST, ends.wide - y0);
  const by = [x1 > x0 ? wide / (x1 - x0) : 1, y1 > y0 ? high / (y1 - y0) : 1];
  return ring.map(([a, b]) => [x0 + (a - x0) * by[0], y0 + (b - y0) * by[1]]);
}

/** The corners of what is drawn from one place to another; a mere touch makes one of `small` mm.
 * @param {{x: number, y: number}} from @param {{x: number, y: number}} to places in mm, y up
 * @param {Ends} ends @param {number} step @param {number} small @returns {Ring} */
export function drawnRing(from, to, ends, step, small) {
  const touch = Math.abs(to.x - from.x) < LEAST && Math.abs(to.y - from.y) < LEAST;
  const half = touch ? small / 2 : 0;
  const on = (/** @type {number} */ mm, /** @type {number} */ most) => snapped(mm, step, 0, most);
  const x0 = on(Math.min(from.x, to.x) - half, ends.long - LEAST);
  const y0 = on(Math.min(from.y, to.y) - half, ends.wide - LEAST);
  const x1 = Math.max(on(Math.max(from.x, to.x) + half, ends.long), x0 + LEAST);
  const y1 = Math.max(on(Math.max(from.y, to.y) + half, ends.wide), y0 + LEAST);
  return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]];
}

/** What an arrow key moves, as the picture goes; null for a key that is none of ours.
 * @param {string} key @param {number} step @returns {[number, number] | null} */
export function arrow(key, step) {
  const ways = /** @type {Record<string, [number, number]>} */ ({ ArrowRight: [step, 0], ArrowLeft: [-step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] });
  return ways[key] ?? null;
}

/** @param {Ring} ring @returns {string} the outline for SVG, y turned down */
export function pathOf(ring) {
  return `M${ring.map(([x, y]) => `${x.toFixed(2)} ${(-y).toFixed(2)}`).join("L")}Z`;
}
