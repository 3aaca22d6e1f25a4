import assert from "node:assert/strict";
import { test } from "node:test";
import { comparing, tauWords } from "./comparing";
import { readSequence } from "./sequence";
import type * as api from "../net/api";

const nothing: api.Diff = { kept: [], turned: [], broken: [], new: [], come: [], gone: [], moved: 0, lifted: [] };

test("each spread says what became of it, and is joined to where its photos are", () => {
  const earlier = readSequence({ opening: 9, last: 4, spreads: [{ id: 1, left: 1, right: 2 }, { id: 2, left: 3, right: 4 }, { id: 3, left: 5, right: 6 }] });
  const later = readSequence({ opening: 9, last: 4, spreads: [{ id: 3, left: 5, right: 6 }, { id: 1, left: 2, right: 1 }, { id: 4, left: 3, right: 7 }] });
  const c = comparing(earlier, later, {
    ...nothing, kept: [[1, 2], [5, 6]], turned: [[1, 2]], broken: [[3, 4]], new: [[3, 7]], come: [7], gone: [4], moved: 1, lifted: [{ photos: [5, 6], to: "front" }],
  });
  assert.deepEqual(c.earlier.map((r) => r.words), ["", "", "broken", ""]);
  assert.deepEqual(c.later.map((r) => r.words), ["", "moved to the front", "turned round", "new"]);
  assert.deepEqual(c.later.map((r) => r.only), [false, false, false, true]);
  assert.deepEqual(c.links, [{ from: 0, to: 0, moved: false }, { from: 1, to: 2, moved: false }, { from: 2, to: 3, moved: false }, { from: 3, to: 1, moved: true }]);
});

test("a photo alone is told to have come, gone or moved", () => {
  const one = readSequence({ last: 2, spreads: [{ id: 1, left: 1 }, { id: 2, right: 2 }] });
  const other = readSequence({ last: 3, closing: 1, spreads: [{ id: 3, right: 3 }] });
  const c = comparing(one, other, { ...nothing, gone: [2], come: [3], moved: 1, lifted: [{ photos: [1], to: "end" }] });
  assert.deepEqual([c.earlier.map((r) => r.words), c.later.map((r) => r.words)], [["", "gone"], ["came", "moved to the end"]]);
});

test("the figure of order is told in words", () => {
  assert.deepEqual([1, 0.9, 0.5, 0, -0.5, -1].map(tauWords), ["the same order", "nearly the same order", "much of the order stayed",
    "little of the order stayed", "much of the order turned round", "the order turned round"]);
  assert.equal(tauWords(undefined), "fewer than two photos hang on both");
});
