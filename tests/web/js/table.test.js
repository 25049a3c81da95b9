// @ts-check
// The long table's sums.
import assert from "node:assert/strict";
import { test } from "node:test";
import {
  FARTHEST,
  NEAREST,
  dragged,
  factorOf,
  nearer,
  pushOf,
  scrollKeeping,
  shiftOf,
  spread,
  wheelFactor,
  wordsOf,
} from "../../../src/clothwright/web/static/js/table.js";

test("a step in and a step out come back to where one was", () => {
  assert.ok(Math.abs(nearer(nearer(1, factorOf("in")), factorOf("out")) - 1) < 1e-12);
});

test("one looks no nearer and no farther than is of use", () => {
  assert.equal(nearer(5, 10), NEAREST);
  assert.equal(nearer(0.2, 0.1), FARTHEST);
});

test("the wheel away looks farther, towards nearer, and one wild turn is bounded", () => {
  assert.ok(wheelFactor(50) < 1 && wheelFactor(-50) > 1);
  assert.equal(wheelFactor(9999), wheelFactor(100));
});

test("what is under the pointer stays under it", () => {
  const scroll = scrollKeeping(300, 200, 1.5);
  assert.equal((300 + 200) * 1.5, scroll + 200);
  assert.equal(scrollKeeping(0, 200, 0.5), 0);
});

test("down on the screen is towards the lower selvedge", () => {
  assert.deepEqual(dragged({ x: 100, y: 50 }, { x: 10, y: 10 }, { x: 15, y: 30 }), { x: 105, y: 30 });
});

test("a shift stands before what turned the words, and no shift leaves it as it was", () => {
  assert.equal(shiftOf({ x: 0, y: 0 }, { x: 5, y: 7 }, "rotate(90)"), "translate(5 -7) rotate(90)");
  assert.equal(shiftOf({ x: 1, y: 1 }, { x: 1, y: 1 }, "rotate(90)"), "rotate(90)");
  assert.equal(shiftOf({ x: 1, y: 1 }, { x: 1, y: 1 }), "");
});

test("arrow keys push by 1 mm, with shift by 10, up towards the upper selvedge", () => {
  assert.deepEqual(pushOf("ArrowUp", 1), { x: 0, y: 1 });
  assert.deepEqual(pushOf("ArrowLeft", 12.7), { x: -12.7, y: 0 });
  assert.equal(pushOf("a", 1), null);
});

test("two fingers' distance", () => {
  assert.equal(spread({ x: 0, y: 0 }, { x: 3, y: 4 }), 5);
});

test("faults are said as sentences, with what may be done", () => {
  assert.match(wordsOf({ faults: [], may_pin: true }), /^Good here/);
  assert.match(wordsOf({ faults: ["a and b overlap by 3 mm"], may_pin: true }), /3 mm\. It can be pinned/);
  assert.match(wordsOf({ faults: ["it lies off."], may_pin: false }), /off\. It cannot be pinned/);
});
