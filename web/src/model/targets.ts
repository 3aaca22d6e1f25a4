// What is carried, where it can be put, and what that would do: the same for a
// hand that drags, a finger that chooses and a keyboard that walks.

import type { Intent } from "./acts";
import {
  at, indexOf, lying, pages, paired, samePage,
  type Page, type PhotoID, type Sequence, type SpreadID,
} from "./sequence";
import { betweenText, lyingText, pageLabel, pagesText, sentence } from "./words";

/** What is in the hand. */
export type Carried = { readonly kind: "photo"; readonly photo: PhotoID } | { readonly kind: "spread"; readonly spread: SpreadID };

/** Where it can be put down. Index counts the places between spreads from 0. */
export type Target =
  | { readonly kind: "page"; readonly page: Page }
  | { readonly kind: "between"; readonly index: number }
  | { readonly kind: "table" }
  | { readonly kind: "box" };

export function sameTarget(a: Target | undefined, b: Target | undefined): boolean {
  if (!a || !b || a.kind !== b.kind) return a === b;
  if (a.kind === "page" && b.kind === "page") return samePage(a.page, b.page);
  if (a.kind === "between" && b.kind === "between") return a.index === b.index;
  return true;
}

/** What putting it there would mean; undefined when it would change nothing. */
export function intentFor(q: Sequence, carried: Carried, target: Target): Intent | undefined {
  if (carried.kind === "spread") return spreadIntent(q, carried.spread, target);
  const { photo } = carried;
  const lies = lying(q, photo);
  switch (target.kind) {
    case "page": {
      const page = wholePage(q, target.page);
      return at(q, page) === photo ? undefined : { want: "place", photo, page: target.page };
    }
    case "between": {
      const i = lies.on === "page" ? indexOf(q, lies.page.spread) : -1;
      const source = q.spreads[i];
      const same = source && !paired(source) && (target.index === i || target.index === i + 1);
      return same ? undefined : { want: "openSpread", photo, index: target.index };
    }
    case "table": return lies.on === "table" ? undefined : { want: "toTable", photos: [photo] };
    case "box": return lies.on === "box" ? undefined : { want: "toBox", photos: [photo] };
  }
}

function spreadIntent(q: Sequence, spread: SpreadID, target: Target): Intent | undefined {
  if (target.kind === "table") return { want: "removeSpread", spread };
  if (target.kind !== "between") return undefined;
  const i = indexOf(q, spread);
  if (i < 0 || target.index === i || target.index === i + 1) return undefined;
  return { want: "moveSpread", spread, to: target.index > i ? target.index - 1 : target.index };
}

/** A photo across the gutter lies in the left page, whichever half is pointed at. */
function wholePage(q: Sequence, page: Page): Page {
  return q.spreads[indexOf(q, page.spread)]?.across ? { spread: page.spread, side: "left" } : page;
}

/** The few words written on a target before letting go; "" where nothing would change. */
export function targetWords(q: Sequence, carried: Carried, target: Target): string {
  const intent = intentFor(q, carried, target);
  if (!intent) return "";
  if (carried.kind === "spread") return target.kind === "table" ? "both pages to the table" : "move here";
  switch (target.kind) {
    case "between": return "new spread here";
    case "table": return "on the table";
    case "box": return "set aside";
    case "page": {
      const there = at(q, wholePage(q, target.page)) ?? 0;
      if (there === 0) return "put here";
      if (q.spreads[indexOf(q, target.page.spread)]?.across) return `put beside ${there}`;
      return lying(q, carried.photo).on === "page" ? `swap with ${there}` : `put here, ${there} to the table`;
    }
  }
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
  return sentence(`${carried.photo} picked up from ${lyingText(q, carried.photo).replace(/^(on|in|across) /, "")}`);
}

/** Every place the keyboard walks through, in reading order; the trays come last. */
export function targetsFor(q: Sequence, carried: Carried): Target[] {
  const list: Target[] = [];
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
  const lies = lying(q, carried.photo);
  if (lies.on === "page") return { kind: "page", page: lies.page };
  const blank = pages(q).find((page) => {
    const across = q.spreads[indexOf(q, page.spread)]?.across;
    return at(q, page) === 0 && !across;
  });
  return blank ? { kind: "page", page: blank } : { kind: "between", index: q.spreads.length };
}
