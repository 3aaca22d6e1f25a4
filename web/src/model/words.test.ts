import assert from "node:assert/strict";
import { test } from "node:test";
import { readSequence } from "./sequence";
import { firstTarget, intentFor, pickedUpSpoken, targetsFor, targetSpoken, targetWords, type Carried, type Target } from "./targets";
import { count, pageLabel, photosText, sentence, unpairedPhotos } from "./words";

// pages:  1 | 2 3 | 4 5 | 6 7 | 8 — photo 12 and 47 face each other, 31 crosses, page 4 is blank
const q = readSequence({
  revision: 1, opening: 2, box: [60], last: 3,
  spreads: [{ id: 1, left: 12, right: 47 }, { id: 2, right: 5 }, { id: 3, left: 31, across: true }],
});
const all = [2, 5, 12, 20, 21, 31, 47, 60];
const photo = (n: number): Carried => ({ kind: "photo", photo: n });
const page = (spread: number, side: "left" | "right"): Target => ({ kind: "page", page: { spread, side } });
const between = (index: number): Target => ({ kind: "between", index });

test("the counts say what is on the wall, what is unpaired and what lies elsewhere", () => {
  assert.deepEqual(count(q, all), { wall: 5, pages: 8, table: 2, box: 1 });
  assert.equal(unpairedPhotos(q).length, 1);
});

const onTargets: [string, Carried, Target, string][] = [
  ["a blank page", photo(20), page(2, "left"), "put here"],
  ["a full page, from another page", photo(12), page(2, "right"), "swap with 5"],
  ["a full page, from the table", photo(20), page(2, "right"), "put here, 5 to the table"],
  ["a page another photo crosses", photo(20), page(3, "right"), "put beside 31"],
  ["its own page", photo(12), page(1, "left"), ""],
  ["its own page, across", photo(31), page(3, "right"), ""],
  ["between two spreads", photo(20), between(1), "new spread here"],
  ["beside the spread it has to itself", photo(5), between(2), ""],
  ["the table", photo(12), { kind: "table" }, "on the table"],
  ["the table it lies on", photo(20), { kind: "table" }, ""],
  ["the box", photo(12), { kind: "box" }, "set aside"],
  ["a spread between others", { kind: "spread", spread: 1 }, between(3), "move here"],
  ["a spread beside itself", { kind: "spread", spread: 1 }, between(1), ""],
  ["a spread on a page", { kind: "spread", spread: 1 }, page(2, "left"), ""],
  ["a spread on the table", { kind: "spread", spread: 1 }, { kind: "table" }, "both pages to the table"],
];
for (const [name, carried, target, words] of onTargets) {
  test(`the target tells before letting go: ${name}`, () => {
    assert.equal(targetWords(q, carried, target), words);
    assert.equal(intentFor(q, carried, target) === undefined, words === "");
  });
}

test("a moved spread's new place is counted after it was taken out", () => {
  assert.deepEqual(intentFor(q, { kind: "spread", spread: 1 }, between(3)), { want: "moveSpread", spread: 1, to: 2 });
  assert.deepEqual(intentFor(q, { kind: "spread", spread: 3 }, between(0)), { want: "moveSpread", spread: 3, to: 0 });
});

test("picking up and walking is told in plain words", () => {
  assert.equal(pickedUpSpoken(q, photo(20)), "20 picked up from the table.");
  assert.equal(pickedUpSpoken(q, photo(60)), "60 picked up from the box.");
  assert.equal(pickedUpSpoken(q, photo(12)), "12 picked up from page 2.");
  assert.equal(pickedUpSpoken(q, photo(31)), "31 picked up from pages 6–7.");
  assert.equal(targetSpoken(q, photo(20), page(2, "left")), "Page 4, blank.");
  assert.equal(targetSpoken(q, photo(12), page(2, "right")), "Page 5, photo 5: swap with 5.");
  assert.equal(targetSpoken(q, photo(12), page(1, "left")), "Page 2, photo 12: it lies here now.");
  assert.equal(targetSpoken(q, photo(20), between(1)), "Between pages 3 and 4: new spread here.");
  assert.equal(targetSpoken(q, photo(20), { kind: "box" }), "The box.");
});

test("walking starts at the first blank page for a photo from the table, at its own place otherwise", () => {
  assert.deepEqual(firstTarget(q, photo(20)), page(2, "left"));
  assert.deepEqual(firstTarget(q, photo(47)), page(1, "right"));
  const full = readSequence({ opening: 1, closing: 2, spreads: [{ id: 1, left: 3, right: 4 }], last: 1 });
  assert.deepEqual(firstTarget(full, photo(9)), between(1));
});

test("walking passes every page and every place between, then the trays", () => {
  const walk = targetsFor(q, photo(20)).map((t) => (t.kind === "page" ? t.page.side[0]! : t.kind === "between" ? "|" : t.kind));
  assert.equal(walk.join(" "), "o | l r | l r | l r | c table box");
});

test("pages are named with what lies on them", () => {
  assert.equal(pageLabel(q, { spread: 0, side: "opening" }), "Page 1, opening page, photo 2");
  assert.equal(pageLabel(q, { spread: 0, side: "closing" }), "Page 8, closing page, blank");
  assert.equal(pageLabel(q, { spread: 3, side: "right" }), "Pages 6 and 7, photo 31 across both");
  assert.equal(photosText([3, 4, 5]), "3, 4 and 5");
  assert.equal(photosText([1, 2, 3, 4, 5, 6]), "6 photos");
  assert.equal(sentence("put 12 on page 4"), "Put 12 on page 4.");
});
