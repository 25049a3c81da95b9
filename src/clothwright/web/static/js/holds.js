// @ts-check
// Handles on the picture of a cloth, and the values they become. No browser in here.

/** @typedef {{mm: number, axis: string, sign: number, least: number, most: number}} Hold */

/** What one press of an arrow key moves, mm: an eighth of an inch, or a millimetre.
 * @param {string} unit @param {boolean} far @returns {number} */
export function stepOf(unit, far) {
  const metric = unit !== "in" && unit !== "yd" && unit !== "ft";
  return (metric ? 1 : 25.4 / 8) * (far ? 8 : 1);
}

/** A value on the nearest step, inside what it may be.
 * @param {number} mm @param {Hold} hold @param {number} step @returns {number} */
export function snapped(mm, hold, step) {
  const near = Math.round(mm / step) * step;
  return Math.min(hold.most, Math.max(hold.least, near));
}

/** The value after a pointer went from one place to another, both in mm of the drawing (y down).
 * @param {Hold} hold @param {{x: number, y: number}} from @param {{x: number, y: number}} to
 * @param {number} step @returns {number} */
export function dragged(hold, from, to, step) {
  const by = hold.axis === "x" ? to.x - from.x : from.y - to.y;
  return snapped(hold.mm + hold.sign * by, hold, step);
}

/** The value after a key, or null for a key that is none of ours. Arrows follow the picture.
 * @param {Hold} hold @param {string} key @param {boolean} far @param {string} unit
 * @returns {number | null} */
export function pressed(hold, key, far, unit) {
  if (key === "Home") return hold.least;
  if (key === "End") return hold.most;
  const ways = /** @type {Record<string, number>} */ ({ ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 1, PageDown: -1 });
  const way = ways[key];
  if (way === undefined) return null;
  const big = far || key.startsWith("Page");
  const onPicture = key.startsWith("Page") ? 1 : hold.sign;
  return snapped(hold.mm + way * onPicture * stepOf(unit, big), hold, stepOf(unit, false));
}

/** How far the line moves on the drawing (SVG: y down) for a new value.
 * @param {Hold} hold @param {number} mm @returns {{x: number, y: number}} */
export function shift(hold, mm) {
  const by = (mm - hold.mm) * hold.sign;
  return hold.axis === "x" ? { x: by, y: 0 } : { x: 0, y: by === 0 ? 0 : -by };
}

/** A length as the workbook writes it, so that the server reads exactly this.
 * @param {number} mm @returns {string} */
export function written(mm) {
  return `${Number(mm.toFixed(4))} mm`;
}

/** The values of an edit for one handle: a border's whole list, or one entry of the print.
 * @param {string} key @param {number} mm @param {Record<string, any>[]} borders
 * @returns {Record<string, any>} */
export function valuesFor(key, mm, borders) {
  const [what, at, entry] = key.split(".");
  if (what !== "border") return { print: { [key]: written(mm) } };
  const rows = borders.map((row, n) => (n === Number(at) ? { ...row, [entry]: written(mm) } : row));
  return { print: { border: rows } };
}

/** Fields as [name, value] into the values of an edit: dots make tables, numbers make lists, an
 * empty field goes (null in a table: as when left out; missing in a list).
 * @param {Iterable<[string, string | boolean | string[] | string[][]]>} fields @returns {Record<string, any>} */
export function gathered(fields) {
  /** @type {Record<string, any>} */
  const out = {};
  for (const [name, value] of fields) {
    const parts = name.split(".");
    const last = /** @type {string} */ (parts.pop());
    let at = out;
    for (const part of parts) at = at[part] ??= {};
    const inList = parts.some((p) => /^\d+$/.test(p));
    if (value !== "") at[last] = value;
    else if (!inList) at[last] = null;
  }
  return /** @type {Record<string, any>} */ (listed(out));
}

/** @param {any} value @returns {any} */
function listed(value) {
  if (value === null || typeof value !== "object" || Array.isArray(value)) return value;
  const keys = Object.keys(value);
  if (keys.length && keys.every((k) => /^\d+$/.test(k))) {
    return keys.sort((a, b) => Number(a) - Number(b)).map((k) => listed(value[k]));
  }
  return Object.fromEntries(keys.map((k) => [k, listed(value[k])]));
}

/** "1 in; 2 in" as a list. @param {string} text @returns {string[]} */
export function listOf(text) {
  return text.split(";").map((t) => t.trim()).filter(Boolean);
}

/** "10 in by 4 in" a line, as corners. @param {string} text @returns {string[][]} */
export function cornersOf(text) {
  return text.split(/[\n;]/).filter((line) => line.trim()).map((line) => line.split(/\bby\b|×/).map((t) => t.trim()));
}
