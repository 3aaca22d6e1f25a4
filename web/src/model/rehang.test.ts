import assert from "node:assert/strict";
import { test } from "node:test";
import { apply } from "./change";
import { rehang, rehungChapter, rehungOf } from "./rehang";
import { readSequence, type Sequence } from "./sequence";

const wall = (...spreads: [number, number, number][]): Sequence =>
  readSequence({ revision: 3, opening: 9, spreads: spreads.map(([id, left, right]) => ({ id, left, right })), last: 9 });
const told = (q: Sequence) => q.spreads.map((s) => `${s.id}:${s.left}-${s.right}${s.across ? " across" : ""}${s.chapter ? ` in ${s.chapter}` : ""}`).join(" ");

const old = wall([1, 1, 2], [2, 3, 4], [3, 5, 6]);

const cases: [string, Sequence, number[], string][] = [
  ["a broken pair, both on the table, comes behind what hung before it", wall([1, 1, 2], [3, 5, 6]), [2], "1:1-2 2:3-4 3:5-6"],
  ["who faced one of them stays, alone", wall([1, 1, 2], [4, 3, 7], [3, 5, 6]), [2], "1:1-2 2:3-4 4:0-7 3:5-6"],
  ["its spread is still there with another on it: it gets a new one", wall([1, 1, 2], [2, 3, 7], [3, 5, 6]), [2], "1:1-2 10:3-4 2:0-7 3:5-6"],
  ["what hung before it hangs elsewhere now", wall([3, 5, 6], [1, 1, 2]), [2], "3:5-6 1:1-2 2:3-4"],
  ["only the opening page of what hung before it is left", wall([3, 5, 6]), [2], "2:3-4 3:5-6"],
  ["a run of spreads hangs as it hung", wall([5, 7, 8]), [1, 2], "1:1-2 2:3-4 5:7-8"],
];
for (const [promise, now, ids, want] of cases) {
  test(promise, () => {
    const change = rehang(now, rehungOf(old, ids));
    assert.ok(change.ok);
    const after = apply(now, change.value);
    assert.ok(after.ok);
    assert.equal(told(after.value), want);
  });
}

test("the act says what it hangs, and hanging what hangs so already is refused", () => {
  const change = rehang(wall([1, 1, 2]), rehungOf(old, [2]));
  assert.equal(change.ok && change.value.act, "hang 3 and 4 again");
  const again = rehang(old, rehungOf(old, [2]));
  assert.equal(!again.ok && again.refusal.message, "3 and 4 hang so already.");
  assert.equal(rehang(old, { spreads: [], behind: [] }).ok, false);
});

test("a photo across the gutter hangs across again", () => {
  const wide = readSequence({ spreads: [{ id: 4, left: 7, across: true }], last: 9 });
  const change = rehang(wall([1, 1, 2]), rehungOf(wide, [4]));
  const after = change.ok && apply(wall([1, 1, 2]), change.value);
  assert.equal(after && after.ok && told(after.value), "4:7-0 across 1:1-2");
});

const harbour = readSequence({
  revision: 3, last: 9, lastChapter: 2, chapters: [{ id: 2, name: "Harbour" }],
  spreads: [{ id: 1, left: 1, right: 2 }, { id: 2, left: 3, right: 4, chapter: 2, note: "rust" }, { id: 3, left: 5, right: 6, chapter: 2 }],
});

test("a chapter hangs again whole, with its name and its notes", () => {
  const now = readSequence({ revision: 4, last: 9, lastChapter: 2, spreads: [{ id: 1, left: 1, right: 2 }, { id: 5, left: 3, right: 8 }] });
  const change = rehang(now, rehungChapter(harbour, 2));
  assert.ok(change.ok);
  assert.equal(change.value.act, "hang chapter “Harbour” again");
  const after = apply(now, change.value);
  assert.ok(after.ok);
  assert.equal(told(after.value), "1:1-2 2:3-4 in 2 3:5-6 in 2 5:0-8");
  assert.deepEqual([after.value.chapters, after.value.spreads[1]!.note], [[{ id: 2, name: "Harbour" }], "rust"]);
});

test("beside what goes on under its name a chapter gets another number, and it cuts no other in two", () => {
  const now = readSequence({
    revision: 4, last: 9, lastChapter: 3, chapters: [{ id: 2, name: "Harbour" }, { id: 3, name: "Trains" }],
    spreads: [{ id: 1, left: 1, right: 2, chapter: 3 }, { id: 6, left: 9, right: 10, chapter: 3 }, { id: 5, left: 3, right: 8, chapter: 2 }],
  });
  const change = rehang(now, rehungChapter(harbour, 2));
  const after = change.ok && apply(now, change.value);
  assert.equal(after && after.ok && told(after.value), "1:1-2 in 3 6:9-10 in 3 2:3-4 in 4 3:5-6 in 4 5:0-8 in 2");
});
