// Photos laid onto pages one after the other: in place of what lies there, or
// pushing it on.

import type { Change } from "./change";
import { Draft } from "./draft";
import {
  at, done, empty, indexOf, lying, pages, refused, samePage,
  type Outcome, type Page, type PhotoID, type Sequence, type SpreadID,
} from "./sequence";
import { betweenText, pagesText, pageText, photosText } from "./words";

/** What pushing on would do. */
export interface Push {
  readonly change: Change;
  readonly moved: readonly PhotoID[]; // those that move on, the nearest first
  readonly end: string; // the page that takes the last of them: "page 8", "a new spread"
}

/**
 * Puts photos on a page and those behind it. What lies there moves on, page by
 * page, until blank pages have taken as many as came; where there are none, a
 * spread opens at the end. Nothing is pushed through a pin, nor through a photo
 * that crosses two pages, nor onto the closing page, which stands alone.
 */
export function push(q: Sequence, photos: readonly PhotoID[], page: Page): Outcome<Push> {
  const asked = `${photos.join(" ")} ${page.spread} ${page.side}`;
  if (latest?.q !== q || latest.asked !== asked) latest = { q, asked, push: planPush(q, photos, page) };
  return latest.push;
}

/** One place under the hand is asked for several times: for its words, its marks and its act. */
let latest: { q: Sequence; asked: string; push: Outcome<Push> } | undefined;

function planPush(q: Sequence, photos: readonly PhotoID[], page: Page): Outcome<Push> {
  if (at(q, page) === undefined) return refused("That place is no longer on the wall.", "Look at the wall as it is now.");
  if (page.side === "closing") return refused("Nothing follows the closing page, so nothing can be pushed on from it.", "Swap instead.");
  const draft = new Draft(q);
  const left = take(draft, photos);
  const coming = [...photos];
  const moved: PhotoID[] = [];
  let last: Page | undefined;
  for (const here of from(draft.now, page)) {
    if (coming.length === 0) break;
    const stops = holds(draft, here);
    if (stops) return refused(stops, "Swap instead, or put it elsewhere.");
    const there = at(draft.now, here) ?? 0;
    draft.set(here, coming.shift()!);
    last = here;
    if (there !== 0) {
      coming.push(there);
      moved.push(there);
    }
  }
  const end = coming.length > 0 || !last ? "a new spread" : pageText(draft.now, last);
  while (coming.length > 0) draft.add(draft.now.spreads.length, coming.shift()!, coming.shift() ?? 0);
  clear(draft, left);
  const act = `put ${photosText(photos)} on ${pageText(q, page)}${moved.length > 0 ? ` and push ${photosText(moved)} on` : ""}`;
  const change = draft.change(q, act);
  return change.ok ? done({ change: change.value, moved, end }) : change;
}

/** What keeps a page from being pushed on, as a sentence; "" for nothing. */
function holds(draft: Draft, page: Page): string {
  const spread = draft.spread(page.spread);
  if (!spread?.pinned && !spread?.across) return "";
  const where = pagesText(draft.now, spread.id);
  return `${spread.pinned ? `A pin holds ${where}` : `${spread.left} crosses ${where}`}; nothing is pushed through it.`;
}

/**
 * Puts photos on a page and those behind it, one on each. What lay there takes
 * the pages they leave, as far as there are any; the rest goes to the table.
 */
export function lay(q: Sequence, photos: readonly PhotoID[], page: Page): Outcome<Change> {
  if (at(q, page) === undefined) return refused("That place is no longer on the wall.", "Look at the wall as it is now.");
  if (laid(q, photos, page)) return refused(`${photosText(photos)} lie there already.`);
  const draft = new Draft(q);
  const free = photos.flatMap((photo) => {
    const lies = lying(q, photo);
    return lies.on === "page" ? [lies.page] : [];
  });
  const left = take(draft, photos);
  const onto = from(draft.now, page).slice(0, photos.length);
  const crossed = onto.map((p) => draft.spread(p.spread)).find((s) => s?.across);
  if (crossed) return refused(`${crossed.left} crosses ${pagesText(q, crossed.id)}, so several photos cannot be laid over it.`, "Take it back to one page first.");
  const others = onto.map((p) => at(draft.now, p) ?? 0).filter((id) => id !== 0);
  onto.forEach((p, i) => draft.set(p, photos[i]!));
  const rest = photos.slice(onto.length);
  for (let i = 0; i < rest.length; i += 2) draft.add(draft.now.spreads.length, rest[i]!, rest[i + 1] ?? 0);
  for (const p of free) if (others.length > 0 && !onto.some((o) => samePage(o, p))) draft.set(p, others.shift()!);
  clear(draft, left);
  return draft.change(q, `put ${photosText(photos)} on ${pageText(q, page)} and behind it`);
}

/** Whether photos lie on a page and those behind it already. */
export function laid(q: Sequence, photos: readonly PhotoID[], page: Page): boolean {
  const onto = from(q, page);
  return photos.every((photo, i) => onto[i] !== undefined && at(q, onto[i]) === photo);
}

/** Hangs photos in spreads of their own at index, two by two in the order given; counted on the wall as it is seen. */
export function hangAt(q: Sequence, photos: readonly PhotoID[], index: number): Outcome<Change> {
  if (photos.length === 0) return refused("No photo is chosen.");
  if (index < 0 || index > q.spreads.length) return refused("That place is no longer on the wall.", "Look at the wall as it is now.");
  const draft = new Draft(q);
  for (const photo of photos) draft.lift(photo);
  const behind = q.spreads.slice(index).find((s) => draft.spread(s.id));
  let to = behind ? indexOf(draft.now, behind.id) : draft.now.spreads.length;
  for (let i = 0; i < photos.length; i += 2) draft.add(to++, photos[i]!, photos[i + 1] ?? 0);
  return draft.change(q, `hang ${photosText(photos)} ${index === q.spreads.length ? "at the end" : betweenText(index)}`);
}

/** Takes photos into the hand. Spreads they leave stay until all is laid; they are named. */
function take(draft: Draft, photos: readonly PhotoID[]): SpreadID[] {
  return photos.flatMap((photo) => {
    const lies = lying(draft.now, photo);
    if (lies.on === "box") draft.step({ do: "box", now: photo, on: false });
    if (lies.on !== "page") return [];
    draft.narrow(lies.page.spread);
    draft.set(lies.page, 0);
    return [lies.page.spread];
  });
}

/** A spread whose last photo left goes too. */
function clear(draft: Draft, left: readonly SpreadID[]): void {
  for (const id of new Set(left)) {
    const spread = draft.spread(id);
    if (spread && empty(spread)) draft.remove(id);
  }
}

/** A page and those behind it; the closing page, which stands alone, only by itself. */
function from(q: Sequence, page: Page): Page[] {
  const all = pages(q);
  const rest = all.slice(all.findIndex((p) => samePage(p, page)));
  return page.side === "closing" ? rest : rest.slice(0, -1);
}
