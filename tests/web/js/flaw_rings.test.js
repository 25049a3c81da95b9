// Flaws on the picture of a cloth: moved, sized, drawn, all on the cloth.
import assert from "node:assert/strict";
import { test } from "node:test";
import { arrow, boxOf, drawnRing, LEAST, moved, pathOf, ringOf, sized } from "../../../src/clothwright/web/static/js/flaw_rings.js";

const ends = { long: 1000, wide: 500 };
/** @type {[number, number][]} */
const triangle = [[10, 20], [30, 20], [10, 60]];

test("a ring is read as it is written, and its box is least and most", () => {
  assert.deepEqual(ringOf("10,20 30,20 10,60"), triangle);
  assert.deepEqual(boxOf(triangle), [10, 20, 30, 60]);
  assert.equal(pathOf(triangle), "M10.00 -20.00L30.00 -20.00L10.00 -60.00Z");
});

test("moved it keeps its shape, its nearest corner on the step, and stays on the cloth", () => {
  assert.deepEqual(moved(triangle, 7.2, -3.4, ends, 1), [[17, 17], [37, 17], [17, 57]]);
  assert.deepEqual(boxOf(moved(triangle, -900, 900, ends, 1)), [0, 460, 20, 500]);
  assert.deepEqual(moved([[0.4, 0.4], [9, 0.4], [9, 9]], 0, 5, ends, 1)[0], [0.4, 5]);
});

test("sized it grows from its corner nearest to the cut end and the lower selvedge", () => {
  assert.deepEqual(sized(triangle, 20, 0, ends, 1), [[10, 20], [50, 20], [10, 60]]);
  assert.deepEqual(boxOf(sized(triangle, -900, -900, ends, 1)), [10, 20, 10 + LEAST, 20 + LEAST]);
  assert.deepEqual(boxOf(sized(triangle, 9000, 9000, ends, 1)), [10, 20, 1000, 500]);
});

test("drawn from any corner to the other; a touch makes one of the usual size", () => {
  const wanted = [[10, 20], [40, 20], [40, 60], [10, 60]];
  assert.deepEqual(drawnRing({ x: 40, y: 20 }, { x: 10, y: 60 }, ends, 1, 50), wanted);
  assert.deepEqual(boxOf(drawnRing({ x: 100, y: 100 }, { x: 101, y: 101 }, ends, 1, 50)), [75, 75, 126, 126]);
  assert.deepEqual(boxOf(drawnRing({ x: -50, y: 400 }, { x: 20, y: 900 }, ends, 1, 50)), [0, 400, 20, 500]);
});

test("arrows follow the picture; other keys are not ours", () => {
  assert.deepEqual(arrow("ArrowUp", 2), [0, 2]);
  assert.deepEqual(arrow("ArrowLeft", 2), [-2, 0]);
  assert.equal(arrow("Tab", 2), null);
});
