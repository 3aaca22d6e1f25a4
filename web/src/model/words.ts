// The wall in plain words: what is written on the screen and spoken by the
// status line says the same things in the same way.

import { chapterOf } from "./chapter";
import {
  at, empty, indexOf, lying, onTable, onWall, pageCount, pageNumber, paired,
  type Page, type PhotoID, type Sequence, type SpreadID,
} from "./sequence";

/** The page that faces another; undefined for opening and closing page, which stand alone. */
export function facing(page: Page): Page | undefined {
  if (page.side === "left") return { spread: page.spread, side: "right" };
  if (page.side === "right") return { spread: page.spread, side: "left" };
  return undefined;
}

export function pageText(q: Sequence, page: Page): string {
  return `page ${pageNumber(q, page)}`;
}

export function pagesText(q: Sequence, id: SpreadID): string {
  const left = 2 * indexOf(q, id) + 2;
  return `pages ${left}–${left + 1}`;
}

/** The pages of a run of spreads, by their positions. */
export function runText({ first, last }: { readonly first: number; readonly last: number }): string {
  return `pages ${2 * first + 2}–${2 * last + 3}`;
}

/** The place before the spread at index. */
export function betweenText(index: number): string {
  return `between pages ${2 * index + 1} and ${2 * index + 2}`;
}

/** "12", "12 and 47", "12, 47 and 3", "8 photos". */
export function photosText(photos: readonly PhotoID[]): string {
  if (photos.length > 4) return `${photos.length} photos`;
  if (photos.length < 2) return String(photos[0] ?? "nothing");
  return `${photos.slice(0, -1).join(", ")} and ${photos.at(-1)}`;
}

export function plural(n: number, one: string, many = one + "s"): string {
  return `${n} ${n === 1 ? one : many}`;
}

/** A sentence out of a few words. */
export function sentence(words: string): string {
  return words === "" ? "" : words[0]!.toUpperCase() + words.slice(1) + (/[.!?]$/.test(words) ? "" : ".");
}

/** What is always in sight. */
export interface Counts {
  readonly wall: number; // photos on the wall
  readonly pages: number;
  readonly table: number;
  readonly box: number;
}

/** The photos that face a blank page, in reading order. */
export function unpairedPhotos(q: Sequence): PhotoID[] {
  return q.spreads.filter((s) => !paired(s) && !s.across && !empty(s)).map((s) => s.left || s.right);
}

export function count(q: Sequence, all: readonly PhotoID[]): Counts {
  return {
    wall: onWall(q).length,
    pages: pageCount(q),
    table: onTable(q, all).length,
    box: q.box.length,
  };
}

/** "Page 4, blank", "Page 5, photo 12", "Pages 4 and 5, photo 12 across both". */
export function pageLabel(q: Sequence, page: Page): string {
  const number = pageNumber(q, page);
  const photo = at(q, page) ?? 0;
  const spread = q.spreads[indexOf(q, page.spread)];
  const alone = page.side === "opening" ? ", opening page" : page.side === "closing" ? ", closing page" : "";
  if (spread?.across) return `Pages ${2 * indexOf(q, spread.id) + 2} and ${2 * indexOf(q, spread.id) + 3}, photo ${spread.left} across both`;
  return `Page ${number}${alone}, ${photo === 0 ? "blank" : `photo ${photo}`}`;
}

/** Where a photo lies, to follow its number: "on page 4", "on the table", "in the box". */
export function lyingText(q: Sequence, photo: PhotoID): string {
  const lies = lying(q, photo);
  if (lies.on === "table") return "on the table";
  if (lies.on === "box") return "in the box";
  const spread = q.spreads[indexOf(q, lies.page.spread)];
  if (spread?.across) return `across ${pagesText(q, spread.id)}`;
  return `on ${pageText(q, lies.page)}`;
}

/** What an act did to photos it does not name, as a sentence: "31 goes to the table." */
export function consequence(before: Sequence, after: Sequence, named: readonly PhotoID[]): string {
  const left = new Set(onWall(after));
  const gone = onWall(before).filter((id) => !left.has(id) && !after.box.includes(id) && !named.includes(id));
  if (gone.length === 0) return "";
  return sentence(`${photosText(gone)} ${gone.length === 1 ? "goes" : "go"} to the table`);
}

/** What became of chapters, as sentences: "Pages 4–5 join chapter “Bari”." */
export function chaptersTurned(before: Sequence, after: Sequence): string {
  const turned: string[] = [];
  for (const s of after.spreads) {
    const was = before.spreads.find((one) => one.id === s.id)?.chapter ?? 0;
    const now = chapterOf(after, s.chapter);
    const left = chapterOf(after, was);
    if (now && now.id !== was) turned.push(`${sentence(`${pagesText(after, s.id)} join chapter “${now.name}”`)}`);
    else if (left && !now) turned.push(sentence(`${pagesText(after, s.id)} leave chapter “${left.name}”`));
  }
  const ended = before.chapters.filter((c) => !chapterOf(after, c.id)).map((c) => `Chapter “${c.name}” ends.`);
  return [...turned.slice(0, 3), ...ended].join(" ");
}
