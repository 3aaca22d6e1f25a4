import assert from "node:assert/strict";
import { test } from "node:test";
import { bestIntent, single } from "./best";
import { readSequence } from "./sequence";

const q = readSequence({
  last: 4, opening: 1, spreads: [{ id: 1, left: 3, right: 4 }, { id: 2, left: 5 }, { id: 3, left: 6, across: true }, { id: 4, right: 7, pinned: true }],
});
const proposed = (...photos: number[]) => photos.map((photo) => ({ photo, side: "left" as const }));

test("a photo that faces none and can be faced is single", () => {
  assert.deepEqual([1, 3, 5, 6, 7, 20].map((photo) => single(q, photo)), [false, false, true, false, true, true]);
});

test("the best partner is the first who is free: no pair is taken apart, no pin touched", () => {
  assert.deepEqual(bestIntent(q, 5, proposed(3, 1, 6, 7, 20, 21)), { want: "pairUp", photo: 5, partner: 20 });
  assert.equal(bestIntent(q, 5, proposed(3, 1)), undefined);
  assert.equal(bestIntent(q, 3, proposed(20)), undefined);
});

test("two loose photos lie as the engine would have them", () => {
  assert.deepEqual(bestIntent(q, 20, proposed(21)), { want: "pairUp", photo: 21, partner: 20 });
  assert.deepEqual(bestIntent(q, 20, [{ photo: 21, side: "right" }]), { want: "pairUp", photo: 20, partner: 21 });
  assert.deepEqual(bestIntent(q, 20, proposed(5)), { want: "pairUp", photo: 20, partner: 5 });
});
