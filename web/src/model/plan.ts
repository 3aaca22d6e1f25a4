// The page plan as a value: what is said of photos and of pages of words, and
// where a crop lies. The program lays pages out; only a crop in the hand is
// laid out here as well, with what lies in testdata/crops.json held to both.

import type * as api from "../net/api";
import type { Page, PhotoID } from "./sequence";

export type Manner = api.Plan["manner"];
export type Placement = api.Placement;

/** How a photo can sit on its page, in words. */
export const manners: readonly (readonly [Manner, words: string, more: string])[] = [
  ["full-bleed", "Fills its page", "over every edge, cut to the page"],
  ["framed", "In a frame", "whole, within the margins"],
  ["small", "Small", "whole, in a part of the frame"],
];
export const mannerWords = (m: Manner) => manners.find(([name]) => name === m)![1].toLowerCase();

export const wholeCrop: api.Crop = { middle: { x: 0.5, y: 0.5 }, zoom: 1 };
export const mostZoom = 8;

/** What is said of a photo; nothing but its number when nothing is. */
export const placementOf = (plan: api.Plan, photo: PhotoID): Placement => plan.placements.find((p) => p.photo === photo) ?? { photo };

/** What can be said of a photo; undefined takes back what was said. */
export type Said = { readonly [K in keyof Omit<Placement, "photo">]?: Placement[K] | undefined };

/** The plan with more said of a photo. */
export function placed(plan: api.Plan, photo: PhotoID, said: Said): api.Plan {
  const next = Object.fromEntries(Object.entries({ ...placementOf(plan, photo), ...said }).filter(([, v]) => v !== undefined)) as unknown as Placement;
  const others = plan.placements.filter((p) => p.photo !== photo);
  const placements = Object.keys(next).length > 1 ? [...others, next].sort((a, b) => a.photo - b.photo) : others;
  return { ...plan, placements };
}

/** Where a page of words stands: before the wall, after it, or on a page of it. */
export type Place = { readonly in: "front" | "back"; readonly at: number } | { readonly on: Page };

const samePage = (a: Page, b: Page) => a.side === b.side && (a.spread ?? 0) === (b.spread ?? 0);

/** The place of the words of a page of the book; undefined for a page with a photo or a blank one of the wall. */
export function placeOf(book: api.Book, page: api.BookPage, plan: api.Plan): Place | undefined {
  if (page.on) return page.leaf ? { on: page.on as Page } : undefined;
  const at = page.number - 1;
  return at < plan.front.length ? { in: "front", at } : { in: "back", at: at - (book.pages.length - plan.back.length) };
}

/** The plan with a page of words changed; undefined takes it away. */
export function withLeaf(plan: api.Plan, place: Place, leaf: api.Leaf | undefined): api.Plan {
  if ("on" in place) {
    const laid = plan.laid.filter((l) => !samePage(l.on as Page, place.on));
    return { ...plan, laid: leaf ? [...laid, { ...leaf, on: place.on }] : laid };
  }
  const list = [...plan[place.in]];
  list.splice(place.at, 1, ...(leaf ? [leaf] : []));
  return { ...plan, [place.in]: list };
}

/** The plan with a page of words more, before place.at. */
export function addedLeaf(plan: api.Plan, place: { in: "front" | "back"; at: number }, leaf: api.Leaf): api.Plan {
  const list = [...plan[place.in]];
  list.splice(place.at, 0, leaf);
  return { ...plan, [place.in]: list };
}

/** The plan with a page before or after the wall moved by a step; the same when it cannot go there. */
export function movedLeaf(plan: api.Plan, place: { in: "front" | "back"; at: number }, by: -1 | 1): api.Plan {
  const to = place.at + by;
  const list = [...plan[place.in]];
  if (to < 0 || to >= list.length) return plan;
  [list[place.at], list[to]] = [list[to]!, list[place.at]!];
  return { ...plan, [place.in]: list };
}

/**
 * A text divided where its page ends: what of it fits, and what goes on. lines are those of its page, the folio's among
 * them; undefined when all fits, or not even a line.
 */
export function overflowing(text: string, lines: readonly api.TextLine[], room: api.Rect): readonly [fits: string, goesOn: string] | undefined {
  const own = lines.filter((l) => l.size === lines[0]!.size);
  const fit = own.filter((l) => l.y + 0.2 * l.size <= room.y + room.height + 0.001); // a fifth of its size lies below the baseline
  if (fit.length === 0 || fit.length === own.length) return undefined;
  let words = fit.reduce((n, l) => n + l.text.split(/\s+/).filter(Boolean).length, 0);
  for (const word of text.matchAll(/\S+/g)) {
    if (words-- === 0) return [text.slice(0, word.index).trimEnd(), text.slice(word.index)];
  }
  return undefined;
}

/** Pages before the wall that are odd in number tear every spread. */
export const torn = (plan: api.Plan) => plan.front.length % 2 === 1;

export const leafWords: Readonly<Record<api.Leaf["kind"], string>> = { blank: "Blank page", title: "Title page", text: "Page of text", colophon: "Colophon" };

/** Two pages as they face each other; the first has only a right one. */
export interface Opened {
  readonly left?: api.BookPage;
  readonly right?: api.BookPage;
}

export function openedOf(book: api.Book): Opened[] {
  const all: Opened[] = [];
  const { pages } = book;
  if (pages[0]) all.push({ right: pages[0] });
  for (let i = 1; i < pages.length; i += 2) {
    const [left, right] = [pages[i]!, pages[i + 1]];
    all.push(right ? { left, right } : { left });
  }
  return all;
}

/** The index of the opened pages a page is on. */
export const openedAt = (page: number) => Math.floor(page / 2);

type Rect = api.Rect;

/** Where the whole picture lies so that a crop fills its window; as Lay of the program. */
export function cropped(whole: Rect, width: number, height: number, crop: api.Crop): Rect {
  const scale = Math.max(whole.width / width, whole.height / height) * crop.zoom;
  const size = { width: width * scale, height: height * scale };
  const at = (from: number, room: number, side: number, middle: number) => Math.max(from + room - side, Math.min(from, from + room / 2 - middle * side));
  return { x: at(whole.x, whole.width, size.width, crop.middle.x), y: at(whole.y, whole.height, size.height, crop.middle.y), ...size };
}

const part = (n: number) => Math.min(1, Math.max(0, n));

/** The crop whose picture lies so; what shows in the middle of the window is its middle, so that a crop never remembers more than is seen. */
export function cropAt(whole: Rect, picture: Rect, zoom: number): api.Crop {
  return { middle: { x: part((whole.x + whole.width / 2 - picture.x) / picture.width), y: part((whole.y + whole.height / 2 - picture.y) / picture.height) }, zoom };
}

/** The crop with the picture moved by so many millimetres in its window, as far as the window stays filled. */
export function cropMoved(whole: Rect, width: number, height: number, crop: api.Crop, dx: number, dy: number): api.Crop {
  const was = cropped(whole, width, height, crop);
  const middle = cropAt(whole, { ...was, x: was.x + dx, y: was.y + dy }, crop.zoom);
  return cropAt(whole, cropped(whole, width, height, middle), crop.zoom);
}

/** The crop so many times nearer, about a point of the page that stays where it is. */
export function cropZoomed(whole: Rect, width: number, height: number, crop: api.Crop, by: number, about?: api.Point): api.Crop {
  const zoom = Math.min(mostZoom, Math.max(1, crop.zoom * by));
  const was = cropped(whole, width, height, crop);
  const p = about ?? { x: whole.x + whole.width / 2, y: whole.y + whole.height / 2 };
  const k = zoom / crop.zoom;
  const wanted = { x: p.x - (p.x - was.x) * k, y: p.y - (p.y - was.y) * k, width: was.width * k, height: was.height * k };
  return cropAt(whole, cropped(whole, width, height, cropAt(whole, wanted, zoom)), zoom);
}

export const isWhole = ({ middle, zoom }: api.Crop) => zoom === 1 && middle.x === 0.5 && middle.y === 0.5;

/** The crop to keep: rounded so that what is kept is what is read; undefined when it is the one a photo has anyway. */
export function keptCrop(crop: api.Crop): api.Crop | undefined {
  const r = (n: number) => Math.round(n * 1e5) / 1e5;
  const kept = { middle: { x: r(crop.middle.x), y: r(crop.middle.y) }, zoom: r(crop.zoom) };
  return isWhole(kept) ? undefined : kept;
}

/** A page in words, for the ear. */
export function pageWords(page: api.BookPage, misfits: readonly api.Misfit[]): string {
  const is = page.shown ? `photo ${page.shown.photo}${page.shown.across ? ", across the gutter" : ""}, ${mannerWords(page.shown.manner)}`
    : page.leaf ? leafWords[page.leaf.kind].toLowerCase() : "blank";
  const bad = misfits.filter((m) => m.page === page.number).length;
  return `Page ${page.number}, ${is}${bad > 0 ? `; ${bad === 1 ? "one thing does" : `${bad} things do`} not fit` : ""}`;
}
