// Points of an outline over a flat photo: steps, limits, neighbours, zoom, what is not sent.
import assert from "node:assert/strict";
import test from "node:test";
import { fitting, keyed, ringStep, spotText, stepOf, within, wrongPhotos, zoomed } from "../../../src/clothwright/web/static/js/spots.js";

test("arrows move by half a millimetre or a 64th of an inch, Shift eight times as far, up is up", () => {
  assert.equal(stepOf("mm", false), 0.5);
  assert.equal(stepOf("in", true), 25.4 / 8);
  assert.deepEqual(keyed("ArrowUp", 0.5), { x: 0, y: 0.5 });
  assert.equal(keyed("Enter", 1), null);
});

test("a point stays in the picture and is told to a thousandth", () => {
  assert.deepEqual(within({ x: -1, y: 900 }, 300, 800), { x: 0, y: 800 });
  assert.equal(spotText({ x: 12.34567, y: -0.00001 }), "12.346,0.000");
});

test("points are walked in a ring, from none to the first or last", () => {
  assert.deepEqual([ringStep(-1, 1, 4), ringStep(-1, -1, 4), ringStep(3, 1, 4), ringStep(0, -1, 4), ringStep(0, 1, 0)], [0, 3, 0, 3, -1]);
});

test("the zoom goes in doubles and stops at both ends; the whole fits", () => {
  assert.deepEqual([zoomed(1, 1), zoomed(16, 1), zoomed(1, -1), zoomed(8, 0), zoomed(3, 1)], [2, 16, 1, 1, 8]);
  assert.deepEqual(fitting(100, 400, 300, 400), { width: 100, height: 400, scale: 1 });
});

test("what is no photo, empty, too large or one too many is said with its name", () => {
  const ok = { name: "a.HEIC", size: 5 };
  assert.equal(wrongPhotos([ok, { name: "b.jpg", size: 9 }], 5), "");
  assert.match(wrongPhotos([ok, { name: "c.pdf", size: 9 }], 5), /^c\.pdf could not be read as a photo/);
  assert.match(wrongPhotos([{ name: "d.png", size: 0 }], 5), /d\.png is empty/);
  assert.match(wrongPhotos([{ name: "e.png", size: 26e6 }], 5), /e\.png has 26 MB/);
  assert.match(wrongPhotos([ok, ok], 1), /2 photos were chosen; at most 1/);
  assert.match(wrongPhotos([], 5), /Choose/);
});
