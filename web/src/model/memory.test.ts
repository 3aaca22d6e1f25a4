import assert from "node:assert/strict";
import { test } from "node:test";
import { beginTrial, lay, point, readTrial, remade } from "./memory";
import { check, readSequence } from "./sequence";

const kept = readSequence({ revision: 5, opening: 9, last: 4, spreads: [{ id: 1, left: 1, right: 2 }, { id: 2, left: 3, across: true }, { id: 4, right: 5 }] });

test("the heap has every photo of the wall once, in another order, the same after a reload", () => {
  const t = beginTrial(kept);
  assert.deepEqual([...t.heap].sort((a, b) => a - b), [1, 2, 3, 5, 9]);
  assert.deepEqual(beginTrial(kept), t);
  assert.notDeepEqual(t.heap, [9, 1, 2, 3, 5]);
  assert.deepEqual(t.pages, [0, 0, 0, 0, 0, 0, 0, 0]);
  assert.deepEqual(readTrial(JSON.parse(JSON.stringify(t))), t);
});

test("photos go to the next blank page; pointing at one takes it back", () => {
  let t = lay(lay(beginTrial(kept), 9), 1);
  assert.deepEqual([t.pages.slice(0, 3), t.next], [[9, 1, 0], 2]);
  t = point(t, 0);
  assert.deepEqual([t.pages[0], t.next, t.heap.includes(9)], [0, 0, true]);
  t = lay(t, 5);
  assert.deepEqual([t.pages.slice(0, 3), t.next], [[5, 1, 0], 2]);
  t = point(t, 6);
  t = lay(t, 3);
  assert.equal(t.pages[6], 3);
  assert.equal(lay(t, 3), t, "it is not in the heap");
});

test("what was remade is a wall: known pairs keep their number, wide photos lie wide, others get new ones", () => {
  let t = beginTrial(kept);
  for (const photo of [9, 1, 2, 5]) t = lay(t, photo);
  t = lay(point(t, 6), 3);
  const q = remade(t);
  assert.deepEqual(q.spreads, [
    { id: 1, left: 1, right: 2, across: false, pinned: false, chapter: 0, note: "" },
    { id: 5, left: 5, right: 0, across: false, pinned: false, chapter: 0, note: "" },
    { id: 2, left: 3, right: 0, across: true, pinned: false, chapter: 0, note: "" },
  ]);
  assert.equal(q.opening, 9);
  assert.equal(check(q), undefined);
});

test("what makes no sense is no draft", () => {
  for (const saved of [null, {}, { heap: [], pages: [0], kept }, { heap: 3, pages: [], kept }]) assert.equal(readTrial(saved), undefined);
});
