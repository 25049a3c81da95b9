// Which old child becomes which new one; a form's fields as plain data.
import assert from "node:assert/strict";
import { test } from "node:test";
import { nested, pairUp } from "../../../src/clothwright/web/static/js/pairing.js";

test("named children meet by name wherever they went", () => {
  assert.deepEqual(pairUp(["LI=a", "LI=b", "LI=c"], ["LI=c", "LI=a", "LI=b"]), [2, 0, 1]);
});

test("nameless children meet in order by tag, and nobody is used twice", () => {
  assert.deepEqual(pairUp(["P", "#3", "P"], ["P", "P", "P", "#3"]), [0, 2, -1, 1]);
});

test("fields with dots are tables, with brackets lists", () => {
  const fields = [["kind", "set-allowance"], ["params.edges[]", "a.x"], ["params.edges[]", "a.y"], ["params.amount", "5/8"]];
  assert.deepEqual(nested(fields), { kind: "set-allowance", params: { edges: ["a.x", "a.y"], amount: "5/8" } });
});
