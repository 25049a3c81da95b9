// @ts-check
// The cloth under a piece of the garment.
import assert from "node:assert/strict";
import { test } from "node:test";
import { slidTo, underOf } from "../../../src/clothwright/web/static/js/under.js";

test("the cloth comes back by as much as the piece lies along and up, y turned down", () => {
  assert.equal(underOf({ x: 120.25, y: 40, turn: 0 }), "rotate(0) translate(-120.25 40)");
});

test("a piece turned a quarter has the cloth turned back under it", () => {
  assert.equal(underOf({ x: 1, y: 2, turn: 90 }), "rotate(90) translate(-1 2)");
});

test("no place is written as minus nothing", () => {
  assert.equal(underOf({ x: 0.001, y: -0.001, turn: 0 }), "rotate(0) translate(0 0)");
});

test("a piece pushed by 10 mm has its cloth 10 mm farther back and nothing else", () => {
  const xs = [100, 110].map((x) => Number(underOf({ x, y: 5, turn: 0 }).match(/translate\((\S+) /)?.[1]));
  assert.equal(xs[1] - xs[0], -10);
});

test("slides add up, each by the piece's own step", () => {
  const slides = [
    { by: 10, step: /** @type {[number, number]} */ ([-1, 0]) },
    { by: -4, step: /** @type {[number, number]} */ ([0, 1]) },
  ];
  assert.equal(slidTo([100, 50, 90], slides), underOf({ x: 90, y: 46, turn: 90 }));
  assert.equal(slidTo([100, 50, 0], []), underOf({ x: 100, y: 50, turn: 0 }));
});
