// How the prints of the table are laid out: in which order, in which groups,
// and which of them are shown while the maker looks for something.

import type * as api from "../net/api";
import { colourFamily, feelingGroup, groupsBy, ofColour, tones, type By, type Group, type Use } from "./choosing";
import { dated, type Photo } from "./facts";
import { answers, readQuery } from "./finding";
import { inPiles, type Laid, type Pile } from "./piles";
import type { PhotoID } from "./sequence";
import { plural } from "./words";
import { dayOf, dayWords, spanWords } from "./when";

export type TableOrder = "came" | "taken" | "roll" | "place" | "colour" | "light" | "feeling" | "kind";

/** The orders as they can be chosen. */
export const tableOrders: readonly (readonly [TableOrder, string])[] = [
  ["came", "as they came"], ["taken", "by day"], ["roll", "by roll"], ["place", "by place"], ["colour", "by colour"],
  ["light", "from light to dark"], ["feeling", "by feeling"], ["kind", "by kind"],
];

const natural = new Intl.Collator("en", { numeric: true });
const last = "\uffff"; // sorts behind every word

/** Photos in an order, in the groups it makes; "came" makes one without words. What an order knows nothing of comes last. */
export function inGroups(photos: readonly Photo[], order: TableOrder): Group[] {
  const list = [...photos].sort((a, b) => a.number - b.number);
  switch (order) {
    case "taken": return gathered(list.sort((a, b) => byText(takenAt(a), takenAt(b))), dayHead);
    case "roll": return gathered(list.sort((a, b) => natural.compare(a.roll || last, b.roll || last) || natural.compare(a.frame || last, b.frame || last)),
      (p) => (p.roll ? [p.roll, `Roll ${p.roll}`] : [last, "Of no known roll"]));
    case "place": return placeGroups(list);
    case "colour": return gathered(list.sort((a, b) => colourFamily(a).rank - colourFamily(b).rank || b.tone.mean - a.tone.mean), (p) => {
      const { rank, words } = colourFamily(p);
      return [String(rank), words];
    });
    case "light": return gathered(list.sort((a, b) => b.tone.mean - a.tone.mean), (p) => {
      const tone = tones.find((t) => p.tone.mean >= t.from)!;
      return [tone.key, tone.words];
    });
    case "feeling": {
      const of = feelingGroup(list);
      return gathered(list, (p) => (of(p) ? [of(p)!, of(p)!] : [last, "Without a feeling"])).sort(byKey);
    }
    case "kind": return gathered(list, (p) => [`${p.scan ? 0 : 1}${p.tone.monochrome ? 1 : 0}`, `${p.scan ? "Film" : "No film"}, ${p.tone.monochrome ? "black and white" : "in colour"}`]).sort(byKey);
    default: return list.length === 0 ? [] : [{ key: "", words: "", photos: list.map((p) => p.number) }];
  }
}

/** By when it was taken; a scanner's date is none. */
function takenAt(p: Photo): string {
  return dated(p) ? p.taken.from! : last;
}

function dayHead(p: Photo): Head {
  if (!dated(p)) return [last, "Nobody knows when"];
  const from = p.taken.from!;
  const to = p.taken.to ?? from;
  if (p.taken.precision !== "span") return [from.slice(0, 10), () => dayWords(dayOf(from))];
  return [`${from.slice(0, 10)} to ${to.slice(0, 10)}`, () => spanWords(dayOf(from), dayOf(to))];
}

/** Towns in the order they were come to, as far as that is known. */
function placeGroups(list: Photo[]): Group[] {
  const groups = gathered(list.sort((a, b) => byText(takenAt(a), takenAt(b))), (p) =>
    (!p.where ? [last, "Nobody knows where"] : p.label ? [p.label, p.label.split(",")[0]!] : ["\ufffe", "Far from any known town"]));
  return groups.filter((g) => g.key < "\ufffe").concat(groups.filter((g) => g.key >= "\ufffe").sort((a, b) => byText(a.key, b.key)));
}

/** What a group is known by, and its words; a thousand photos need only those of a few groups. */
type Head = readonly [key: string, words: string | (() => string)];

/** Gathers a list by what each photo has; groups stand in the order of the list. */
function gathered(list: readonly Photo[], of: (p: Photo) => Head): Group[] {
  const groups = new Map<string, { key: string; words: string; photos: PhotoID[] }>();
  for (const p of list) {
    const [key, words] = of(p);
    const group = groups.get(key);
    if (group) group.photos.push(p.number);
    else groups.set(key, { key, words: typeof words === "string" ? words : words(), photos: [p.number] });
  }
  return [...groups.values()];
}

function byKey(a: Group, b: Group): number {
  return natural.compare(a.key, b.key);
}

function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** One thing that prints must have to be shown. */
export interface Only {
  readonly by: By;
  readonly key: string; // of the group, or of the colour
  readonly words: string;
  readonly colour?: { readonly lab: api.Lab; readonly within: number };
}

/** What is shown of the table. Nothing is kept of it: whoever comes back sees all. */
export interface Showing {
  readonly text: string; // as typed into the field
  readonly only: readonly Only[]; // of one kind any will do, of different kinds all are wanted
}

export const showingAll: Showing = { text: "", only: [] };

export function showsAll(s: Showing): boolean {
  return s.only.length === 0 && readQuery(s.text) === undefined;
}

/** Adds a wish, or takes it back. Of its use a photo has one only, so the other is let go. */
export function turn(s: Showing, only: Only): Showing {
  const there = s.only.some((o) => o.by === only.by && o.key === only.key);
  const rest = s.only.filter((o) => (only.by === "use" ? o.by !== "use" : !(o.by === only.by && o.key === only.key)));
  return { ...s, only: there ? rest : [...rest, only] };
}

/** Those of the photos that are to be shown, in the order given. */
export function sieved(photos: readonly Photo[], s: Showing, use: Use): Photo[] {
  const query = readQuery(s.text);
  let rest = query ? photos.filter((p) => answers(p, query)) : [...photos];
  for (const by of new Set(s.only.map((o) => o.by))) {
    const kept = new Set(s.only.filter((o) => o.by === by).flatMap((o) => having(photos, o, use)));
    rest = rest.filter((p) => kept.has(p.number));
  }
  return rest;
}

function having(photos: readonly Photo[], only: Only, use: Use): readonly PhotoID[] {
  if (only.colour) return ofColour(photos, only.colour.lab, only.colour.within);
  return groupsBy(photos, only.by as Exclude<By, "colour">, use).find((g) => g.key === only.key)?.photos ?? [];
}

/** What is shown, in words: "“ferry”; Roll 3 or Roll 4; Not yet used". */
export function showingWords(s: Showing): string {
  const kinds = [...new Set(s.only.map((o) => o.by))].map((by) => s.only.filter((o) => o.by === by).map((o) => o.words).join(" or "));
  return [...(readQuery(s.text) ? [`“${s.text.trim()}”`] : []), ...kinds].join("; ");
}

/** Lays the shown prints group by group, each in piles where the maker wants piles. */
export function lay(shown: readonly Photo[], order: TableOrder, piles: readonly Pile[] | undefined, open: ReadonlySet<PhotoID>): Laid[] {
  return inGroups(shown, order).flatMap((group) => {
    const laid: Laid[] = piles ? inPiles(group.photos, piles, open) : group.photos.map((photo) => ({ photo }));
    if (group.words === "" || laid.length === 0) return laid;
    return [{ ...laid[0]!, head: { key: group.key, words: group.words, photos: group.photos } }, ...laid.slice(1)];
  });
}

/** How much of the table is in sight: "34 of 212 shown". */
export function shownWords(shown: number, all: number): string {
  return shown === 0 ? `None of ${plural(all, "photo")} shown` : `${shown} of ${all} shown`;
}
