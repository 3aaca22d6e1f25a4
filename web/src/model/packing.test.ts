import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { grams, inHand, inTurn, parcelKey, progressWords } from "./packing";

const parcel = (order: number, ...numbers: number[]) =>
  ({ order, copies: numbers.map((number) => ({ series: "edition", number })) }) as unknown as api.ToPack;

test("what is put off comes last, in the order in which it was put off, and the rest stays in shelf order", () => {
  const [a, b, c] = [parcel(1, 1), parcel(2, 2), parcel(3, 3, 4)] as const;
  assert.deepEqual(inTurn([a, b, c], [parcelKey(b), parcelKey(a)]), [c, b, a]);
  assert.equal(inHand(inTurn([a, b, c], []), undefined), a);
  assert.equal(inHand([a, b, c], parcelKey(c)), c);
  assert.equal(inHand([a, b], parcelKey(c)), a); // another window packed it
  assert.equal(inHand([], undefined), undefined);
});

test("progress counts parcels and the copies still to go", () => {
  const done = [{}] as unknown as api.Done[];
  assert.equal(progressWords({ waiting: [parcel(1, 1), parcel(2, 2, 3)], done, held: [] }), "1 of 3 parcels packed; 3 copies still to go.");
  assert.equal(progressWords({ waiting: [], done, held: [{}] as unknown as api.HeldUp[] }), "1 parcel packed; 1 order held up.");
});

test("grams have one decimal at most", () => {
  assert.equal(grams(218_400), "218.4 g");
  assert.equal(grams(40_000), "40 g");
});
