// What is carried, where it can be put, and what that would do: the same for a
// hand that drags, a finger that chooses and a keyboard that walks.

import { build, type Intent } from "./acts";
import { apply, type Change } from "./change";
import { chapterOf, runOf } from "./chapter";
import { hostAt } from "./chaptering";
import { laid, push } from "./laying";
import {
  at, indexOf, lying, onWall, pages, paired, samePage,
  type ChapterID, type Page, type PhotoID, type Sequence, type SpreadID,
} from "./sequence";
import { betweenText, lyingText, pageLabel, pagesText, photosText, sentence } from "./words";

/** What is in the hand. */
export type Carried = One | { readonly kind: "photos"; readonly photos: readonly PhotoID[] }; // several, in the order they were chosen

/** One thing that can be pointed at. */
export type One =
  | { readonly kind: "photo"; readonly photo: PhotoID }
  | { readonly kind: "spread"; readonly spread: SpreadID }
  | { readonly kind: "chapter"; readonly chapter: ChapterID };

/** Whether whole spreads are carried, so that they go between others and never onto a page. */
export function carriesSpreads(carried: Carried): carried is One & { kind: "spread" | "chapter" } {
  return carried.kind === "spread" || carried.kind === "chapter";
}

/** The photos in the hand; none while a spread is. */
export function photosOf(carried: Carried): readonly PhotoID[] {
  return carried.kind === "photo" ? [carried.photo] : carried.kind === "photos" ? carried.photos : [];
}

/** Where it can be put down. Index counts the places between spreads from 0. */
export type Target =
  | { readonly kind: "page"; readonly page: Page; readonly push?: boolean } // push: what lies there moves on, instead of swapping
  | { readonly kind: "between"; readonly index: number }
  | { readonly kind: "table" }
  | { readonly kind: "box" };

export function sameTarget(a: Target | undefined, b: Target | undefined): boolean {
  if (!a || !b || a.kind !== b.kind) return a === b;
  if (a.kind === "page" && b.kind === "page") return samePage(a.page, b.page) && (a.push ?? false) === (b.push ?? false);
  if (a.kind === "between" && b.kind === "between") return a.index === b.index;
  return true;
}

/** Whether what lies on a page could be pushed on, instead of being swapped. */
export function pushable(q: Sequence, carried: Carried, page: Page): boolean {
  const there = at(q, page) ?? 0;
  const across = q.spreads[indexOf(q, page.spread)]?.across;
  return !carriesSpreads(carried) && there !== 0 && !across && page.side !== "closing" && !photosOf(carried).includes(there);
}

/** What putting it there would mean; undefined when it would change nothing. */
export function intentFor(q: Sequence, carried: Carried, target: Target): Intent | undefined {
  if (carried.kind === "spread") return spreadIntent(q, carried.spread, target);
  if (carried.kind === "chapter") return chapterIntent(q, carried.chapter, target);
  if (target.kind === "page" && target.push && pushable(q, carried, target.page)) return { want: "push", photos: photosOf(carried), page: target.page };
  if (target.kind === "table" || target.kind === "box") return trayIntent(q, photosOf(carried), target.kind);
  if (carried.kind === "photos") return severalIntent(q, carried.photos, target);
  const { photo } = carried;
  if (target.kind === "page") return at(q, wholePage(q, target.page)) === photo ? undefined : { want: "place", photo, page: target.page };
  const lies = lying(q, photo);
  const i = lies.on === "page" ? indexOf(q, lies.page.spread) : -1;
  const source = q.spreads[i];
  const same = source && !paired(source) && (target.index === i || target.index === i + 1);
  return same ? undefined : { want: "openSpread", photo, index: target.index };
}

function trayIntent(q: Sequence, photos: readonly PhotoID[], tray: "table" | "box"): Intent | undefined {
  if (photos.every((photo) => lying(q, photo).on === tray)) return undefined;
  return { want: tray === "table" ? "toTable" : "toBox", photos };
}

function severalIntent(q: Sequence, photos: readonly PhotoID[], target: Target & { kind: "page" | "between" }): Intent | undefined {
  if (target.kind === "between") return { want: "hang", photos, index: target.index };
  return laid(q, photos, target.page) ? undefined : { want: "lay", photos, page: target.page };
}

function spreadIntent(q: Sequence, spread: SpreadID, target: Target): Intent | undefined {
  if (target.kind === "table") return { want: "removeSpread", spread };
  if (target.kind !== "between") return undefined;
  const i = indexOf(q, spread);
  if (i < 0 || target.index === i || target.index === i + 1) return undefined;
  return { want: "moveSpread", spread, to: target.index > i ? target.index - 1 : target.index };
}

function chapterIntent(q: Sequence, chapter: ChapterID, target: Target): Intent | undefined {
  const run = runOf(q, chapter);
  if (target.kind !== "between" || !run) return undefined;
  const index = outside(q, chapter, target.index);
  return index >= run.first && index <= run.last + 1 ? undefined : { want: "moveChapter", chapter, index };
}

/** A chapter does not go inside another: the nearer end of that one is meant. */
export function outside(q: Sequence, chapter: ChapterID, index: number): number {
  const host = hostAt(q, index);
  const run = host && host.id !== chapter ? runOf(q, host.id) : undefined;
  if (!run) return index;
  return index - run.first <= run.last + 1 - index ? run.first : run.last + 1;
}

/** A photo across the gutter lies in the left page, whichever half is pointed at. */
function wholePage(q: Sequence, page: Page): Page {
  return q.spreads[indexOf(q, page.spread)]?.across ? { spread: page.spread, side: "left" } : page;
}

/** The few words written on a target before letting go; "" where nothing would change. */
export function targetWords(q: Sequence, carried: Carried, target: Target): string {
  const intent = intentFor(q, carried, target);
  if (!intent) return "";
  if (carried.kind === "chapter") return "move the chapter here";
  if (carried.kind === "spread") return target.kind === "table" ? "both pages to the table" : "move here";
  const several = carried.kind === "photos" ? carried.photos.length : 0;
  switch (target.kind) {
    case "between": return several ? `${several} in new spreads here` : "new spread here";
    case "table": return several ? `${several} on the table` : "on the table";
    case "box": return several ? `set ${several} aside` : "set aside";
    case "page": {
      if (intent.want === "push") return pushWords(q, intent.photos, intent.page);
      return several ? layWords(q, carried as Carried & { kind: "photos" }, intent) : placeWords(q, photosOf(carried)[0]!, target.page);
    }
  }
}

function placeWords(q: Sequence, photo: PhotoID, page: Page): string {
  const there = at(q, wholePage(q, page)) ?? 0;
  if (there === 0) return "put here";
  if (q.spreads[indexOf(q, page.spread)]?.across) return `put beside ${there}`;
  return lying(q, photo).on === "page" ? `swap with ${there}` : `put here, ${there} to the table`;
}

/** "put here; 4 and 5 move on, to page 7". */
function pushWords(q: Sequence, photos: readonly PhotoID[], page: Page): string {
  const pushed = push(q, photos, page);
  if (!pushed.ok) return pushed.refusal.message;
  const { moved, end } = pushed.value;
  return `put here; ${photosText(moved)} ${moved.length === 1 ? "moves" : "move"} on, to ${end}`;
}

/** What several laid onto pages do to those that lie there. */
function layWords(q: Sequence, carried: Carried & { kind: "photos" }, intent: Intent): string {
  const built = build(q, intent);
  if (!built.ok) return built.refusal.message;
  const after = apply(q, built.value);
  if (!after.ok) return after.refusal.message;
  const stay = new Set(onWall(after.value));
  const others = onWall(q).filter((photo) => !carried.photos.includes(photo));
  const gone = others.filter((photo) => !stay.has(photo));
  const swapped = others.filter((photo) => stay.has(photo) && lyingText(q, photo) !== lyingText(after.value, photo) && moves(built.value, photo));
  const parts = [`put ${carried.photos.length} here`];
  if (swapped.length > 0) parts.push(`swap with ${photosText(swapped)}`);
  if (gone.length > 0) parts.push(`${photosText(gone)} to the table`);
  return parts.join(", ");
}

/** Whether a change lays a photo itself, and does not only move the pages it lies on. */
function moves(change: Change, photo: PhotoID): boolean {
  return change.steps.some((s) => s.do === "put" && s.now === photo);
}

/** The target in words for the status line. */
export function targetSpoken(q: Sequence, carried: Carried, target: Target): string {
  const would = targetWords(q, carried, target);
  switch (target.kind) {
    case "table": return "The table.";
    case "box": return "The box.";
    case "between": return sentence(betweenText(target.index) + (would ? ": " + would : ": it lies here now"));
    case "page": {
      const label = pageLabel(q, target.page);
      if (!would) return label + ": it lies here now.";
      const there = at(q, wholePage(q, target.page)) ?? 0;
      return sentence(there === 0 ? label : `${label}: ${would}`);
    }
  }
}

export function pickedUpSpoken(q: Sequence, carried: Carried): string {
  if (carried.kind === "spread") return sentence(`${pagesText(q, carried.spread)} picked up`);
  if (carried.kind === "chapter") return `Chapter “${chapterOf(q, carried.chapter)?.name ?? ""}” picked up.`;
  if (carried.kind === "photos") return `${carried.photos.length} photos picked up.`;
  return sentence(`${carried.photo} picked up from ${lyingText(q, carried.photo).replace(/^(on|in|across) /, "")}`);
}

/** Every place the keyboard walks through, in reading order; the trays come last. */
export function targetsFor(q: Sequence, carried: Carried): Target[] {
  const list: Target[] = [];
  if (carried.kind === "chapter") {
    const run = runOf(q, carried.chapter);
    for (let i = 0; i <= q.spreads.length; i++) {
      if (outside(q, carried.chapter, i) === i && (!run || i <= run.first || i > run.last + 1)) list.push({ kind: "between", index: i });
    }
    return list;
  }
  if (carried.kind === "spread") {
    for (let i = 0; i <= q.spreads.length; i++) list.push({ kind: "between", index: i });
    list.push({ kind: "table" });
    return list;
  }
  let index = 0;
  for (const page of pages(q)) {
    if (page.side === "left" || page.side === "closing") list.push({ kind: "between", index: index++ });
    list.push({ kind: "page", page });
  }
  list.push({ kind: "table" }, { kind: "box" });
  return list;
}

/** Where walking starts: where the photo lies, or the first blank page, or a new spread at the end. */
export function firstTarget(q: Sequence, carried: Carried): Target {
  if (carried.kind === "spread") return { kind: "between", index: Math.max(0, indexOf(q, carried.spread)) };
  if (carried.kind === "chapter") return { kind: "between", index: runOf(q, carried.chapter)?.first ?? 0 };
  const lies = lying(q, photosOf(carried)[0]!);
  if (lies.on === "page") return { kind: "page", page: lies.page };
  const blank = pages(q).find((page) => {
    const across = q.spreads[indexOf(q, page.spread)]?.across;
    return at(q, page) === 0 && !across;
  });
  return blank ? { kind: "page", page: blank } : { kind: "between", index: q.spreads.length };
}
