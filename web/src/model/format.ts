// The format of a title: lengths as the maker types and reads them, sizes by
// name, and what a binding asks of the gutter.

import type * as api from "../net/api";

export type Unit = api.Format["unit"];

const inch = 25.4; // mm, exactly
const tiny = 0.001; // mm, far below any knife

/**
 * A length in millimetres as the maker typed it, in their unit unless they name
 * another: "3", "3,5 mm", "1/8 in", "5 1/2\"". Undefined for what is no length.
 */
export function typedLength(text: string, unit: Unit): number | undefined {
  const found = /^\s*(?:(\d+(?:[.,]\d+)?|[.,]\d+))?(?:\s*(\d+)\s*\/\s*(\d+))?\s*(mm|cm|in|inch|inches|"|″)?\s*$/i.exec(text);
  if (!found || (found[1] === undefined && found[2] === undefined)) return undefined;
  let whole = found[1];
  let over = found[2];
  if (over !== undefined && whole !== undefined && !/\d\s+\d+\s*\//.test(text)) { // "11/8" is eleven eighths
    over = whole + over;
    whole = undefined;
  }
  const fraction = over === undefined ? 0 : Number(over) / Number(found[3]);
  const n = Number((whole ?? "0").replace(",", ".")) + fraction;
  const of = (found[4] ?? unit).toLowerCase();
  return Number.isFinite(n) ? n * (of === "mm" ? 1 : of === "cm" ? 10 : inch) : undefined;
}

/** A length as the maker reads it, without its unit: "3", "0.125". */
export function lengthText(mm: number, unit: Unit): string {
  return unit === "in" ? String(Number((mm / inch).toFixed(3))) : String(Number(mm.toFixed(2)));
}

export const withUnit = (mm: number, unit: Unit) => `${lengthText(mm, unit)} ${unit}`;

type Size = api.Format["trim"];

export const same = (a: Size, b: Size) => Math.abs(a.width - b.width) < tiny && Math.abs(a.height - b.height) < tiny;
export const turned = ({ width, height }: Size): Size => ({ width: height, height: width });
export const lying = ({ width, height }: Size) => width > height + tiny;
export const square = ({ width, height }: Size) => Math.abs(width - height) < tiny;

/** The named size a trim has, standing or lying; undefined for an own one. */
export function namedSize(trim: Size, sizes: readonly api.TrimSize[]): api.TrimSize | undefined {
  return sizes.find((s) => same(trim, s) || same(trim, turned(s)));
}

/** "A5", "A5 lying", "150 × 190 mm". */
export function sizeText({ trim, unit }: api.Format, sizes: readonly api.TrimSize[]): string {
  const named = namedSize(trim, sizes);
  if (!named) return `${lengthText(trim.width, unit)} × ${lengthText(trim.height, unit)} ${unit}`;
  return same(trim, named) ? named.name : `${named.name} lying`;
}

/** The format with a binding, and what it asks of the gutter unless more was asked for. As Format.Bound of the program. */
export function bound(f: api.Format, binding: api.Format["binding"], list: api.FormatList): api.Format {
  const glued = binding === "perfect-bound" || binding === "hard-case";
  const swallow = glued ? list.hides : 0;
  return { ...f, binding, swallow, margins: glued ? { ...f.margins, inner: Math.max(f.margins.inner, list.inner + list.hides) } : f.margins };
}

/** The thickness of one leaf in mm; 0 while neither caliper nor grammage and bulk are known. */
export const thickness = ({ caliper, grammage, bulk }: api.Paper) => (caliper > 0 ? caliper : (grammage * bulk) / 1000);

/** What does not fit now and did before. Pages may have other numbers, so photo and kind count too. */
export function newMisfits(before: readonly api.Misfit[], now: readonly api.Misfit[]): api.Misfit[] {
  const key = (m: api.Misfit) => `${m.kind} ${m.photo ?? `page ${m.page ?? 0}`}`;
  const had = new Set(before.map(key));
  return now.filter((m) => !had.has(key(m)));
}
