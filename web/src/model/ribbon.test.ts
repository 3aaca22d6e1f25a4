import assert from "node:assert/strict";
import { test } from "node:test";
import type { Photo } from "./facts";
import { openings } from "./openings";
import { labels, openingAt, ribbon, ribbonWords, runs, stripesOf } from "./ribbon";
import type { Sequence } from "./sequence";

const spread = (id: number, left: number, right: number, across = false) => ({ id, left, right, across, pinned: false, chapter: 0, note: "" });
const wall: Sequence = { revision: 1, opening: 1, spreads: [spread(1, 2, 0), spread(2, 3, 0, true)], closing: 0, box: [], last: 2, line: 0, chapters: [], lastChapter: 0 };

const lab = (l: number, a = 0, b = 0) => ({ l, a, b });
function photo(number: number, label: string, day: string): Photo {
  return {
    number, label, where: label ? { lat: 45, lng: 13.5, radius: 100 } : undefined,
    taken: day ? { precision: "day", from: `${day}T00:00:00`, to: `${day}T23:59:59`, source: "maker" } : { precision: "unknown", source: "" },
    palette: [{ lab: lab(20), weight: 0.7 }, { lab: lab(60, 60, 40), weight: 0.3 }],
  } as unknown as Photo;
}
const photos = new Map([1, 2, 3].map((n) => [n, photo(n, n < 3 ? "Trieste" : "Rovinj", n === 3 ? "" : "2026-05-03")]));

test("every page has its stripe, light before dark, and a photo across the gutter has both", () => {
  const r = ribbon(openings(wall), photos);
  assert.deepEqual(r.stripes.map((s) => s.photo), [1, 2, 0, 3, 3, 0]);
  assert.deepEqual(r.stripes.map((s) => s.opening), [0, 1, 1, 2, 2, 3]);
  assert.deepEqual(r.stripes[0]!.colours.map((s) => s.lab.l), [60, 20]);
  assert.deepEqual(r.stripes[2]!.colours, []);
});

test("places and days are told once for as long as they last; a blank page interrupts nothing, the unknown does", () => {
  assert.deepEqual(runs(["a", undefined, "a", "b", "", "b", undefined]), [
    { from: 0, to: 3, words: "a" }, { from: 3, to: 4, words: "b" }, { from: 5, to: 6, words: "b" },
  ]);
  const r = ribbon(openings(wall), photos);
  assert.deepEqual(r.places, [{ from: 0, to: 2, words: "Trieste" }, { from: 3, to: 5, words: "Rovinj" }]);
  assert.deepEqual(r.days, [{ from: 0, to: 2, words: "3 May" }]);
});

test("a point of the ribbon is an opening, and an opening a part of the ribbon", () => {
  const r = ribbon(openings(wall), photos);
  assert.deepEqual([-1, 0, 0.17, 0.49, 0.51, 0.99, 2].map((part) => openingAt(r, part)), [0, 0, 1, 1, 2, 3, 3]);
  assert.deepEqual(stripesOf(r, 2), { from: 3, to: 5 });
});

test("what the ribbon shows is said in words", () => {
  const all = openings(wall);
  assert.equal(ribbonWords(all[1]!, photos), "Pages 2 and 3: photo 2. Dark grey and red. Trieste, 3 May 2026.");
  assert.equal(ribbonWords(all[2]!, photos), "Pages 4 and 5: photo 3 across both. Dark grey and red. Rovinj.");
  assert.equal(ribbonWords(all[3]!, photos), "Page 6, alone: blank.");
});

test("of runs that crowd each other the longer ones are written, and each may go on to the next", () => {
  const run = (from: number, to: number, words: string) => ({ from, to, words });
  const all = [run(0, 1, "Trieste"), run(1, 9, "Piran"), run(9, 12, "Pula"), run(12, 13, "Zadar"), run(17, 20, "Bari")];
  const written = (least: number) => labels(all, 20, least).map(({ run: { words }, to }) => `${words} to ${to}`);
  assert.deepEqual(written(1), ["Trieste to 1", "Piran to 9", "Pula to 12", "Zadar to 17", "Bari to 20"]);
  assert.deepEqual(written(3), ["Piran to 9", "Pula to 12", "Zadar to 17", "Bari to 20"]);
  assert.deepEqual(written(4), ["Piran to 9", "Pula to 20"], "the last would stick out");
  assert.deepEqual(written(30), [], "nothing fits");
});
