// @ts-check
// Sentences for the maker: quietly when it went well, in the alert when it did not.

/** @type {number | undefined} */
let fading;

/** Show a sentence: quietly when it went well, as trouble when it did not.
 * @param {string} words @param {boolean} ok */
export function say(words, ok) {
  const quiet = document.getElementById("said");
  const loud = document.getElementById("trouble");
  if (quiet) {
    quiet.textContent = ok ? words : "";
    clearTimeout(fading);
    fading = setTimeout(() => (quiet.textContent = ""), 8000);
  }
  const line = loud?.querySelector("span");
  if (loud && line) {
    line.textContent = ok ? "" : words;
    loud.hidden = ok || !words;
  }
}
