// What the program says of a pair, of a proposal and of a loss, as lines to be
// read.

import type * as api from "../net/api";
import { chosenPhoto, type Hand } from "./hand";
import { empty, indexOf, lying, paired, type PhotoID, type Sequence, type SpreadID } from "./sequence";
import { facing, plural } from "./words";
import { nameWords } from "./weighing";

/** The photo that partners are looked for: the one chosen, or the one that the blank page of a chosen spread faces; 0 for none. */
export function askedOf(q: Sequence, hand: Hand): PhotoID {
  if (hand.chosen?.kind !== "spread") return chosenPhoto(hand);
  const spread = q.spreads[indexOf(q, hand.chosen.spread)];
  return spread && !paired(spread) && !spread.across && !empty(spread) ? spread.left || spread.right : 0;
}

/** The blank page that is asked for, when a spread with one is chosen. */
export function blankAsked(q: Sequence, hand: Hand): { readonly spread: SpreadID; readonly side: "left" | "right" } | undefined {
  if (hand.chosen?.kind !== "spread" || askedOf(q, hand) === 0) return undefined;
  const spread = q.spreads[indexOf(q, hand.chosen.spread)]!;
  return { spread: spread.id, side: spread.left ? "right" : "left" };
}

/** One figure behind a judgement. */
export interface Figure {
  readonly name: string;
  readonly known: boolean;
  readonly score: string; // "0.83"; "" when not known
  readonly words: string;
  readonly measure: string; // "ΔE00 4.1"; "" when not known, or when there is nothing to measure
  readonly parts: readonly Figure[];
}

type Said = Pick<api.Evidence, "known" | "score" | "words" | "measure" | "unit">;

export function figures(evidence: readonly api.Evidence[]): Figure[] {
  return evidence.map((e) => figure(e.kind, e, (e.relations ?? []).map((r) => figure(r.relation, r, []))));
}

function figure(name: string, said: Said, parts: readonly Figure[]): Figure {
  return { name: nameWords(name), known: said.known, score: said.known ? said.score.toFixed(2) : "", words: said.words,
    measure: said.known ? measureText(said.measure ?? 0, said.unit) : "", parts };
}

/** A measure with its unit, as exact as it means something. */
export function measureText(measure: number, unit: string): string {
  const minute = 60, hour = 60 * minute, day = 24 * hour;
  switch (unit) {
    case "": return "";
    case "s":
      if (measure < 2 * minute) return `${Math.round(measure)} s`;
      if (measure < 2 * hour) return `${Math.round(measure / minute)} min`;
      return measure < 2 * day ? `${(measure / hour).toFixed(1)} h` : `${(measure / day).toFixed(1)} days`;
    case "of the height":
    case "of the width": return `${(100 * measure).toFixed(1)} % ${unit}`;
    case "ΔE00":
    case "L*": return `${unit} ${measure.toFixed(1)}`;
    default: return `${unit.startsWith("m") ? Math.round(measure) : measure.toFixed(1)}${unit.startsWith("°") ? "" : " "}${unit}`;
  }
}

/** Which page a partner would get, and why there. */
export function sideWords(q: Sequence, photo: PhotoID, partner: Pick<api.Partner, "photo" | "side" | "leftWhy">): string {
  const page = pageFor(q, photo, partner.photo);
  const why = partner.leftWhy ? `: ${partner.leftWhy}` : "";
  if (!page || page === partner.side) return `It would lie on the ${partner.side}${why}.`;
  return `The ${page} page is free for it; the ${partner.side} would suit it better${why}.`;
}

/** The side that is left for a partner by what hangs already; "" while both are free. */
export function pageFor(q: Sequence, photo: PhotoID, partner: PhotoID): "left" | "right" | "" {
  for (const [stays, other] of [[photo, "comes"], [partner, "stays"]] as const) {
    const lies = lying(q, stays);
    if (lies.on !== "page") continue;
    const side = other === "comes" ? facing(lies.page)?.side : lies.page.side;
    return side === "left" || side === "right" ? side : "";
  }
  return "";
}

/** Two photos in the order in which they would lie. */
export function leftAndRight(q: Sequence, photo: PhotoID, partner: Pick<api.Partner, "photo" | "side">): [PhotoID, PhotoID] {
  return (pageFor(q, photo, partner.photo) || partner.side) === "left" ? [partner.photo, photo] : [photo, partner.photo];
}

/** The orderings, each with one plain sentence. */
export const orderings: readonly { readonly name: NonNullable<api.ArrangementAsked["ordering"]>; readonly title: string; readonly words: string }[] = [
  { name: "", title: "What fits", words: "By day when most days are known, else by place, else by colour." },
  { name: "place", title: "By place", words: "From place to place in the order you came there, and colours flow at each." },
  { name: "day", title: "By day", words: "One day after the other, and colours flow within each." },
  { name: "colour", title: "A line of colour", words: "Each spread takes up the colours of the one before it." },
  { name: "light", title: "A line of light", words: "Light and dark follow each other in small steps." },
];

/** How good a pair must be, as a part of what two photos here are worth to each other on average. */
export function floorWords(enough: number): string {
  if (enough <= 0.05) return "any pair will do";
  if (enough < 0.75) return "leave out what hardly goes together";
  if (enough < 1.25) return "only pairs better than by chance";
  return "only the best pairs";
}

/** What is accepted of a proposal. */
export function acceptWords(taken: number, of: number): string {
  if (taken === of) return of === 1 ? "Accept it" : "Accept all";
  return `Accept ${taken} of ${of}`;
}

/** What leaves the wall with a photo, in one line. */
export function lossWords(loss: api.Loss): string {
  const only = loss.only.map((o) => o.words);
  const same = loss.same.length === 0 ? "no other says the same" : `${plural(loss.same.length, "other says", "others say")} the same`;
  if (only.length === 0) return `Nothing is its alone; ${same}.`;
  const last = only.pop()!;
  return `It is ${only.length > 0 ? `${only.join(", ")} and ${last}` : last}; ${same}.`;
}
