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
