// @ts-check
// Where the cloth lies under a piece of the garment, as a plain sum. Cloth: mm, y up.

/** @typedef {{x: number, y: number, turn: number}} Lies a piece's place on the cloth, mm, degrees */

/** The move that brings the cloth under a piece that lies so, as SVG writes it (y down). The server
 * writes the same (drawing/worn.py). @param {Lies} lies @returns {string} */
export function underOf(lies) {
  return `rotate(${short(lies.turn)}) translate(${short(-lies.x)} ${short(lies.y)})`;
}

/** @param {number} value @returns {string} */
function short(value) {
  const out = Math.round(value * 100) / 100;
  return String(out === 0 ? 0 : out);
}

/** The same for a piece that several slides have moved.
 * @param {[number, number, number]} from where it lies, mm and degrees
 * @param {{by: number, step: [number, number]}[]} slides how far each is slid, and the piece's step for 1 mm
 * @returns {string} */
export function slidTo(from, slides) {
  const sum = (/** @type {0 | 1} */ k) => slides.reduce((at, s) => at + s.by * s.step[k], from[k]);
  return underOf({ x: sum(0), y: sum(1), turn: from[2] });
}
