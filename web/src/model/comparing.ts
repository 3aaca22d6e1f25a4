// Two walls held against each other: what is written beside each of their
// spreads, and which spread of one is which of the other.

import type * as api from "../net/api";
import { readSpread, type PhotoID, type Sequence, type Spread } from "./sequence";

/** One side of a comparison: a version's number, or the present wall. */
export type SideOf = number | "present";

export interface CompareRow {
  readonly key: string;
  readonly spread: Spread; // opening and closing page are a spread with one side, numbered -1 and -2
  readonly words: string; // "broken", "new", "moved to the front", "" when it hangs alike
  readonly only: boolean; // it hangs so on this wall alone
}

export interface Link {
  readonly from: number; // index among the rows of the earlier wall
  readonly to: number;
  readonly moved: boolean;
}

export interface Comparing {
  readonly earlier: readonly CompareRow[];
  readonly later: readonly CompareRow[];
  readonly links: readonly Link[];
}

/** What the page draws of a comparison. */
export function comparing(earlier: Sequence, later: Sequence, diff: api.Diff): Comparing {
  const lifted = new Map(diff.lifted.flatMap((l) => l.photos.map((photo) => [photo, l.to] as const)));
  const pairs = (list: readonly (readonly number[])[]) => new Set(list.map((p) => p.join(" ")));
  const broken = pairs(diff.broken), fresh = pairs(diff.new), turned = pairs(diff.turned);
  const [gone, come] = [new Set(diff.gone), new Set(diff.come)];
  const rows = (q: Sequence, pairWords: (p: string) => string, alone: (photo: PhotoID) => string) => rowsOf(q).map((spread): CompareRow => {
    const own = photosOf(spread);
    const pair = own.length === 2 ? [...own].sort((a, b) => a - b).join(" ") : "";
    const said = pair ? pairWords(pair) : own.length === 1 ? alone(own[0]!) : "";
    return { key: `${spread.id}`, spread, words: said, only: said !== "" && !said.startsWith("moved") && !said.startsWith("turned") };
  });
  const moved = (photo: PhotoID) => (lifted.has(photo) ? `moved ${whither[lifted.get(photo)!]}` : "");
  const one = rows(earlier, (p) => (broken.has(p) ? "broken" : ""), (photo) => (gone.has(photo) ? "gone" : ""));
  const other = rows(later,
    (p) => [fresh.has(p) ? "new" : "", turned.has(p) ? "turned round" : "", fresh.has(p) ? "" : moved(Number(p.split(" ")[0]))].filter(Boolean).join(", "),
    (photo) => (come.has(photo) ? "came" : moved(photo)));
  return { earlier: one, later: other, links: links(one, other, lifted) };
}

const whither: Record<string, string> = { front: "to the front", earlier: "forward", later: "back", end: "to the end" };

/** Opening page, spreads and closing page, each as a spread; pages that are blank and alone are left out. */
function rowsOf(q: Sequence): Spread[] {
  const alone = (id: number, left: PhotoID, right: PhotoID): Spread[] => (left || right ? [readSpread({ id, left, right })] : []);
  return [...alone(-1, 0, q.opening), ...q.spreads, ...alone(-2, q.closing, 0)];
}

function photosOf(s: Spread): PhotoID[] {
  return [s.left, s.right].filter((id) => id !== 0);
}

/** Rows of both walls that share a photo; of two that a row shares photos with, both. */
function links(earlier: readonly CompareRow[], later: readonly CompareRow[], lifted: ReadonlyMap<PhotoID, string>): Link[] {
  const at = new Map<PhotoID, number>();
  later.forEach((row, i) => photosOf(row.spread).forEach((photo) => at.set(photo, i)));
  const list: Link[] = [];
  earlier.forEach((row, from) => {
    for (const to of new Set(photosOf(row.spread).flatMap((photo) => at.get(photo) ?? []))) {
      const shared = photosOf(row.spread).filter((photo) => at.get(photo) === to);
      list.push({ from, to, moved: shared.some((photo) => lifted.has(photo)) });
    }
  });
  return list;
}

/** Kendall's tau as one would say it beside its figure. */
export function tauWords(tau: number | undefined): string {
  if (tau === undefined) return "fewer than two photos hang on both";
  if (tau === 1) return "the same order";
  if (tau > 0.8) return "nearly the same order";
  if (tau > 0.4) return "much of the order stayed";
  if (tau > -0.4) return "little of the order stayed";
  return tau === -1 ? "the order turned round" : "much of the order turned round";
}
