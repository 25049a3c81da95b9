// Lines of a typed text: where each begins and ends.
import assert from "node:assert/strict";
import test from "node:test";
import { placeOfLine } from "../../../src/clothwright/web/static/js/notes.js";

test("a line is found by its number", () => {
  const text = "one\ntwo\n\nfour";
  const line = (/** @type {number} */ n) => text.slice(...placeOfLine(text, n));
  assert.deepEqual([1, 2, 3, 4].map(line), ["one", "two", "", "four"]);
});

test("a line beyond the end is the last one", () => {
  assert.deepEqual(placeOfLine("one\ntwo", 9), [4, 7]);
  assert.deepEqual(placeOfLine("", 1), [0, 0]);
});
