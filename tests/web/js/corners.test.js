// Corners of a rectangle in a photo: steps, limits, text.
import assert from "node:assert/strict";
import test from "node:test";
import { LARGE, STEP, moved, spotsText, stepOf, within } from "../../../src/clothwright/web/static/js/corners.js";

test("an arrow key moves by the step, other keys do not", () => {
  assert.deepEqual(moved("ArrowUp", STEP), { x: 0, y: -STEP });
  assert.deepEqual(moved("ArrowRight", stepOf(true)), { x: LARGE, y: 0 });
  assert.equal(moved("Enter", STEP), null);
});

test("a corner stays in the photo", () => {
  assert.deepEqual(within({ x: -0.2, y: 1.4 }), { x: 0, y: 1 });
});

test("corners as the address says them", () => {
  assert.equal(spotsText([{ x: 0.1, y: 0.95 }, { x: 1, y: 0 }]), "0.10000,0.95000 1.00000,0.00000");
});
