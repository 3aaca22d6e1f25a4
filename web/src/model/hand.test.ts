import assert from "node:assert/strict";
import { test } from "node:test";
import { choose, chosenPhotos, emptyHand, extend, pickUp, tidy, toggle, walk } from "./hand";
import { readSequence } from "./sequence";

const q = readSequence({ last: 1, spreads: [{ id: 1, left: 3 }] });
const photo = (n: number) => ({ kind: "photo", photo: n }) as const;

test("photos are added to those chosen one by one, and taken from them", () => {
  const three = toggle(toggle(toggle(emptyHand, 3), 5), 9);
  assert.deepEqual(chosenPhotos(three), [3, 5, 9]);
  assert.deepEqual(chosenPhotos(toggle(three, 3)), [5, 9]);
  assert.equal(toggle(toggle(emptyHand, 3), 3).chosen, undefined);
});

test("choosing reaches from the first chosen to here, in the order they lie in", () => {
  const order = [9, 4, 7, 2, 5];
  assert.deepEqual(chosenPhotos(extend(choose(photo(4)), 2, order)), [4, 7, 2]);
  assert.deepEqual(chosenPhotos(extend(choose(photo(2)), 9, order)), [2, 7, 4, 9]);
  assert.deepEqual(chosenPhotos(extend(choose(photo(31)), 9, order)), [9]);
});

test("the aim walks from place to place and stops at both ends", () => {
  const seen = [];
  let hand = pickUp(q, photo(8));
  for (let i = 0; i < 9; i++, hand = walk(q, hand, 1)) seen.push(JSON.stringify(hand.aim));
  assert.deepEqual(pickUp(q, photo(8)).aim, { kind: "page", page: { spread: 0, side: "opening" } });
  assert.equal(seen.at(-1), '{"kind":"box"}');
  assert.equal(seen.at(-2), '{"kind":"box"}');
  assert.deepEqual(walk(q, hand, -100).aim, { kind: "page", page: { spread: 0, side: "opening" } });
});

test("what is no longer there is no longer chosen", () => {
  const known = (n: number) => n < 10;
  assert.equal(tidy(q, choose({ kind: "spread", spread: 7 }), known).chosen, undefined);
  assert.deepEqual(tidy(q, choose({ kind: "spread", spread: 1 }), known).chosen, { kind: "spread", spread: 1 });
  assert.equal(tidy(q, choose(photo(12)), known).chosen, undefined);
});
