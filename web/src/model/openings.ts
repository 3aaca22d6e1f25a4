// The wall as a reader will open it: page 1 alone, two pages at a time, the last
// page alone.

import { indexOf, lying, type PhotoID, type Sequence, type Spread, type SpreadID } from "./sequence";
import { photosText } from "./words";

/** What is on a page: a photo, the half of one that crosses the gutter, or nothing (0). */
export interface Face {
  readonly photo: PhotoID;
  readonly half: boolean;
}

/** What lies open at once. A side without a face is no page: there is the table one reads at. */
export interface Opening {
  readonly spread: SpreadID; // 0 for the two pages that stand alone
  readonly left: Face | undefined;
  readonly right: Face | undefined;
  readonly first: number; // the number of its first page
}

/** Everything a reader opens, in order. */
export function openings(q: Sequence): Opening[] {
  return [
    { spread: 0, left: undefined, right: whole(q.opening), first: 1 },
    ...q.spreads.map((s, i) => opened(s, 2 * i + 2)),
    { spread: 0, left: whole(q.closing), right: undefined, first: 2 * q.spreads.length + 2 },
  ];
}

function opened(s: Spread, first: number): Opening {
  const across = { photo: s.left, half: true };
  return { spread: s.id, left: s.across ? across : whole(s.left), right: s.across ? across : whole(s.right), first };
}

function whole(photo: PhotoID): Face {
  return { photo, half: false };
}

/** The photos that lie open, left before right. */
export function photosOf({ left, right }: Opening): PhotoID[] {
  const all = left?.half ? [left.photo] : [left?.photo ?? 0, right?.photo ?? 0];
  return all.filter((photo) => photo !== 0);
}

/** "Pages 4 and 5", "Page 1" */
export function pagesOf({ left, right, first }: Opening): string {
  return left && right ? `Pages ${first} and ${first + 1}` : `Page ${first}`;
}

/** "Pages 4 and 5: photos 12 and 7.", "Page 1, alone: blank." */
export function openingWords(o: Opening): string {
  const photos = photosOf(o);
  const alone = o.left && o.right ? "" : ", alone";
  const lie = photos.length === 0 ? "blank" : `${photos.length > 1 ? "photos" : "photo"} ${photosText(photos)}${o.left?.half ? " across both" : ""}`;
  return `${pagesOf(o)}${alone}: ${lie}.`;
}

/** Where a photo is opened; -1 when it is not on the wall. */
export function openingOfPhoto(q: Sequence, photo: PhotoID): number {
  const lies = lying(q, photo);
  if (lies.on !== "page") return -1;
  if (lies.page.side === "opening") return 0;
  return lies.page.side === "closing" ? q.spreads.length + 1 : indexOf(q, lies.page.spread) + 1;
}

/** Leafing through, forwards only: what lies open, and whether it turns by itself. */
export interface Leafing {
  readonly at: number; // of the openings; as many as there are: it is read to its end
  readonly of: number;
  readonly byItself: boolean;
  readonly pace: number; // seconds an opening lies there before it is turned by itself
}

const paces = [2, 3, 4, 6, 9, 14] as const; // seconds; no source: from a glance to a long look

export function beginLeafing(of: number): Leafing {
  return { at: 0, of, byItself: false, pace: 6 };
}

export function ended(l: Leafing): boolean {
  return l.at >= l.of;
}

/** The next opening; there is no way back. What turned by itself lies still at the end. */
export function turned(l: Leafing): Leafing {
  const at = Math.min(l.of, l.at + 1);
  return { ...l, at, byItself: l.byItself && at < l.of };
}

/** A slower (1) or a faster (-1) pace. */
export function paced(l: Leafing, by: 1 | -1): Leafing {
  const i = paces.findIndex((pace) => pace === l.pace) + by;
  return { ...l, pace: paces[Math.min(paces.length - 1, Math.max(0, i))]! };
}
