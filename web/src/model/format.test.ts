import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { bound, lengthText, newMisfits, sizeText, turned, typedLength } from "./format";

const paper: api.Paper = { name: "", grammage: 150, bulk: 0.9, caliper: 0, finish: "" };
const format: api.Format = { trim: { width: 148, height: 210 }, binding: "", unit: "mm", bleed: 3, safe: 5, swallow: 0,
  margins: { top: 12, outer: 12, bottom: 16, inner: 14 }, text: paper, cover: paper };
const sizes: api.TrimSize[] = [{ name: "A5", width: 148, height: 210 }, { name: "8.5 × 11 in", width: 215.9, height: 279.4 }];
const list: api.FormatList = { sizes, first: format, inner: 10, hides: 6 };

for (const [text, unit, mm] of [["3", "mm", 3], ["3,5", "mm", 3.5], [" 3.5 mm ", "in", 3.5], ["1/8 in", "mm", 3.175], ["1/8", "in", 3.175], ["5 1/2\"", "mm", 139.7],
  ["8.5", "in", 215.9], ["1.5 cm", "mm", 15], [".125", "in", 3.175], ["11/8", "in", 34.925]] as const) {
  test(`"${text}" in ${unit} is ${mm} mm`, () => assert.ok(Math.abs(typedLength(text, unit)! - mm) < 1e-9, String(typedLength(text, unit))));
}
for (const text of ["", "three", "-3", "3 ell", "1/0", "1e5", "3 4"]) test(`"${text}" is no length`, () => assert.equal(typedLength(text, "mm"), undefined));

test("a length typed in one unit is read in the other", () => {
  assert.equal(lengthText(typedLength("3.175", "mm")!, "in"), "0.125");
  assert.equal(lengthText(typedLength("8.5", "in")!, "mm"), "215.9");
});

test("a size is named standing and lying, and told in the maker's unit when it has no name", () => {
  assert.equal(sizeText(format, sizes), "A5");
  assert.equal(sizeText({ ...format, trim: turned(format.trim) }, sizes), "A5 lying");
  assert.equal(sizeText({ ...format, trim: { width: 8.5 * 25.4, height: 11 * 25.4 } }, sizes), "8.5 × 11 in");
  assert.equal(sizeText({ ...format, trim: { width: 127, height: 190 }, unit: "in" }, sizes), "5 × 7.48 in");
});

test("glue asks for an inner margin and takes it back no more than was asked for", () => {
  const glued = bound(format, "perfect-bound", list);
  assert.deepEqual([glued.swallow, glued.margins.inner], [6, 16]);
  assert.equal(bound({ ...format, margins: { ...format.margins, inner: 30 } }, "hard-case", list).margins.inner, 30);
  assert.deepEqual([bound(glued, "saddle-stitch", list).swallow, bound(glued, "saddle-stitch", list).margins.inner], [0, 16]);
});

test("only what fitted before is told to fit no more", () => {
  const soft: api.Misfit = { kind: "resolution", page: 4, photo: 7, words: "", hint: "" };
  const other = { ...soft, photo: 8 };
  assert.deepEqual(newMisfits([soft], [{ ...soft, page: 6 }, other]), [other]);
});
