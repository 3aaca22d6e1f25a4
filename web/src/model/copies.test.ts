import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { fieldAt, foundOrders, gramsOf, lacking, linesOf, massWords, matched, newOrder, readGrams, readMm, shownCopies, tableWords, tallyWords } from "./copies";

function copy(number: number, some: Partial<api.Copy> = {}): api.Copy {
  return { series: "edition", number, mark: `${number}/9`, for: "sale", place: "here", shop: "", note: "", ...some };
}

test("only what lies here, for sale and of no order is free", () => {
  const copies = [copy(1), copy(2, { place: "sold", order: 4 }), copy(3, { for: "press" }), copy(4, { place: "damaged" })];
  assert.deepEqual(shownCopies(copies, "free").map((c) => c.number), [1]);
  assert.deepEqual(shownCopies(copies, "here").map((c) => c.number), [1, 3]);
  assert.equal(shownCopies(copies, "all").length, 4);
});

test("a tally is told in words, and nothing that is not there", () => {
  assert.equal(tallyWords({ all: 10, free: 6, by: { here: 7, sold: 3, shop: 0, given: 0, damaged: 0 }, waiting: 2 }), "6 free to sell, 3 sold, 1 here and kept, 2 ordered beyond those there are");
});

test("grams and millimetres are read as typed, and nothing else", () => {
  assert.deepEqual(["180", "180,5 g", "0.001", "-1", "", "g", "1e3", "1.2345"].map(readGrams), [180_000, 180_500, 1, undefined, undefined, undefined, undefined, undefined]);
  assert.deepEqual(["240", "0,3 mm", "3001", "x"].map(readMm), [240, 0.3, undefined, undefined]);
  assert.equal(gramsOf(180_500), "180.5");
  assert.equal(gramsOf(0), "");
  assert.equal(massWords(130_536), "130.5 g");
});

test("an order is found by whatever it says, accents and case not counting", () => {
  const order = newOrder("2026-11-26");
  const zoe: api.OrderShown = { order: { ...order, number: "A-1", to: { ...order.to, name: "Zoë Müller", town: "Piran" } }, marks: ["7/100"], label: [], doubts: [] };
  const ada: api.OrderShown = { order: { ...order, state: "sent", allotted: [{ series: "edition", number: 1 }] }, marks: [], label: [], doubts: [{ field: "town", words: "There is no town.", stops: true }] };
  const found = (typed: string, state: Parameters<typeof foundOrders>[2] = "all") => foundOrders([zoe, ada], typed, state);
  assert.deepEqual(found("MULLER piran"), [zoe]);
  assert.deepEqual(found("7/100"), [zoe]);
  assert.deepEqual(found("muller rome"), []);
  assert.deepEqual(found("", "sent"), [ada]);
  assert.deepEqual(found("", "waiting"), [zoe]);
  assert.deepEqual(found("", "doubtful"), [ada]);
});

test("a cancelled order waits for nothing", () => {
  const order = { ...newOrder(""), copies: 3 };
  assert.equal(lacking(order), 3);
  assert.equal(lacking({ ...order, state: "cancelled" }), 0);
});

test("a field has one column and a column one field", () => {
  const columns = { number: 0, name: 1 };
  assert.deepEqual(matched(columns, 2, "name"), { number: 0, name: 2 });
  assert.deepEqual(matched(columns, 0, "town"), { name: 1, town: 0 });
  assert.deepEqual(matched(columns, 1, ""), { number: 0 });
  assert.equal(fieldAt(columns, 1), "name");
  assert.equal(fieldAt(columns, 5), "");
});

test("address lines are what was typed, without empty ones", () => {
  assert.deepEqual(linesOf(" Obala 5 \n\n Staircase B"), ["Obala 5", "Staircase B"]);
});

test("a table is told by how it was read", () => {
  assert.equal(tableWords({ rows: 1, encoding: "utf-8", separator: "\t" } as api.Table), "1 row in utf-8, parted by tabs");
});
