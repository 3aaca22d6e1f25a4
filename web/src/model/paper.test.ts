import assert from "node:assert/strict";
import { test } from "node:test";
import { readHanging, written } from "./hanging";
import { around, correct, marksOf, middle, name, noPaper, rangeOf, type Paper } from "./paper";

const square = (x: number, y: number): [number, number, number, number, number, number, number, number] => [x, y, x + 0.02, y, x + 0.02, y + 0.02, x, y + 0.02];

const shot = { name: "wall.jpg", width: 400, height: 300, others: [], codes: [{ number: 1, corners: square(0.1, 0.1) }, { number: 2, corners: square(0.3, 0.1) }, { number: 3, corners: square(0.1, 0.5) }],
  unread: [square(0.2, 0.5)] };
const reading = { id: 1, state: "done" as const, done: 1, doubts: [], twice: [], hanging: { spreads: [] }, shots: [shot, { ...shot, codes: [{ number: 2, corners: square(0.5, 0.5) }], unread: [] }] };
const paper: Paper = { ...noPaper, marks: marksOf(reading) };
const h = readHanging({ spreads: [{ left: 1, right: 2 }, { left: 3 }] });

test("every code of every photograph is marked, and what could not be read too", () => {
  assert.deepEqual(paper.marks.map((m) => [m.shot, m.number, m.read]), [[0, 1, true], [0, 2, true], [0, 3, true], [0, 0, false], [1, 2, true]]);
  assert.ok(Math.abs(middle(paper.marks[0]!).x - 0.11) < 1e-9);
});

test("a number that is corrected changes in every photograph and where it hangs", () => {
  const now = correct(paper, h, 2, 20);
  assert.deepEqual(now.paper.marks.map((m) => m.number), [1, 20, 3, 0, 20]);
  assert.equal(written(now.h), "1+20 / 3+");
});

test("a code that is named hangs beside its neighbour in the row", () => {
  const now = name(paper, h, 3, 9);
  assert.equal(written(now.h), "1+2 / 3+ / 9+");
  assert.equal(now.paper.marks[3]!.number, 9);
  assert.equal(written(name(paper, h, 3, 1).h), "1+2 / 3+", "what hangs already hangs once");
});

test("a slip is shown with its line and found in the text", () => {
  const text = "12+47\n😀 3+470 / 8";
  const slip = { line: 2, column: 5, from: 10, length: 3, words: "", hint: "" };
  assert.deepEqual(around(text, slip), { before: "😀 3+", place: "470", after: " / 8" });
  assert.equal(text.slice(...rangeOf(text, slip)), "470");
});
