import assert from "node:assert/strict";
import { test } from "node:test";
import { inPiles, type Pile } from "./piles";

const piles: Pile[] = [{ photos: [5, 2, 9], words: "three within 4 s" }, { photos: [7, 8], words: "two nearly the same" }];
const told = (table: number[], open: number[] = []) => inPiles(table, piles, new Set(open))
  .map((l) => `${l.photo}${l.pile ? (l.pile.open ? ` open of ${l.pile.of.length}` : ` of ${l.pile.of.length}`) : ""}${l.among ? " among" : ""}`);

test("a pile lies where its first print lies, the sharpest on top", () => {
  assert.deepEqual(told([1, 2, 3, 5, 9, 7]), ["1", "5 of 3", "3", "7"]);
});

test("an open pile lies print by print, and none is lost", () => {
  assert.deepEqual(told([1, 2, 3, 5, 9, 7, 8], [9]), ["1", "5 open of 3", "2 among", "9 among", "3", "7 of 2"]);
});

test("what is on the wall or in the box is no part of a pile, and one alone is none", () => {
  assert.deepEqual(told([2, 9, 8]), ["2 of 2", "8"]);
  assert.deepEqual(told([2]), ["2"]);
});
