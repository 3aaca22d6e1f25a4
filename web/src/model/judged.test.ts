import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { acceptWords, figures, floorWords, leftAndRight, lossWords, measureText, orderings, sideWords } from "./judged";
import { readSequence } from "./sequence";

const wall = readSequence({ revision: 3, opening: 0, closing: 9, last: 2, box: [], spreads: [{ id: 1, left: 1 }, { id: 2, right: 2 }] } as unknown as api.Sequence);

const place: api.Evidence = { kind: "place", known: false, score: 0.4, unit: "m", words: "no place known for 12", tells: false };
const colour: api.Evidence = {
  kind: "colour", known: true, score: 0.834, unit: "", words: "both in rust", tells: true,
  relations: [{ relation: "accent", known: true, score: 0.2, words: "no accent in common", tells: false, measure: 3.21, unit: "ΔE00" }, { relation: "mixed", known: false, score: 0.5, unit: "", words: "both in colour", tells: false }],
};

test("what is missing has no figure and is said to be missing", () => {
  const [first, second] = figures([place, colour]);
  assert.equal(first!.score, "");
  assert.equal(first!.known, false);
  assert.equal(second!.score, "0.83");
  assert.deepEqual(second!.parts.map((p) => [p.name, p.score]), [["a shared accent", "0.20"], ["colour beside black and white", ""]]);
  assert.equal(second!.parts[0]!.measure, "ΔE00 3.2");
  assert.equal(second!.parts[1]!.measure, "");
});

test("measures are shown as exactly as they mean something", () => {
  const cases: [number, string, string][] = [
    [341.2, "m", "341 m"], [12_345, "m along the way", "12345 m along the way"], [42, "s", "42 s"], [3000, "s", "50 min"], [5 * 3600, "s", "5.0 h"], [9 * 86400, "s", "9.0 days"],
    [4.13, "ΔE00", "ΔE00 4.1"], [0.0123, "of the height", "1.2 % of the height"], [13.2, "° short of opposite", "13.2° short of opposite"], [1.5, "times as wide", "1.5 times as wide"], [1, "", ""],
  ];
  for (const [measure, unit, text] of cases) assert.equal(measureText(measure, unit), text);
});

test("a partner lies where it is proposed while both pages are free, else where there is room", () => {
  const cases: [photo: number, partner: api.Partner["side"], pages: [number, number], words: RegExp][] = [
    [5, "left", [7, 5], /^It would lie on the left: its weight leads in\.$/],
    [5, "right", [5, 7], /^It would lie on the right/],
    [1, "left", [1, 7], /^The right page is free for it; the left would suit it better/],
    [1, "right", [1, 7], /^It would lie on the right/],
    [2, "right", [7, 2], /^The left page/],
  ];
  for (const [photo, side, pages, words] of cases) {
    const partner = { photo: 7, side, leftWhy: "its weight leads in" };
    assert.deepEqual(leftAndRight(wall, photo, partner), pages);
    assert.match(sideWords(wall, photo, partner), words);
  }
});

test("a partner that hangs already keeps its page", () => {
  assert.deepEqual(leftAndRight(wall, 5, { photo: 2, side: "left" }), [5, 2]);
  assert.deepEqual(leftAndRight(wall, 5, { photo: 1, side: "right" }), [1, 5]);
});

test("a loss is one sentence, whatever there is of it", () => {
  const only = (...words: string[]) => words.map((w) => ({ of: "town" as const, words: w }));
  const same = [{ photo: 2, score: 0.9, words: "" }];
  const cases: [api.Only[], api.Same[], string][] = [
    [[], [], "Nothing is its alone; no other says the same."],
    [only("the only one in Piran"), same, "It is the only one in Piran; 1 other says the same."],
    [only("a", "b", "c"), [...same, ...same], "It is a, b and c; 2 others say the same."],
  ];
  for (const [o, s, words] of cases) {
    const loss = { photo: 1, only: o, same: s };
    assert.equal(lossWords(loss), words);
    assert.equal(lossWords(loss), words, "and reading it changes nothing");
  }
});

test("orderings and floors are each told in words of their own", () => {
  assert.equal(new Set(orderings.map((o) => o.words)).size, 5);
  assert.equal(new Set([0.05, 0.5, 1, 1.6].map(floorWords)).size, 4);
  assert.deepEqual([acceptWords(4, 4), acceptWords(1, 1), acceptWords(2, 4)], ["Accept all", "Accept it", "Accept 2 of 4"]);
});
