// Taking a spread, or a run of them, from another wall into the present one.

import type { Change } from "./change";
import { Draft } from "./draft";
import { lying, indexOf, refused, type Outcome, type PhotoID, type Sequence, type Spread, type SpreadID } from "./sequence";
import { photosText } from "./words";

/** What is to hang again, and what hung before it there, the nearest first: that is how its place is found. */
export interface Rehung {
  readonly spreads: readonly Spread[]; // number 0: a new one
  readonly behind: readonly PhotoID[];
}

/** Spreads of another wall, that follow on each other there, as they can be hung again. */
export function rehungOf(old: Sequence, ids: readonly SpreadID[]): Rehung {
  const spreads = old.spreads.filter((s) => ids.includes(s.id));
  const first = spreads[0] ? indexOf(old, spreads[0].id) : 0;
  const before = old.spreads.slice(0, first).flatMap((s) => [s.left, s.right]);
  return { spreads, behind: [old.opening, ...before].filter((id) => id !== 0).reverse() };
}

/**
 * Hangs spreads as they hung on another wall. Their photos leave the places
 * they lie in now; who faced them there stays, alone. They come behind the
 * nearest of what hung before them, or to the front.
 */
export function rehang(q: Sequence, { spreads, behind }: Rehung): Outcome<Change> {
  const photos = spreads.flatMap((s) => [s.left, s.right]).filter((id) => id !== 0);
  if (photos.length === 0) return refused("There is nothing to hang.");
  if (spreads.every((s) => q.spreads.some((now) => now.left === s.left && now.right === s.right && now.across === s.across))) {
    return refused(`${photosText(photos)} ${photos.length > 1 ? "hang" : "hangs"} so already.`);
  }
  const draft = new Draft(q);
  for (const photo of photos) draft.lift(photo);
  let index = placeBehind(draft.now, behind);
  for (const s of spreads) {
    const free = s.id > 0 && s.id <= draft.now.last && indexOf(draft.now, s.id) < 0;
    draft.step({ do: "add", index, spread: { ...s, id: free ? s.id : draft.now.last + 1, pinned: false } });
    index++;
  }
  return draft.change(q, `hang ${photosText(photos)} again`);
}

function placeBehind(q: Sequence, behind: readonly PhotoID[]): number {
  for (const photo of behind) {
    const lies = lying(q, photo);
    if (lies.on !== "page") continue;
    if (lies.page.side === "opening") return 0;
    if (lies.page.side === "closing") return q.spreads.length;
    return indexOf(q, lies.page.spread) + 1;
  }
  return 0;
}
