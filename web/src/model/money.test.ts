import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { numberOf, readDecimal, readMoney, written } from "./money";

const decimals = new Map([["EUR", 2], ["USD", 2], ["CHF", 2], ["JPY", 0], ["TND", 3]]);

// The program runs the same file; what it holds was written by hand.
const cases = JSON.parse(readFileSync("../testdata/money.json", "utf8")) as { typed: string; currency: string; minor?: number }[];

for (const { typed, currency, minor } of cases) {
  test(`${JSON.stringify(typed)} in ${currency}`, () => assert.deepEqual(readMoney(typed, currency, decimals), minor === undefined ? undefined : { minor, currency }));
}

test("what was read is written so that it is read again", () => {
  for (const [minor, currency, words] of [[123450, "EUR", "EUR 1,234.50"], [-5, "EUR", "EUR −0.05"], [0, "EUR", "EUR 0.00"], [1234567, "JPY", "JPY 1,234,567"], [1234, "TND", "TND 1.234"], [12300, "USD", "USD 123.00"]] as const) {
    const m = { minor, currency };
    assert.equal(written(m, decimals), words);
    assert.deepEqual(readMoney(words, currency, decimals), m);
    assert.deepEqual(readMoney(numberOf(m, decimals), currency, decimals), m);
  }
});

test("a rate is read with a point or a comma", () => {
  assert.equal(readDecimal(" 1,0837 "), "1.0837");
  assert.equal(readDecimal("22"), "22");
  for (const typed of ["", "1.0.8", "x", "-1", "1e3"]) assert.equal(readDecimal(typed), undefined, typed);
});
