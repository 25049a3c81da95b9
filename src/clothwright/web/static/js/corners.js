// @ts-check
// Corners of a rectangle in a photo, as shares of its width and height. Knows no browser.

import { arrow } from "./flaw_rings.js";

/** @typedef {{x: number, y: number}} Spot */

export const STEP = 0.001;
export const LARGE = 0.01;

/** @param {boolean} large @returns {number} */
export function stepOf(large) {
  return large ? LARGE : STEP;
}

/** How a key moves a corner; null when it does not.
 * @param {string} key @param {number} step @returns {Spot | null} */
export function moved(key, step) {
  const by = arrow(key, step);
  return by && { x: by[0], y: 0 - by[1] };
}

/** The nearest place inside the photo. @param {Spot} spot @returns {Spot} */
export function within(spot) {
  return { x: Math.min(1, Math.max(0, spot.x)), y: Math.min(1, Math.max(0, spot.y)) };
}

/** As the address says them. @param {Spot[]} spots @returns {string} */
export function spotsText(spots) {
  return spots.map((s) => `${s.x.toFixed(5)},${s.y.toFixed(5)}`).join(" ");
}
