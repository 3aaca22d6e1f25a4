import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import type * as api from "../net/api";
import { addedLeaf, cropMoved, cropZoomed, cropped, keptCrop, movedLeaf, openedAt, openedOf, overflowing, placed, placementOf, placeOf, torn, wholeCrop, withLeaf } from "./plan";

const plan: api.Plan = { manner: "framed", captions: false, folios: false, edition: 0, front: [], back: [], laid: [], placements: [] };
const near = (got: object, want: object) => {
  for (const [k, v] of Object.entries(want)) assert.ok(Math.abs((got as Record<string, number>)[k]! - (v as number)) < 1e-9, `${k}: ${JSON.stringify(got)}, not ${JSON.stringify(want)}`);
};

// The program runs the same file; what it holds was reckoned by hand.
interface Case { name: string; whole: api.Rect; picture: api.Rect; width: number; height: number; crop: api.Crop }
for (const c of (JSON.parse(readFileSync("../testdata/crops.json", "utf8")) as { cases: Case[] }).cases) {
  test(`a crop fills its window: ${c.name}`, () => near(cropped(c.whole, c.width, c.height, c.crop), c.picture));
}

test("what is said of a photo is kept in the photos' order, and forgotten when taken back", () => {
  const two = placed(placed(plan, 9, { manner: "small" }), 4, { apart: 2 });
  assert.deepEqual(two.placements, [{ photo: 4, apart: 2 }, { photo: 9, manner: "small" }]);
  assert.deepEqual(placementOf(two, 9), { photo: 9, manner: "small" });
  assert.deepEqual(placed(two, 9, { manner: undefined }).placements, [{ photo: 4, apart: 2 }]);
  assert.deepEqual(placed(two, 9, { share: 0.4 }).placements[1], { photo: 9, manner: "small", share: 0.4 });
});

test("a picture is moved as far as its window stays filled, and comes back at once", () => {
  const whole = { x: 0, y: 0, width: 100, height: 100 };
  const far = cropMoved(whole, 200, 100, wholeCrop, 500, 500);
  near(cropped(whole, 200, 100, far), { x: 0, y: 0 });
  near(cropped(whole, 200, 100, cropMoved(whole, 200, 100, far, -10, 0)), { x: -10 }); // not only after 460 mm more
});

test("nearer and farther keep the point under the hand", () => {
  const whole = { x: 10, y: 20, width: 80, height: 120 };
  const about = { x: 40, y: 50 };
  let crop = wholeCrop;
  const under = () => {
    const p = cropped(whole, 3000, 2000, crop);
    return { x: (about.x - p.x) / p.width, y: (about.y - p.y) / p.height };
  };
  const before = under();
  crop = cropZoomed(whole, 3000, 2000, crop, 2.5, about);
  near(under(), before);
  assert.equal(cropZoomed(whole, 3000, 2000, crop, 100).zoom, 8);
  assert.equal(keptCrop(cropZoomed(whole, 80, 120, { ...wholeCrop, zoom: 3 }, 0.001)), undefined); // whole again: nothing is said
});

const page = (number: number, more: Partial<api.BookPage> = {}): api.BookPage => ({ number, ...more });
const book = (n: number, wallFrom: number, wallTo: number): api.Book => ({
  format: {} as api.Format,
  pages: Array.from({ length: n }, (_, i) => page(i + 1, i + 1 >= wallFrom && i + 1 <= wallTo ? { on: { spread: i, side: "left" } as api.Page } : { leaf: { kind: "text", text: "" } })),
});

test("page 1 is a right page alone, 2 and 3 face each other, the last of an even count is a left page alone", () => {
  const opened = openedOf(book(6, 1, 6)).map(({ left, right }) => [left?.number, right?.number]);
  assert.deepEqual(opened, [[undefined, 1], [2, 3], [4, 5], [6, undefined]]);
  assert.deepEqual([1, 2, 3, 6].map(openedAt), [0, 1, 1, 3]);
});

test("pages of words are found, changed, moved and taken away where they stand", () => {
  const full = { ...plan, front: [{ kind: "title", text: "A" }, { kind: "blank" }] as api.Leaf[], back: [{ kind: "colophon" }] as api.Leaf[] };
  const b = book(7, 3, 6);
  assert.deepEqual(placeOf(b, b.pages[1]!, full), { in: "front", at: 1 });
  assert.deepEqual(placeOf(b, b.pages[6]!, full), { in: "back", at: 0 });
  assert.equal(placeOf(b, b.pages[3]!, full), undefined);
  assert.deepEqual(withLeaf(full, { in: "front", at: 0 }, { kind: "text", text: "B" }).front[0], { kind: "text", text: "B" });
  assert.deepEqual(withLeaf(full, { in: "back", at: 0 }, undefined).back, []);
  assert.deepEqual(movedLeaf(full, { in: "front", at: 0 }, 1).front.map((l) => l.kind), ["blank", "title"]);
  assert.equal(movedLeaf(full, { in: "front", at: 0 }, -1), full);
  const more = addedLeaf(full, { in: "front", at: 2 }, { kind: "blank" });
  assert.deepEqual([torn(full), torn(more), more.front.length], [false, true, 3]);
  const laid = withLeaf(full, { on: { spread: 4, side: "left" } }, { kind: "text", text: "here" });
  assert.deepEqual(laid.laid, [{ on: { spread: 4, side: "left" }, kind: "text", text: "here" }]);
  assert.deepEqual(withLeaf(laid, { on: { spread: 4, side: "left" } }, undefined).laid, []);
});

test("a text that is longer than its page goes on at the word that does not fit", () => {
  const room = { x: 10, y: 10, width: 50, height: 10 };
  const lines = [[13, "one two"], [18, "three"], [23, "four five"]].map(([y, text]) => ({ x: 10, y, text, size: 3.5 }) as api.TextLine);
  const folio = { x: 10, y: 200, text: "3", size: 2.8 };
  assert.deepEqual(overflowing("one  two\nthree\n\nfour five", [...lines, folio], room), ["one  two\nthree", "four five"]);
  assert.equal(overflowing("one two", [lines[0]!, folio], room), undefined);
  assert.equal(overflowing("one two", [{ ...lines[0]!, y: 40 }], room), undefined); // not even a line
});
