// @ts-check
// How far a handle is pulled along its way. Knows no browser.

/** @typedef {{x: number, y: number}} Spot */

/** The pull, mm on the nearest step, after a pointer went from one place to another.
 * @param {Spot} from @param {Spot} to @param {Spot} way length 1, as drawn @param {number} step
 * @returns {number} */
export function pulledBy(from, to, way, step) {
  const mm = (to.x - from.x) * way.x + (to.y - from.y) * way.y;
  return Math.round(mm / step) * step;
}

/** How a key changes a pull; null for a key that is none of ours. Arrows follow the picture.
 * @param {string} key @param {Spot} way @param {number} step @returns {number | null} */
export function keyed(key, way, step) {
  const ways = /** @type {Record<string, Spot>} */ ({ ArrowRight: { x: 1, y: 0 }, ArrowLeft: { x: -1, y: 0 }, ArrowDown: { x: 0, y: 1 }, ArrowUp: { x: 0, y: -1 } });
  const to = ways[key];
  if (!to) return null;
  const along = to.x * way.x + to.y * way.y;
  if (Math.abs(along) > 0.3) return Math.sign(along) * step;
  return key === "ArrowRight" || key === "ArrowUp" ? step : -step;
}
