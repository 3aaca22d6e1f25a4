// What the maker can do on the wall, each as an intent: a value that says what
// is wanted, not how. An intent is turned into a change on the wall as it is at
// that moment; refused on a newer wall, it can be tried there again.

import type { Change, Statement } from "./change";
import { endChapter, intoChapter, moveChapter, nameRun, outOfChapter, renameChapter, writeNote } from "./chaptering";
import { Draft } from "./draft";
import { rehang, type Rehung } from "./rehang";
import { hangAt, lay, push } from "./laying";
import {
  at, indexOf, lying, onWall, paired, refused,
  type ChapterID, type Outcome, type Page, type PhotoID, type Sequence, type Spread, type SpreadID,
} from "./sequence";
import { betweenText, chaptersTurned, consequence, facing, pagesText, pageText, photosText } from "./words";

export type Intent =
  | { readonly want: "place"; readonly photo: PhotoID; readonly page: Page }
  | { readonly want: "openSpread"; readonly photo: PhotoID; readonly index: number }
  | { readonly want: "pairUp"; readonly photo: PhotoID; readonly partner: PhotoID }
  | { readonly want: "swap" | "pullApart" | "removeSpread"; readonly spread: SpreadID }
  | { readonly want: "moveSpread"; readonly spread: SpreadID; readonly to: number } // counted after it was taken out
  | { readonly want: "pin" | "across"; readonly spread: SpreadID; readonly on: boolean }
  | { readonly want: "addBlankSpread"; readonly index: number }
  | { readonly want: "toTable" | "toBox"; readonly photos: readonly PhotoID[] }
  | { readonly want: "hang"; readonly photos: readonly PhotoID[]; readonly index?: number } // two by two; without an index behind the last spread
  | { readonly want: "lay" | "push"; readonly photos: readonly PhotoID[]; readonly page: Page } // onto a page and those behind it
  | { readonly want: "say"; readonly act: string; says(): readonly Statement[] } // what is known is looked up when it is said
  | { readonly want: "blank"; readonly page: Page }
  | { readonly want: "nameRun"; readonly from: SpreadID; readonly to: SpreadID; readonly name: string }
  | { readonly want: "renameChapter"; readonly chapter: ChapterID; readonly name: string }
  | { readonly want: "endChapter"; readonly chapter: ChapterID }
  | { readonly want: "moveChapter"; readonly chapter: ChapterID; readonly index: number } // before the spread that is there now
  | { readonly want: "intoChapter"; readonly spread: SpreadID; readonly chapter: ChapterID }
  | { readonly want: "outOfChapter"; readonly spread: SpreadID }
  | { readonly want: "note"; readonly spread: SpreadID; readonly note: string }
  | { readonly want: "rehang"; readonly of: Rehung } // spreads of another wall
  | { readonly want: "take"; readonly change: Change }; // a proposed arrangement, as the program wrote it

/** The photos that an intent is about on q; what else it moves is a consequence worth telling. */
export function about(q: Sequence, intent: Intent): PhotoID[] {
  switch (intent.want) {
    case "pairUp": return [intent.photo, intent.partner];
    case "place":
    case "openSpread": return [intent.photo];
    case "toTable":
    case "hang":
    case "lay":
    case "push":
    case "toBox": return [...intent.photos];
    case "blank": return [at(q, intent.page) ?? 0];
    case "removeSpread": {
      const spread = q.spreads[indexOf(q, intent.spread)];
      return spread ? [spread.left, spread.right] : [];
    }
    case "rehang": return intent.of.spreads.flatMap((s) => [s.left, s.right]);
    case "take": return onWall(q); // the proposal itself has shown all of it
    default: return [];
  }
}

const ofChapters: readonly Intent["want"][] = ["nameRun", "renameChapter", "endChapter", "moveChapter", "intoChapter", "outOfChapter"];

/** What an intent did besides what it says: to photos it does not name, and to chapters it is not about. */
export function besides(before: Sequence, after: Sequence, intent: Intent): string {
  const chapters = ofChapters.includes(intent.want) ? "" : chaptersTurned(before, after);
  return [consequence(before, after, about(before, intent)), chapters].filter(Boolean).join(" ");
}

/** The change that does what is wanted on q, or why it cannot be done. */
export function build(q: Sequence, intent: Intent): Outcome<Change> {
  switch (intent.want) {
    case "place": return place(q, intent.photo, intent.page);
    case "openSpread": return openSpread(q, intent.photo, intent.index);
    case "pairUp": return pairUp(q, intent.photo, intent.partner);
    case "swap": return swap(q, intent.spread);
    case "pullApart": return pullApart(q, intent.spread);
    case "removeSpread": return removeSpread(q, intent.spread);
    case "moveSpread": return moveSpread(q, intent.spread, intent.to);
    case "pin": return pin(q, intent.spread, intent.on);
    case "across": return across(q, intent.spread, intent.on);
    case "addBlankSpread": return addBlankSpread(q, intent.index);
    case "toTable": return toTable(q, intent.photos);
    case "toBox": return toBox(q, intent.photos);
    case "hang": return hangAt(q, intent.photos, intent.index ?? q.spreads.length);
    case "lay": return lay(q, intent.photos, intent.page);
    case "push": {
      const pushed = push(q, intent.photos, intent.page);
      return pushed.ok ? { ok: true, value: pushed.value.change } : pushed;
    }
    case "say": return say(q, intent.act, intent.says());
    case "blank": return blank(q, intent.page);
    case "nameRun": return nameRun(q, intent.from, intent.to, intent.name);
    case "renameChapter": return renameChapter(q, intent.chapter, intent.name);
    case "endChapter": return endChapter(q, intent.chapter);
    case "moveChapter": return moveChapter(q, intent.chapter, intent.index);
    case "intoChapter": return intoChapter(q, intent.spread, intent.chapter);
    case "outOfChapter": return outOfChapter(q, intent.spread);
    case "note": return writeNote(q, intent.spread, intent.note);
    case "rehang": return rehang(q, intent.of);
    case "take": return takeArrangement(q, intent.change);
  }
}

/**
 * Puts a photo on a page. If another lies there the two exchange when the
 * photo comes from a page; otherwise the other one goes to the table.
 */
export function place(q: Sequence, photo: PhotoID, page: Page): Outcome<Change> {
  const there = at(q, page);
  if (there === undefined) return gone();
  if (there === photo) return refused(`${photo} lies there already.`);
  const target = q.spreads[indexOf(q, page.spread)];
  const from = lying(q, photo);
  if (target?.across) return beside(q, photo, page, target);
  const draft = new Draft(q);
  if (there !== 0 && from.on === "page") {
    draft.narrow(from.page.spread);
    draft.set(page, photo);
    draft.set(from.page, there);
    return draft.change(q, `exchange ${photo} and ${there}`);
  }
  draft.lift(photo, page.spread);
  draft.set(page, photo);
  return draft.change(q, `put ${photo} on ${pageText(q, page)}`);
}

/** A photo comes to a spread that another crosses: that one goes back to one page, the newcomer gets the other. */
function beside(q: Sequence, photo: PhotoID, page: Page, target: Spread): Outcome<Change> {
  if (target.left === photo) return refused(`${photo} lies there already, across both pages.`);
  const draft = new Draft(q);
  draft.lift(photo);
  draft.narrow(target.id);
  if (page.side === "left") {
    draft.set({ spread: target.id, side: "left" }, 0);
    draft.set({ spread: target.id, side: "right" }, target.left);
  }
  draft.set(page, photo);
  return draft.change(q, `put ${photo} beside ${target.left}`);
}

/** A new spread at index, between two others: the photo on its right page, the left one blank. */
export function openSpread(q: Sequence, photo: PhotoID, index: number): Outcome<Change> {
  if (index < 0 || index > q.spreads.length) return gone();
  const from = lying(q, photo);
  const source = from.on === "page" ? q.spreads[indexOf(q, from.page.spread)] : undefined;
  const i = source ? q.spreads.indexOf(source) : -1;
  if (source && !paired(source) && (index === i || index === i + 1)) {
    return refused(`${photo} has a spread of its own there already.`);
  }
  const draft = new Draft(q);
  draft.lift(photo);
  const shrunk = draft.now.spreads.length < q.spreads.length && i < index;
  draft.add(shrunk ? index - 1 : index, 0, photo);
  return draft.change(q, `open a spread with ${photo} ${betweenText(index)}`);
}

/**
 * Lets two photos face each other. The one on the wall stays and the other is
 * put beside it; with both there, photo stays. Whatever faced it goes to the
 * table. With neither on the wall they get a new spread at its end.
 */
export function pairUp(q: Sequence, photo: PhotoID, partner: PhotoID): Outcome<Change> {
  if (photo === partner) return refused("A photo cannot face itself.");
  const act = `pair ${photo} with ${partner}`;
  const draft = new Draft(q);
  const wall = onWall(q);
  const stays = wall.includes(photo) ? photo : wall.includes(partner) ? partner : 0;
  if (stays === 0) {
    draft.lift(photo);
    draft.lift(partner);
    draft.add(q.spreads.length, photo, partner);
    return draft.change(q, act);
  }
  const comes = stays === photo ? partner : photo;
  const lies = lying(q, stays);
  const page = lies.on === "page" ? facing(lies.page) : undefined;
  if (lies.on !== "page" || !page) {
    return refused(`${stays} lies on a page that stands alone, so nothing can face it.`, "Move it to a spread first.");
  }
  if (at(q, page) === comes) return refused(`${photo} and ${partner} face each other already.`);
  draft.narrow(page.spread);
  draft.lift(comes, page.spread);
  draft.set(page, comes);
  return draft.change(q, act);
}

/** Exchanges the left and the right page of a spread. */
export function swap(q: Sequence, id: SpreadID): Outcome<Change> {
  const spread = q.spreads[indexOf(q, id)];
  if (!spread) return gone();
  if (spread.across) return refused(`${spread.left} crosses both pages; there is nothing to swap.`);
  if (spread.left === 0 && spread.right === 0) return refused("Both pages are blank; there is nothing to swap.");
  const draft = new Draft(q);
  draft.set({ spread: id, side: "left" }, spread.right);
  draft.set({ spread: id, side: "right" }, spread.left);
  return draft.change(q, `swap ${pagesText(q, id)}`);
}

/** The right photo of a pair gets a spread of its own just after. */
export function pullApart(q: Sequence, id: SpreadID): Outcome<Change> {
  const index = indexOf(q, id);
  const spread = q.spreads[index];
  if (!spread) return gone();
  if (!paired(spread)) return refused("No two photos face each other here.");
  const draft = new Draft(q);
  draft.set({ spread: id, side: "right" }, 0);
  draft.add(index + 1, 0, spread.right, spread.chapter);
  return draft.change(q, `pull ${spread.left} and ${spread.right} apart`);
}

/** Moves a spread to another place in the order. */
export function moveSpread(q: Sequence, id: SpreadID, to: number): Outcome<Change> {
  const index = indexOf(q, id);
  if (index < 0 || to < 0 || to >= q.spreads.length) return gone();
  if (index === to) return refused("It is there already.");
  const draft = new Draft(q);
  draft.step({ do: "move", index, to });
  return draft.change(q, `move ${pagesText(q, id)} to ${pagesText(draft.now, id)}`);
}

/** Holds a spread against automatic arranging, or lets it go. */
export function pin(q: Sequence, id: SpreadID, on: boolean): Outcome<Change> {
  const spread = q.spreads[indexOf(q, id)];
  if (!spread) return gone();
  if (spread.pinned === on) return refused(on ? "It is pinned already." : "It is not pinned.");
  const draft = new Draft(q);
  draft.step({ do: "pin", spread: { id }, on });
  return draft.change(q, `${on ? "pin" : "unpin"} ${pagesText(q, id)}`);
}

/** Lets the only photo of a spread cross both pages, or takes it back to the left one. */
export function across(q: Sequence, id: SpreadID, on: boolean): Outcome<Change> {
  const spread = q.spreads[indexOf(q, id)];
  if (!spread) return gone();
  if (spread.across === on) return refused(on ? "It crosses both pages already." : "It lies on one page already.");
  if (paired(spread)) return refused("Two photos lie on these pages, so neither can cross them.", "Pull them apart first.");
  const photo = spread.left || spread.right;
  if (photo === 0) return refused("Both pages are blank.", "Put a photo on one of them first.");
  const draft = new Draft(q);
  draft.set({ spread: id, side: "left" }, photo);
  draft.set({ spread: id, side: "right" }, 0);
  draft.step({ do: "across", spread: { id }, on });
  return draft.change(q, on ? `lay ${photo} across ${pagesText(q, id)}` : `take ${photo} back to one page`);
}

/** A spread of two blank pages at index. */
export function addBlankSpread(q: Sequence, index: number): Outcome<Change> {
  if (index < 0 || index > q.spreads.length) return gone();
  const draft = new Draft(q);
  draft.add(index, 0, 0);
  return draft.change(q, `add a blank spread ${betweenText(index)}`);
}

/** Takes a spread away; what lay on it goes to the table. */
export function removeSpread(q: Sequence, id: SpreadID): Outcome<Change> {
  if (indexOf(q, id) < 0) return gone();
  const draft = new Draft(q);
  draft.remove(id);
  return draft.change(q, `take away ${pagesText(q, id)}`);
}

/** Takes photos off the wall or out of the box. Those on the table already are passed over. */
export function toTable(q: Sequence, photos: readonly PhotoID[]): Outcome<Change> {
  const away = photos.filter((photo) => lying(q, photo).on !== "table");
  if (away.length === 0) return refused(`${photosText(photos)} ${photos.length > 1 ? "lie" : "lies"} on the table already.`);
  const draft = new Draft(q);
  for (const photo of away) draft.lift(photo);
  return draft.change(q, `put ${photosText(away)} back on the table`);
}

/** Sets photos aside. Those in the box already are passed over. */
export function toBox(q: Sequence, photos: readonly PhotoID[]): Outcome<Change> {
  const out = photos.filter((photo) => lying(q, photo).on !== "box");
  if (out.length === 0) return refused(`${photosText(photos)} ${photos.length > 1 ? "are" : "is"} in the box already.`);
  const draft = new Draft(q);
  for (const photo of out) {
    draft.lift(photo);
    draft.step({ do: "box", now: photo, on: true });
  }
  return draft.change(q, `set ${photosText(out)} aside`);
}

/** States facts of photos; the wall stays as it is. */
export function say(q: Sequence, act: string, says: readonly Statement[]): Outcome<Change> {
  if (says.length === 0) return refused("That is known already; nothing changes.");
  return { ok: true, value: { revision: q.revision, act, steps: [], says } };
}

/** Leaves a page blank on purpose: its photo goes to the table, its spread stays. */
export function blank(q: Sequence, page: Page): Outcome<Change> {
  const there = at(q, page);
  if (there === undefined) return gone();
  const target = q.spreads[indexOf(q, page.spread)];
  if (there === 0 && !target?.across) return refused("This page is blank already.");
  const draft = new Draft(q);
  draft.narrow(page.spread);
  draft.set(target?.across ? { spread: page.spread, side: "left" } : page, 0);
  return draft.change(q, `leave ${pageText(q, page)} blank`);
}

function takeArrangement(q: Sequence, change: Change): Outcome<Change> {
  if (change.revision !== q.revision) {
    return refused("This arrangement was proposed for an earlier wall.", "Ask for a new one.", "stale");
  }
  return { ok: true, value: change };
}

function gone(): { ok: false; refusal: { code: string; message: string; hint: string } } {
  return refused("That place is no longer on the wall.", "Look at the wall as it is now.");
}
