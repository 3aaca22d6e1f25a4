// The wall as a value, as package sequence of the program has it: the same
// words, the same rules, the same refusals. Nothing here knows the screen.

import { checkChapters } from "./chapter";

/** The number on a photo's card, from 1 upwards within its title. 0 is no photo: a blank. */
export type PhotoID = number;

/** Names a spread for as long as the title lives. */
export type SpreadID = number;

/** Names a chapter for as long as the title lives. 0 is none. */
export type ChapterID = number;

/** Opening is page 1, a right page alone; closing is the last page, a left page alone. */
export type Side = "left" | "right" | "opening" | "closing";

/** One page of the wall. `spread` is 0 for opening and closing. */
export interface Page {
  readonly spread: SpreadID;
  readonly side: Side;
}

/** Two facing pages. Either may be blank (0). */
export interface Spread {
  readonly id: SpreadID;
  readonly left: PhotoID;
  readonly right: PhotoID;
  readonly across: boolean; // the photo in left crosses the gutter; right is 0
  readonly pinned: boolean; // automatic arranging leaves it as and where it is
  readonly chapter: ChapterID;
  readonly note: string; // why these two, in the maker's words
}

/** A named run of spreads; which it holds is said by the spreads. */
export interface Chapter {
  readonly id: ChapterID;
  readonly name: string; // one line in any script
}

/** The wall and the box. What is in neither lies on the table. */
export interface Sequence {
  readonly revision: number;
  readonly opening: PhotoID;
  readonly spreads: readonly Spread[];
  readonly closing: PhotoID;
  readonly box: readonly PhotoID[]; // ascending
  readonly last: SpreadID; // the highest spread number ever given
  readonly line: number; // the line of work it belongs to; 0 is the first
  readonly chapters: readonly Chapter[]; // ascending by number
  readonly lastChapter: ChapterID; // the highest chapter number ever given
}

/** What the maker reads when something cannot be done, and what the program tells apart. */
export interface Refusal {
  readonly code: string; // the codes of the program: "stale", "invalid", …
  readonly message: string; // one plain sentence
  readonly hint: string; // what to do about it; may be empty
}

export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly refusal: Refusal };

export function done<T>(value: T): Outcome<T> {
  return { ok: true, value };
}

export function refused(message: string, hint = "", code = "invalid"): { ok: false; refusal: Refusal } {
  return { ok: false, refusal: { code, message, hint } };
}

export const opening: Page = { spread: 0, side: "opening" };
export const closing: Page = { spread: 0, side: "closing" };

export function samePage(a: Page, b: Page): boolean {
  return a.spread === b.spread && a.side === b.side;
}

export function sameSpread(a: Spread, b: Spread): boolean {
  return a.id === b.id && a.left === b.left && a.right === b.right && a.across === b.across && a.pinned === b.pinned &&
    a.chapter === b.chapter && a.note === b.note;
}

export function sameSequence(a: Sequence, b: Sequence): boolean {
  return a.revision === b.revision && a.opening === b.opening && a.closing === b.closing && a.last === b.last && a.line === b.line && a.lastChapter === b.lastChapter &&
    a.chapters.length === b.chapters.length && a.chapters.every((c, i) => c.id === b.chapters[i]!.id && c.name === b.chapters[i]!.name) &&
    a.box.length === b.box.length && a.box.every((id, i) => id === b.box[i]) &&
    a.spreads.length === b.spreads.length && a.spreads.every((s, i) => sameSpread(s, b.spreads[i]!));
}

/** The position of a spread in reading order, or -1. */
export function indexOf(q: Sequence, id: SpreadID): number {
  const { spreads } = q; // a loop: this is asked most of all, and a function for each spread is slow until it is compiled
  for (let i = 0; i < spreads.length; i++) if (spreads[i]!.id === id) return i;
  return -1;
}

/** The photo on a page, 0 for a blank one, undefined when there is no such page. */
export function at(q: Sequence, page: Page): PhotoID | undefined {
  if (page.side === "opening" || page.side === "closing") {
    if (page.spread !== 0) return undefined;
    return page.side === "opening" ? q.opening : q.closing;
  }
  if (page.side !== "left" && page.side !== "right") return undefined; // a page read off JSON may say anything
  return q.spreads[indexOf(q, page.spread)]?.[page.side];
}

/** Every page in reading order. */
export function pages(q: Sequence): Page[] {
  const all: Page[] = [opening];
  for (const s of q.spreads) all.push({ spread: s.id, side: "left" }, { spread: s.id, side: "right" });
  all.push(closing);
  return all;
}

/** The photos on the wall in reading order. */
export function onWall(q: Sequence): PhotoID[] {
  const list = [q.opening];
  for (const s of q.spreads) list.push(s.left, s.right);
  list.push(q.closing);
  return list.filter((id) => id !== 0);
}

/** n spreads with an opening and a closing page make 2n+2 pages. */
export function pageCount(q: Sequence): number {
  return 2 * q.spreads.length + 2;
}

/** The number printed on a page; 0 when there is no such page. */
export function pageNumber(q: Sequence, page: Page): number {
  if (page.side === "opening") return 1;
  if (page.side === "closing") return pageCount(q);
  const i = indexOf(q, page.spread);
  if (i < 0) return 0;
  return page.side === "left" ? 2 * i + 2 : 2 * i + 3;
}

/** Those of all that lie neither on the wall nor in the box, in the order given. */
export function onTable(q: Sequence, all: readonly PhotoID[]): PhotoID[] {
  const away = new Set([...onWall(q), ...q.box]);
  return all.filter((id) => !away.has(id));
}

/** Where a photo lies. */
export type Lying = { readonly on: "page"; readonly page: Page } | { readonly on: "box" } | { readonly on: "table" };

export function lying(q: Sequence, photo: PhotoID): Lying {
  if (photo === q.opening && photo !== 0) return { on: "page", page: opening };
  if (photo === q.closing && photo !== 0) return { on: "page", page: closing };
  for (const s of q.spreads) {
    if (s.left === photo) return { on: "page", page: { spread: s.id, side: "left" } };
    if (s.right === photo) return { on: "page", page: { spread: s.id, side: "right" } };
  }
  return q.box.includes(photo) ? { on: "box" } : { on: "table" };
}

/** What is noted of the spread a photo lies on; "" for nothing. */
export function whyOf(q: Sequence, photo: PhotoID): string {
  return q.spreads.find((s) => s.left === photo || s.right === photo)?.note ?? "";
}

export function paired(s: Spread): boolean {
  return s.left !== 0 && s.right !== 0;
}

export function empty(s: Spread): boolean {
  return s.left === 0 && s.right === 0;
}

/**
 * The first rule of the wall that q breaks, undefined when it breaks none: a
 * photo lies in one place only, a spread's number is used once, a photo across
 * the gutter leaves no room for another, and a chapter is an unbroken run.
 */
export function check(q: Sequence): Refusal | undefined {
  if (q.line < 0) return refused(`There is no line of work ${q.line}.`).refusal;
  const seen = new Set<PhotoID>();
  for (const id of [...onWall(q), ...q.box]) {
    if (id < 0) return refused(`There is no photo ${id}.`).refusal;
    if (seen.has(id)) {
      return refused(`Photo ${id} would lie in two places at once.`, "Take it off one of them first.").refusal;
    }
    seen.add(id);
  }
  const known = new Set<SpreadID>();
  for (const s of q.spreads) {
    if (s.id <= 0 || s.id > q.last || known.has(s.id)) {
      return refused(`Spread number ${s.id} cannot be used here.`).refusal;
    }
    known.add(s.id);
    if (s.across && (s.left === 0 || s.right !== 0)) {
      return refused("A photo across the gutter needs both pages of its spread.", "Free the facing page first.").refusal;
    }
  }
  return checkChapters(q);
}

/** A spread as JSON carries it: what is 0 or false may be left out. */
export type LooseSpread = Partial<Spread> & { id: SpreadID };
export type LooseSequence = Partial<Omit<Sequence, "spreads" | "box" | "chapters">> & {
  chapters?: readonly Chapter[] | null;
  spreads?: readonly LooseSpread[] | null;
  box?: readonly PhotoID[] | null;
};

export function readSpread(s: LooseSpread): Spread {
  return { id: s.id, left: s.left ?? 0, right: s.right ?? 0, across: s.across ?? false, pinned: s.pinned ?? false, chapter: s.chapter ?? 0, note: s.note ?? "" };
}

export function readSequence(q: LooseSequence): Sequence {
  return {
    revision: q.revision ?? 0,
    opening: q.opening ?? 0,
    spreads: (q.spreads ?? []).map(readSpread),
    closing: q.closing ?? 0,
    box: q.box ?? [],
    last: q.last ?? 0,
    line: q.line ?? 0,
    chapters: q.chapters ?? [],
    lastChapter: q.lastChapter ?? 0,
  };
}
