import assert from "node:assert/strict";
import { test } from "node:test";
import { beginLeafing, ended, openingOfPhoto, openings, openingWords, paced, photosOf, turned } from "./openings";
import type { Sequence } from "./sequence";

const spread = (id: number, left: number, right: number, across = false) => ({ id, left, right, across, pinned: false, chapter: 0, note: "" });
const wall: Sequence = { revision: 1, opening: 3, spreads: [spread(7, 1, 2), spread(4, 5, 0, true), spread(9, 0, 6), spread(10, 0, 0)], closing: 0, box: [8], last: 10, line: 0, chapters: [], lastChapter: 0 };

test("a reader opens page 1 alone, the spreads as they face, and the last page alone", () => {
  const all = openings(wall);
  assert.deepEqual(all.map(openingWords), [
    "Page 1, alone: photo 3.", "Pages 2 and 3: photos 1 and 2.", "Pages 4 and 5: photo 5 across both.", "Pages 6 and 7: photo 6.", "Pages 8 and 9: blank.", "Page 10, alone: blank.",
  ]);
  assert.equal(all[0]!.left, undefined);
  assert.equal(all.at(-1)!.right, undefined);
  assert.deepEqual(all[2]!.left, all[2]!.right);
  assert.deepEqual(photosOf(all[3]!), [6]);
});

test("a photo is found where it is opened", () => {
  assert.deepEqual([3, 2, 5, 6, 8, 99].map((photo) => openingOfPhoto(wall, photo)), [0, 1, 2, 3, -1, -1]);
  assert.equal(openingOfPhoto({ ...wall, closing: 12 }, 12), 5);
});

test("leafing goes forwards only, to its end, and stops by itself there", () => {
  let l = { ...beginLeafing(3), byItself: true };
  const seen: number[] = [];
  for (let i = 0; i < 5; i++) {
    seen.push(l.at);
    l = turned(l);
  }
  assert.deepEqual(seen, [0, 1, 2, 3, 3]);
  assert.ok(ended(l));
  assert.equal(l.byItself, false);
});

test("the pace is the reader's, within bounds", () => {
  let l = beginLeafing(3);
  for (let i = 0; i < 9; i++) l = paced(l, 1);
  const slow = l.pace;
  for (let i = 0; i < 9; i++) l = paced(l, -1);
  assert.ok(slow >= 10 && l.pace <= 2 && l.pace > 0);
  assert.ok(paced(l, 1).pace > l.pace);
});
