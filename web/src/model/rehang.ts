// Taking a spread, or a run of them, from another wall into the present one.

import { chapterOf } from "./chapter";
import type { Change } from "./change";
import { Draft } from "./draft";
import { lying, indexOf, refused, type Chapter, type ChapterID, type Outcome, type PhotoID, type Sequence, type Spread, type SpreadID } from "./sequence";
import { photosText } from "./words";

/** What is to hang again, and what hung before it there, the nearest first: that is how its place is found. */
export interface Rehung {
  readonly spreads: readonly Spread[]; // number 0: a new one
  readonly behind: readonly PhotoID[];
  readonly chapter?: Chapter; // that the spreads make up, when they are all of it
}

/** Spreads of another wall, that follow on each other there, as they can be hung again. */
export function rehungOf(old: Sequence, ids: readonly SpreadID[]): Rehung {
  const spreads = old.spreads.filter((s) => ids.includes(s.id));
  const first = spreads[0] ? indexOf(old, spreads[0].id) : 0;
  const before = old.spreads.slice(0, first).flatMap((s) => [s.left, s.right]);
  return { spreads, behind: [old.opening, ...before].filter((id) => id !== 0).reverse() };
}

/** A whole chapter of another wall. */
export function rehungChapter(old: Sequence, id: ChapterID): Rehung {
  const chapter = chapterOf(old, id);
  const of = rehungOf(old, old.spreads.filter((s) => s.chapter === id).map((s) => s.id));
  return chapter ? { ...of, chapter } : of;
}

/** Whether spreads hang on a wall as they do on another. */
export function hangSo(q: Sequence, spreads: readonly Spread[]): boolean {
  return spreads.every((s) => q.spreads.some((now) => now.left === s.left && now.right === s.right && now.across === s.across));
}

/**
 * Hangs spreads as they hung on another wall. Their photos leave the places
 * they lie in now; who faced them there stays, alone. They come behind the
 * nearest of what hung before them, or to the front.
 */
export function rehang(q: Sequence, { spreads, behind, chapter }: Rehung): Outcome<Change> {
  const photos = spreads.flatMap((s) => [s.left, s.right]).filter((id) => id !== 0);
  if (photos.length === 0) return refused("There is nothing to hang.");
  if (!chapter && hangSo(q, spreads)) return refused(`${photosText(photos)} ${photos.length > 1 ? "hang" : "hangs"} so already.`);
  const draft = new Draft(q);
  for (const photo of photos) draft.lift(photo);
  const of = chapter ? nameAgain(draft, chapter) : 0;
  let index = placeBehind(draft.now, behind);
  while (chapter && withinRun(draft.now, index)) index++;
  for (const s of spreads) {
    const free = s.id > 0 && s.id <= draft.now.last && indexOf(draft.now, s.id) < 0;
    draft.step({ do: "add", index, spread: { ...s, id: free ? s.id : draft.now.last + 1, pinned: false, chapter: of } });
    index++;
  }
  return draft.change(q, chapter ? `hang chapter “${chapter.name}” again` : `hang ${photosText(photos)} again`);
}

/** A chapter that has gone comes back under its number; beside one that goes on without these spreads it gets a new one. */
function nameAgain(draft: Draft, { id, name }: Chapter): ChapterID {
  const { spreads, chapters, lastChapter } = draft.now;
  const goesOn = spreads.some((s) => s.chapter === id) || id > lastChapter;
  if (!goesOn && chapters.some((c) => c.id === id)) return id; // its last spread has just been lifted
  const as = goesOn ? lastChapter + 1 : id;
  draft.name(as, name);
  return as;
}

function withinRun(q: Sequence, index: number): boolean {
  const [before, after] = [q.spreads[index - 1], q.spreads[index]];
  return before !== undefined && after !== undefined && before.chapter !== 0 && before.chapter === after.chapter;
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
