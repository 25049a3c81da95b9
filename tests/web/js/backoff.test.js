// When to try again, and what a message means.
import assert from "node:assert/strict";
import { test } from "node:test";
import { heard, nextWait } from "../../../src/clothwright/web/static/js/backoff.js";

test("waits grow and stay below eight seconds", () => {
  const waits = Array.from({ length: 40 }, (_, n) => nextWait(n));
  assert.equal(waits[0], 250);
  assert.ok(waits.every((w, n) => n === 0 || w >= waits[n - 1]));
  assert.equal(Math.max(...waits), 8000);
});

test("the first hello of the same revision asks for nothing", () => {
  const { known, topics } = heard({ run: "", revision: 4 }, { kind: "hello", run: "a", revision: 4 });
  assert.deepEqual(topics, []);
  assert.deepEqual(known, { run: "a", revision: 4 });
});

test("a page that was away, or a server that was restarted, means look again", () => {
  assert.deepEqual(heard({ run: "a", revision: 4 }, { kind: "hello", run: "a", revision: 6 }).topics, ["book"]);
  assert.deepEqual(heard({ run: "a", revision: 4 }, { kind: "hello", run: "b", revision: 4 }).topics, ["book"]);
});

test("news of what the page has done itself is no news", () => {
  const known = { run: "a", revision: 5 };
  assert.deepEqual(heard(known, { kind: "event", topic: "book", revision: 5 }).topics, []);
  assert.deepEqual(heard(known, { kind: "event", topic: "book", revision: 6 }).topics, ["book"]);
});

test("other topics are passed on, progress is not a topic", () => {
  const known = { run: "a", revision: 5 };
  assert.deepEqual(heard(known, { kind: "event", topic: "lay" }).topics, ["lay"]);
  assert.deepEqual(heard(known, { kind: "progress", topic: "lay" }).topics, []);
  assert.equal(heard(known, { kind: "progress" }).known.revision, 5);
});
