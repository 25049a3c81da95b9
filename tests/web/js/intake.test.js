// What the intake works out without a browser.
import assert from "node:assert/strict";
import test from "node:test";
import { cornerText, LARGEST, wrongFile } from "../../../src/clothwright/web/static/js/intake.js";

test("a file that is empty or too big is refused in words, others are sent", () => {
  const said = (size) => wrongFile([{ name: "a.svg", size }]);
  assert.match(wrongFile([]), /Choose a file first/);
  assert.match(said(0), /is empty/);
  assert.equal(said(1), "");
  assert.equal(said(LARGEST), "");
  assert.match(said(LARGEST + 1), /25\.0 MB; at most 25 MB/);
  assert.match(said(3e8), /300 MB/);
});

test("a place on the screen is told with y up, and never as minus nothing", () => {
  assert.equal(cornerText(12.34567, 8), "12.346,-8.000");
  assert.equal(cornerText(0, 0), "0.000,0.000");
  assert.equal(cornerText(-1.5, -300.25), "-1.500,300.250");
});
