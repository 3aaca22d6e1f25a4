import assert from "node:assert/strict";
import { test } from "node:test";
import { aimAt, carriedIn, choose, chooseMany, emptyHand, pickUp, takenUp, turnPush, walk } from "./hand";
import { readSequence } from "./sequence";
import { intentFor, pickedUpSpoken, targetWords, type Carried, type Target } from "./targets";

const q = readSequence({
  revision: 1, last: 4, box: [20],
  spreads: [{ id: 1, left: 3, right: 4 }, { id: 2, left: 5, right: 6 }, { id: 3, left: 7 }, { id: 4, left: 8, right: 9, pinned: true }],
});
const page = (spread: number, side: "left" | "right", push = false): Target => (push ? { kind: "page", page: { spread, side }, push } : { kind: "page", page: { spread, side } });
const one = (photo: number): Carried => ({ kind: "photo", photo });
const several = (...photos: number[]): Carried => ({ kind: "photos", photos });

const words: [string, Carried, Target, string][] = [
  ["a full page swaps", one(3), page(2, "left"), "swap with 5"],
  ["or pushes on, and says how far", one(12), page(2, "left", true), "put here; 5, 6 and 7 move on, to page 7"],
  ["a pin in the way is told before letting go", one(12), page(4, "left", true), "A pin holds pages 8–9; nothing is pushed through it."],
  ["a blank page has nothing to push on", one(12), page(3, "right", true), "put here"],
  ["those that find no page go to the table", several(12, 13), page(3, "right"), "put 2 here, 8 to the table"],
  ["several that come from pages swap", several(8, 9), page(1, "left"), "put 2 here, swap with 3 and 4"],
  ["several push on", several(12, 13), page(3, "left", true), "A pin holds pages 8–9; nothing is pushed through it."],
  ["several between two spreads", several(12, 13, 14), { kind: "between", index: 1 }, "3 in new spreads here"],
  ["several into the box", several(12, 3), { kind: "box" }, "set 2 aside"],
  ["several that lie there already", several(3, 4), page(1, "left"), ""],
];
for (const [name, carried, target, said] of words) test(`a place says what would happen there: ${name}`, () => assert.equal(targetWords(q, carried, target), said));

test("what pushes on is another act than what swaps", () => {
  assert.equal(intentFor(q, one(12), page(1, "left"))?.want, "place");
  assert.equal(intentFor(q, one(12), page(1, "left", true))?.want, "push");
  assert.equal(intentFor(q, one(3), page(1, "left", true)), undefined);
});

test("taking up one of several chosen takes all of them, taking up another does not", () => {
  const hand = chooseMany([3, 5, 9]);
  assert.deepEqual(takenUp(hand, { kind: "photo", photo: 5 }), several(3, 5, 9));
  assert.deepEqual(takenUp(hand, { kind: "photo", photo: 7 }), one(7));
  assert.equal(pickedUpSpoken(q, several(3, 5, 9)), "3 photos picked up.");
});

test("a hand that pushes on does so at every full page it comes to, until it is turned back", () => {
  let hand = pickUp(q, several(12, 13));
  assert.deepEqual(carriedIn(hand), several(12, 13));
  hand = turnPush(q, aimAt(q, hand, page(1, "left")));
  assert.deepEqual(hand.aim, page(1, "left", true));
  hand = walk(q, hand, 1);
  assert.deepEqual(hand.aim, page(1, "right", true));
  hand = walk(q, hand, 1);
  assert.deepEqual(hand.aim, { kind: "between", index: 1 });
  hand = walk(q, hand, 1);
  assert.deepEqual(hand.aim, page(2, "left", true));
  assert.deepEqual(turnPush(q, hand).aim, page(2, "left"));
  assert.equal(choose(one(3)).push, emptyHand.push);
});
