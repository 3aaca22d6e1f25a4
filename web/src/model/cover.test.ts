import assert from "node:assert/strict";
import { test } from "node:test";
import { facing, length, turns, turnWords, typedLength, viewFit } from "./cover";

test("the side that faces the reader is the one the block is turned to", () => {
  for (const [side, at] of Object.entries(turns)) {
    for (const off of [-44, 0, 44, 360, -360]) assert.equal(facing(at + off), side, `${side} ${off}`);
  }
  assert.equal(turnWords(90), "the spine");
  assert.equal(turnWords(100), "mostly the spine");
  assert.equal(turnWords(-180), "the back");
});

test("lengths are read as typed and told in the maker's unit", () => {
  for (const [typed, unit, want] of [["6.48", "mm", 6.48], ["6,48 mm", "in", 6.48], ["0.25", "in", 6.35], ['.25"', "mm", 6.35], ["1 cm", "mm", 10], ["0", "mm", 0]] as const) {
    assert.equal(Number(typedLength(typed, unit)?.toFixed(6)), want, typed);
  }
  for (const typed of ["", "thin", "-3", "1 2", "1e3"]) assert.equal(typedLength(typed), undefined, typed);
  assert.equal(length(6.48, "mm"), "6.48 mm");
  assert.equal(length(6.35, "in"), "0.25 in");
});

test("a picture of the cover lies with its bleed or without, and one of another page is said to be stretched", () => {
  const trim = { width: 299.24, height: 210 };
  assert.deepEqual(viewFit(305.24 / 216, trim, 3), { bleed: 3, stretched: false });
  assert.deepEqual(viewFit(299.24 / 210, trim, 3), { bleed: 0, stretched: false });
  assert.equal(viewFit(210 / 297, trim, 3).stretched, true);
  assert.equal(viewFit(1, trim, 0).stretched, true);
});
