import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { actWords, breakWords, otherCurrency, plotOf, plotSizes, recast, ticks, turnedWords, type Inquiry } from "./inquiry";

const size = plotSizes.wide;
const eur = (minor: number): api.Money => ({ minor, currency: "EUR" });
const fit = (setUp: number, hundred: number, at: number[]): api.CostFit => ({
  method: "as quoted", setUp: eur(setUp), runOn: { amount: eur(hundred), per: 100 }, off: eur(0),
  points: at.map((copies) => ({ copies, cost: eur(setUp + (hundred * copies) / 100) })),
});
const row = (quote: number, f: api.CostFit | undefined): api.QuoteRow => ({ quote, printer: quote, landed: [], leftOut: [], expires: "", holding: "holds", ...(f ? { fit: f } : {}) });

function inquiry(rows: api.QuoteRow[], breaks: api.BreakEven[]): Inquiry {
  const quotes = rows.map((r) => ({ number: r.quote, act: 1, at: "", is: { printer: r.printer } }));
  const printers = rows.map((r) => ({ number: r.printer, act: 1, is: { name: `Press ${r.printer}`, contact: "", note: "", asked: [] }, letter: "", moved: false }));
  return { quotes, printers, comparison: { copies: [50, 100, 200], rows, cheapest: [], breaks } } as unknown as Inquiry;
}

test("lines begin at the set-up, go through their own prices and cross at the break-even", () => {
  const of = inquiry([row(1, fit(10000, 60000, [50, 100, 200])), row(2, fit(60000, 20000, [50, 100, 200]))], [{ below: 1, from: 2, copies: 126 }]);
  const plot = plotOf(of, size)!;
  const y = (d: string) => Number(/M0 ([\d.]+)/.exec(d)![1]);
  assert.ok(y(plot.lines[0]!.d) > y(plot.lines[1]!.d), "the higher set-up stands higher");
  assert.equal(plot.breaks.length, 1);
  const [b] = plot.breaks;
  assert.ok(b!.at > 0 && b!.at < size.width && b!.y > 0 && b!.y < size.height);
  for (const line of plot.lines) for (const [px, py] of line.points) assert.ok(px >= 0 && px <= size.width && py >= 0 && py <= size.height);
});

test("letters at the ends of lines that meet there stand apart", () => {
  const plot = plotOf(inquiry([row(1, fit(100, 100, [100])), row(2, fit(100, 100, [100])), row(3, fit(100, 101, [100]))], []), size)!;
  const ends = plot.lines.map((l) => l.end[1]).sort((a, b) => a - b);
  assert.ok(ends[1]! - ends[0]! >= 15 && ends[2]! - ends[1]! >= 15, String(ends));
});

test("without a line there is no picture", () => assert.equal(plotOf(inquiry([row(1, undefined)], []), size), undefined));

test("a plan in another currency is read with the same numbers", () => {
  const plan: api.PricePlan = { price: eur(2450), tax: "4", free: 0, quote: 0, once: [{ name: "scans", amount: eur(9000) }], perCopy: [], channels: [{ name: "shop", discount: "40", fee: "", share: 1, feeEach: eur(35) }] };
  const places = new Map([["EUR", 2], ["JPY", 0], ["USD", 2]]);
  assert.ok(otherCurrency(plan, "USD") && !otherCurrency(plan, "EUR"));
  const usd = recast(plan, "USD", places);
  assert.deepEqual([usd.price, usd.once[0]!.amount, usd.channels[0]!.feeEach, usd.cost], [{ minor: 2450, currency: "USD" }, { minor: 9000, currency: "USD" }, { minor: 35, currency: "USD" }, undefined]);
  assert.ok(!otherCurrency(usd, "USD"));
  assert.deepEqual(recast(plan, "JPY", places).price, { minor: 24, currency: "JPY" });
});

test("ticks are round numbers", () => {
  assert.deepEqual(ticks(212, 6), [0, 50, 100, 150, 200]);
  assert.deepEqual(ticks(1, 6), [0, 1]);
});

test("break-even and acts in words", () => {
  const of = inquiry([row(1, undefined), row(2, undefined)], [{ below: 1, from: 2, copies: 126 }]);
  assert.equal(breakWords(of, of.comparison.breaks[0]!), "Below 126 copies A is cheaper, from 126 on B.");
  assert.equal(breakWords(of, { below: 1, from: 2, copies: 1 }), "B is cheaper than A at every number of copies.");
  assert.equal(actWords(of, { kind: "quote", number: 2, did: "change" }), "change the quote of Press 2");
  assert.equal(turnedWords({ ...of, quotes: [] }, of, { kind: "quote", number: 2, did: "add" }), "add the quote of Press 2");
  assert.equal(actWords(of, { kind: "printer", number: 9, did: "take out" }), "take out a printer");
});
