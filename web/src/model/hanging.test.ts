import assert from "node:assert/strict";
import { test } from "node:test";
import { bare, beside, facingNext, hanging, readHanging, renumbered, setApart, shifted, swapped, turnedAcross, without, written, type Hanging } from "./hanging";

/** Reads what written writes; the real reader is the program's. */
function read(text: string): Hanging {
  const parts = text.split(" / ").filter((p) => p !== "");
  const number = (s: string | undefined) => Number(s === "_" ? 0 : s || 0);
  const single = (p: string | undefined) => p !== undefined && !p.includes("+");
  const opening = single(parts[0]) ? number(parts.shift()) : 0;
  const closing = single(parts.at(-1)) ? number(parts.pop()) : 0;
  const spreads = parts.map((p) => {
    const [left, right] = p.split("+").map(number) as [number, number];
    return left === right && left !== 0 ? { left, right: 0, across: true } : { left, right, across: false };
  });
  return { opening, spreads, closing };
}

test("a wall is written as the program reads it", () => {
  for (const text of ["", "5", "_ / 8", "5 / 8", "12+47 / 3+19 / 8", "5 / 12+47 / 3+ / +19 / _+_ / 21+21 / 8"]) {
    assert.equal(written(read(text)), text);
  }
  assert.equal(written(readHanging({ spreads: [{ left: 1 }, { right: 2 }, { left: 3, across: true }] })), "1+ / +2 / 3+3");
  assert.equal(written(bare), "");
});

test("each correction does what it says and keeps every other print", () => {
  const cases: [string, string, (h: Hanging) => Hanging, string][] = [
    ["another number", "5 / 1+2 / 3+3 / 8", (h) => renumbered(renumbered(h, 3, 30), 8, 80), "5 / 1+2 / 30+30 / 80"],
    ["taken out", "5 / 1+2 / 3+ / 8", (h) => without(without(h, 3), 1), "5 / +2 / 8"],
    ["taken off the first page", "5 / 1+2", (h) => without(h, 5), "1+2"],
    ["added behind", "5 / 1+2 / 3+4", (h) => beside(h, 9, 2), "5 / 1+2 / 9+ / 3+4"],
    ["added before", "5 / 1+2 / 3+4", (h) => beside(h, 9, 3, true), "5 / 1+2 / 9+ / 3+4"],
    ["added behind the opening page", "5 / 1+2", (h) => beside(h, 9, 5), "5 / 9+ / 1+2"],
    ["added at the end", "1+2", (h) => beside(h, 9, 0), "1+2 / 9+"],
    ["facing the next alone", "1+ / 2+ / 3+4", (h) => facingNext(h, 1), "1+2 / 3+4"],
    ["facing the next, both taken", "1+2 / 3+4", (h) => facingNext(h, 2), "1+ / 2+3 / 4+"],
    ["facing the next from the opening page", "1 / 2+3", (h) => facingNext(h, 1), "1+2 / 3+"],
    ["facing the closing page", "1+2 / 3", (h) => facingNext(h, 2), "1+ / 2+3"],
    ["facing nobody after the last", "1+2", (h) => facingNext(h, 2), "1+2"],
    ["already facing", "1+2 / 3+4", (h) => facingNext(h, 1), "1+2 / 3+4"],
    ["the left apart", "1+2 / 3+4", (h) => setApart(h, 1), "1+ / 2+ / 3+4"],
    ["the right apart", "1+2 / 3+4", (h) => setApart(h, 4), "1+2 / 3+ / 4+"],
    ["swapped", "1+2 / 3+", (h) => swapped(swapped(h, 1), 3), "2+1 / +3"],
    ["across and back", "1+2 / +3", (h) => turnedAcross(h, 3), "1+2 / 3+3"],
    ["across is for one alone", "1+2", (h) => turnedAcross(h, 1), "1+2"],
    ["earlier", "1+2 / 3+4", (h) => shifted(h, 4, -1), "3+4 / 1+2"],
    ["later to the closing page", "1+2 / 3+", (h) => shifted(h, 3, 1), "1+2 / 3"],
    ["earlier to the opening page", "3+ / 1+2", (h) => shifted(h, 3, -1), "3 / 1+2"],
    ["a pair is no opening page", "1+2 / 3+4", (h) => shifted(h, 1, -1), "1+2 / 3+4"],
    ["off the opening page", "3 / 1+2", (h) => shifted(h, 3, 1), "3+ / 1+2"],
    ["off the closing page", "1+2 / 3", (h) => shifted(h, 3, -1), "1+2 / 3+"],
    ["a number that does not hang", "1+2 / 3", (h) => shifted(setApart(without(h, 7), 7), 7, 1), "1+2 / 3"],
  ];
  for (const [what, from, act, want] of cases) {
    assert.equal(written(act(read(from))), want, what);
    if (!/number|taken|added/.test(what)) assert.deepEqual(hanging(act(read(from))).sort(), hanging(read(from)).sort(), what);
  }
});
