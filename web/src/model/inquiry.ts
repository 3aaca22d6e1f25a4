// What printers are asked and answer, in words and as a picture: values without
// a page.

import type * as api from "../net/api";
import type { Decimals } from "./money";
import { written } from "./money";

export type Inquiry = api.InquiryShown;

export const decimalsOf = (of: Inquiry): Decimals => new Map(of.currencies.map((c) => [c.code, c.decimals]));

export function printerName(of: Inquiry, printer: number): string {
  return of.printers.find((p) => p.number === printer)?.is.name ?? `printer ${printer}`;
}

/** A letter for each quote, by which table and picture name it. */
export function letterOf(of: Inquiry, quote: number): string {
  const at = of.quotes.findIndex((q) => q.number === quote);
  return at < 26 ? String.fromCharCode(65 + at) : `${at + 1}`;
}

/** "A, Tipografia Immaginaria". */
export function quoteName(of: Inquiry, quote: number): string {
  const found = of.quotes.find((q) => q.number === quote);
  return found ? `${letterOf(of, quote)}, ${printerName(of, found.is.printer)}` : `quote ${quote}`;
}

/** "change the quote of Tipografia Immaginaria": what undo and redo would turn. */
export function actWords(of: Inquiry, act: api.InquiryAct): string {
  if (act.kind === "specification") return "change the specification";
  if (act.kind === "terms") return "change how quotes are compared";
  if (act.kind === "price") return "change the price";
  if (act.kind === "printer") {
    const name = of.printers.find((p) => p.number === act.number)?.is.name;
    return `${act.did} ${name ? `the printer ${name}` : "a printer"}`;
  }
  const quote = of.quotes.find((q) => q.number === act.number);
  return `${act.did} ${quote ? `the quote of ${printerName(of, quote.is.printer)}` : "a quote"}`;
}

/** The same of an act that has added or taken something out, by whichever of the two states has it. */
export function turnedWords(before: Inquiry, after: Inquiry, act: api.InquiryAct): string {
  const has = (of: Inquiry) => of[act.kind === "printer" ? "printers" : "quotes"].some((e) => e.number === act.number);
  return actWords(has(before) ? before : after, act);
}

/** Where the cheaper of two changes: "Below 143 copies A is cheaper, from 143 on B." */
export function breakWords(of: Inquiry, b: api.BreakEven): string {
  const [below, from] = [letterOf(of, b.below), letterOf(of, b.from)];
  if (b.copies <= 1) return `${from} is cheaper than ${below} at every number of copies.`;
  return `Below ${b.copies} copies ${below} is cheaper, from ${b.copies} on ${from}.`;
}

export const itemWords: Readonly<Record<api.CostItem["state"], string>> = { amount: "", included: "in the price", missing: "not said", "not asked": "not asked for" };

/** An amount, or the words for one that is not known. */
export function orMissing(m: api.Money | undefined, decimals: Decimals, words = "not known"): string {
  return m ? written(m, decimals) : words;
}

/** Whether a plan has amounts in another currency than the maker compares in now. */
export function otherCurrency(plan: api.PricePlan, currency: string): boolean {
  const amounts = [plan.price, plan.cost, ...plan.once.map((f) => f.amount), ...plan.perCopy.map((f) => f.amount), ...plan.channels.map((c) => c.feeEach)];
  return amounts.some((m) => m && m.currency !== currency);
}

/** The plan with the same numbers in another currency; decimals that it does not have are cut off. */
export function recast(plan: api.PricePlan, currency: string, decimals: Decimals): api.PricePlan {
  const places = decimals.get(currency) ?? 2;
  const one = (m: api.Money): api.Money => ({ currency, minor: Math.trunc(m.minor * 10 ** (places - (decimals.get(m.currency) ?? 2))) });
  const fees = (list: readonly api.Fee[]) => list.map((f) => ({ ...f, amount: one(f.amount) }));
  return {
    ...plan, once: fees(plan.once), perCopy: fees(plan.perCopy), channels: plan.channels.map((c) => ({ ...c, ...(c.feeEach ? { feeEach: one(c.feeEach) } : {}) })),
    ...(plan.price ? { price: one(plan.price) } : {}), ...(plan.cost ? { cost: one(plan.cost) } : {}),
  };
}

export interface PlotLine {
  readonly quote: number;
  readonly letter: string;
  readonly d: string;
  readonly points: readonly (readonly [x: number, y: number])[];
  readonly end: readonly [x: number, y: number]; // where its letter stands
}

export interface Plot {
  readonly size: PlotSize;
  readonly lines: readonly PlotLine[];
  readonly across: readonly { readonly at: number; readonly words: string }[]; // copies
  readonly up: readonly { readonly at: number; readonly minor: number }[]; // money
  readonly breaks: readonly { readonly at: number; readonly y: number; readonly copies: number }[];
}

/** The inner size of the picture, in its own units; a narrow window has a narrow one, with words as large. */
export interface PlotSize {
  readonly width: number;
  readonly height: number;
}
export const plotSizes: Readonly<Record<"wide" | "narrow", PlotSize>> = { wide: { width: 640, height: 300 }, narrow: { width: 200, height: 220 } };

/** What so many copies cost by each quote's line, in minor units. */
function costAt(fit: api.CostFit, copies: number): number {
  return fit.setUp.minor + (fit.runOn.amount.minor * copies) / fit.runOn.per;
}

/** The quotes' lines with their own prices, and where they cross. Undefined when no quote has a line. */
export function plotOf(of: Inquiry, size: PlotSize): Plot | undefined {
  const rows = of.comparison.rows.filter((r) => r.fit);
  if (rows.length === 0) return undefined;
  const named = of.comparison.breaks.filter((b) => b.copies > 1);
  const largest = Math.max(...of.comparison.copies, ...rows.flatMap((r) => r.fit!.points.map((p) => p.copies)));
  const most = Math.max(largest, ...named.map((b) => b.copies).filter((n) => n <= 2 * largest)) * 1.06;
  const top = Math.max(1, ...rows.flatMap((r) => [costAt(r.fit!, most), ...r.fit!.points.map((p) => p.cost.minor)])) * 1.04;
  const x = (copies: number) => (copies / most) * size.width;
  const y = (minor: number) => size.height - (minor / top) * size.height;
  const lines = rows.map((r) => ({
    quote: r.quote, letter: letterOf(of, r.quote),
    d: `M0 ${round(y(costAt(r.fit!, 0)))}L${round(size.width)} ${round(y(costAt(r.fit!, most)))}`,
    points: r.fit!.points.map((p) => [round(x(p.copies)), round(y(p.cost.minor))] as const),
    end: [size.width, round(y(costAt(r.fit!, most)))] as const,
  }));
  return {
    size, lines: spread(lines), across: ticks(most, size.width / 90).map((n) => ({ at: round(x(n)), words: String(n) })),
    up: ticks(top, 5).map((n) => ({ at: round(y(n)), minor: n })),
    breaks: named.filter((b) => b.copies <= most).map((b) => ({ at: round(x(b.copies)), copies: b.copies, y: round(y(costAt(rows.find((r) => r.quote === b.from)!.fit!, b.copies))) })),
  };
}

const round = (v: number) => Math.round(v * 10) / 10;

/** Letters at the ends of lines must not lie on one another. */
function spread(lines: readonly PlotLine[]): PlotLine[] {
  const least = 15;
  let last = -Infinity;
  const moved = new Map<number, number>();
  for (const line of [...lines].sort((a, b) => a.end[1] - b.end[1])) {
    last = Math.max(line.end[1], last + least);
    moved.set(line.quote, last);
  }
  return lines.map((l) => ({ ...l, end: [l.end[0], moved.get(l.quote)!] as const }));
}

/** Round numbers from 0 to most: about so many, at steps of 1, 2 or 5 times a power of ten. */
export function ticks(most: number, about: number): number[] {
  const raw = Math.max(most / about, 1);
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((f) => f * power).find((s) => s >= raw)!;
  return Array.from({ length: Math.floor(most / step) + 1 }, (_, i) => i * step);
}
