// @ts-check
// What the intake works out without a browser.

/** Bytes of the largest file that is taken. */
export const LARGEST = 25_000_000;

/** Say why a file is not sent; "" when it may be.
 * @param {{name: string, size: number}[]} files @returns {string} */
export function wrongFile(files) {
  if (!files.length) return "Choose a file first.";
  const [{ name, size }] = files;
  if (size === 0) return `${name} is empty. Choose a file with a drawing in it.`;
  if (size <= LARGEST) return "";
  const mb = (size / 1e6).toFixed(size < 100e6 ? 1 : 0);
  return `${name} has ${mb} MB; at most 25 MB are taken here. Leave pictures out of it, or take a smaller file.`;
}

/** A place of the drawing (mm, y down as the screen counts) as the server reads it (y up).
 * @param {number} x @param {number} y @returns {string} */
export function cornerText(x, y) {
  const flat = (/** @type {number} */ n) => (Math.round(n * 1000) / 1000 + 0).toFixed(3);
  return `${flat(x)},${flat(-y)}`;
}
