// @ts-check
// Points of an outline over a flat photo: steps, places, neighbours, zoom. Knows no browser.

import { LARGEST } from "./intake.js";

/** @typedef {{x: number, y: number}} Spot mm, y up */

/** What one press of an arrow key moves, mm: half a millimetre, or a 64th of an inch; eight times
 * that with Shift. @param {string} unit @param {boolean} far @returns {number} */
export function stepOf(unit, far) {
  return (unit === "in" ? 25.4 / 64 : 0.5) * (far ? 8 : 1);
}

/** How a key moves a point; null for a key that is none of ours. Arrows follow the picture.
 * @param {string} key @param {number} step @returns {Spot | null} */
export function keyed(key, step) {
  const ways = /** @type {Record<string, Spot>} */ ({ ArrowRight: { x: step, y: 0 }, ArrowLeft: { x: -step, y: 0 }, ArrowUp: { x: 0, y: step }, ArrowDown: { x: 0, y: -step } });
  return ways[key] ?? null;
}

/** The nearest place inside the picture. @param {Spot} at @param {number} wide @param {number} tall */
export function within(at, wide, tall) {
  return { x: Math.min(wide, Math.max(0, at.x)), y: Math.min(tall, Math.max(0, at.y)) };
}

/** A place as the server reads it. @param {Spot} at @returns {string} */
export function spotText(at) {
  const flat = (/** @type {number} */ n) => (Math.round(n * 1000) / 1000 + 0).toFixed(3);
  return `${flat(at.x)},${flat(at.y)}`;
}

/** The next of a ring. @param {number} now -1 for none @param {number} by @param {number} count */
export function ringStep(now, by, count) {
  if (!count) return -1;
  if (now < 0) return by > 0 ? 0 : count - 1;
  return (now + by + count) % count;
}

export const ZOOMS = [1, 2, 4, 8, 16];

/** The zoom after a press: 0 shows the whole. @param {number} now @param {number} by */
export function zoomed(now, by) {
  if (!by) return 1;
  const at = ZOOMS.findIndex((z) => z >= now - 1e-9);
  return ZOOMS[Math.min(ZOOMS.length - 1, Math.max(0, at + by))];
}

/** How large the picture is at zoom 1 (px) so that it fits. @param {number} wide mm
 * @param {number} tall mm @param {number} roomWide px @param {number} roomTall px */
export function fitting(wide, tall, roomWide, roomTall) {
  const scale = Math.min(roomWide / wide, roomTall / tall);
  return { width: wide * scale, height: tall * scale, scale };
}

/** Say why photos are not sent; "" when they may be.
 * @param {{name: string, size: number}[]} files @param {number} most @returns {string} */
export function wrongPhotos(files, most) {
  if (!files.length) return "Choose a photo first.";
  if (files.length > most) return `${files.length} photos were chosen; at most ${most} show one piece.`;
  for (const { name, size } of files) {
    if (!/\.(jpe?g|png|hei[cf])$/i.test(name)) return `${name} could not be read as a photo; choose JPEG, PNG or HEIC.`;
    if (size === 0) return `${name} is empty.`;
    if (size > LARGEST) return `${name} has ${(size / 1e6).toFixed(0)} MB; at most 25 MB are taken. Use the camera's usual setting.`;
  }
  return "";
}
