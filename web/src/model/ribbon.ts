// The sequence as a ribbon: the colours of every page in reading order, and
// along the same line the places and the days.

import type * as api from "../net/api";
import { colourWords } from "./choosing";
import { dated, type Photo } from "./facts";
import { openingWords, photosOf, type Opening } from "./openings";
import type { PhotoID } from "./sequence";
import { dayOf, dayWords, spanWords } from "./when";

/** One page: its photo's colours from light to dark, each with its share; none for a blank page. */
export interface Stripe {
  readonly opening: number; // which opening it belongs to
  readonly photo: PhotoID;
  readonly colours: readonly api.Swatch[];
}

/** A run of pages that share a place or a day, told short: the line has little room. */
export interface Run {
  readonly from: number; // of the stripes
  readonly to: number; // behind the last
  readonly words: string;
}

export interface Ribbon {
  readonly stripes: readonly Stripe[];
  readonly places: readonly Run[];
  readonly days: readonly Run[];
}

type Known = ReadonlyMap<PhotoID, Photo>;

export function ribbon(all: readonly Opening[], photos: Known): Ribbon {
  const stripes = all.flatMap((o, opening) => [o.left, o.right].flatMap((face) => {
    if (!face) return [];
    const colours = [...(photos.get(face.photo)?.palette ?? [])].sort((a, b) => b.lab.l - a.lab.l);
    return [{ opening, photo: face.photo, colours }];
  }));
  const years = new Set(stripes.flatMap((s) => dayOfPhoto(photos.get(s.photo)).slice(-4)).filter(Boolean));
  const day = (p: Photo) => (years.size === 1 ? dayOfPhoto(p).replace(/ \d{4}$/, "") : dayOfPhoto(p));
  const of = (words: (p: Photo) => string) => runs(stripes.map((s) => {
    const photo = photos.get(s.photo);
    return photo ? words(photo) : undefined;
  }));
  return { stripes, places: of((p) => placeOf(p).replace(/,.*/, "")), days: of(day) };
}

function placeOf(p: Photo): string {
  return p.where ? (p.label ?? "") : "";
}

function dayOfPhoto(p: Photo | undefined): string {
  if (!p || !dated(p)) return "";
  const [from, to] = [dayOf(p.taken.from!), dayOf(p.taken.to ?? p.taken.from!)];
  return p.taken.precision === "span" ? spanWords(from, to) : dayWords(from);
}

/** Runs of the same words; "" is not known and told as nothing, undefined is a blank page and interrupts nothing. */
export function runs(list: readonly (string | undefined)[]): Run[] {
  const found: { from: number; to: number; words: string }[] = [];
  let open: { from: number; to: number; words: string } | undefined;
  list.forEach((words, i) => {
    if (words === undefined) return;
    if (words !== "" && open?.words === words) open.to = i + 1;
    else if (words === "") open = undefined;
    else found.push((open = { from: i, to: i + 1, words }));
  });
  return found;
}

/** A run that is written on the ribbon, and the stripe at which its words must end. */
export interface Label {
  readonly run: Run;
  readonly to: number;
}

/**
 * The runs that can be written, each at its beginning, in reading order: longer
 * ones first, as many as leave each other the least room, in stripes.
 */
export function labels(all: readonly Run[], stripes: number, least: number): Label[] {
  const taken: Run[] = [];
  for (const run of [...all].sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from)) {
    if (run.from + least <= stripes && taken.every((other) => Math.abs(other.from - run.from) >= least)) taken.push(run);
  }
  taken.sort((a, b) => a.from - b.from);
  return taken.map((run, i) => ({ run, to: taken[i + 1]?.from ?? stripes }));
}

/** "Pages 4 and 5: photos 1 and 30. Cream and brown; red. Rovinj, 3 May 2026." */
export function ribbonWords(o: Opening, photos: Known): string {
  const shown = photosOf(o).flatMap((id) => photos.get(id) ?? []);
  const sentence = (words: string) => (words === "" ? "" : ` ${words[0]!.toUpperCase()}${words.slice(1)}.`);
  const colours = shown.map(mainColours).filter(Boolean).join("; ");
  const where = each(shown.map(placeOf)).join(" and ");
  const when = each(shown.map(dayOfPhoto)).join(" and ");
  return `${openingWords(o)}${sentence(colours)}${sentence([where, when].filter(Boolean).join(", "))}`;
}

const named = 2; // colours of a photo that are named

function mainColours(p: Photo): string {
  const words = [...p.palette].sort((a, b) => b.weight - a.weight).map((s) => colourWords(s.lab));
  return each(words).slice(0, named).join(" and ");
}

function each(list: readonly string[]): string[] {
  return [...new Set(list)].filter((words) => words !== "");
}

/** The opening at a part (0..1) of the ribbon's length. */
export function openingAt(r: Ribbon, part: number): number {
  const i = Math.min(r.stripes.length - 1, Math.max(0, Math.floor(part * r.stripes.length)));
  return r.stripes[i]!.opening;
}

/** Where an opening's stripes begin and end. */
export function stripesOf(r: Ribbon, opening: number): { from: number; to: number } {
  const from = r.stripes.findIndex((s) => s.opening === opening);
  return { from, to: from + r.stripes.filter((s) => s.opening === opening).length };
}
