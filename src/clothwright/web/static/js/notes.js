// @ts-check
// What the page of typed measurements works out without a browser.

/** Where a line of a text begins and ends.
 * @param {string} text @param {number} line counted from 1 @returns {[number, number]} */
export function placeOfLine(text, line) {
  let start = 0;
  for (let n = 1; n < line; n++) {
    const next = text.indexOf("\n", start);
    if (next < 0) break;
    start = next + 1;
  }
  const end = text.indexOf("\n", start);
  return [start, end < 0 ? text.length : end];
}
