// The packing table: which parcel is in the hand, and what is said of it. No DOM.

import type * as api from "../net/api";
import { plural } from "./words";

/** What tells one parcel on the table from another. */
export const parcelKey = (p: { readonly order: number; readonly copies: readonly api.CopyRef[] }): string =>
  `${p.order}:${p.copies.map((c) => `${c.series}${c.number}`).join(",")}`;

/** The parcels still to pack, those put off at the end in the order in which they were. */
export function inTurn(waiting: readonly api.ToPack[], later: readonly string[]): api.ToPack[] {
  const put = new Map(later.map((key, i) => [key, i]));
  const at = (p: api.ToPack) => put.get(parcelKey(p)) ?? -1;
  return [...waiting].sort((a, b) => at(a) - at(b)); // sorting keeps shelf order among the rest
}

/** The parcel in the hand: the one taken up, otherwise the next in turn. */
export function inHand(turn: readonly api.ToPack[], taken: string | undefined): api.ToPack | undefined {
  return turn.find((p) => parcelKey(p) === taken) ?? turn[0];
}

/** How far the work is, in words. */
export function progressWords(table: { readonly waiting: readonly api.ToPack[]; readonly done: readonly api.Done[]; readonly held: readonly api.HeldUp[] }): string {
  const copies = table.waiting.reduce((n, p) => n + p.copies.length, 0);
  const whole = table.waiting.length + table.done.length;
  const held = table.held.length > 0 ? `; ${plural(table.held.length, "order")} held up` : "";
  if (table.waiting.length === 0) return `${plural(whole, "parcel")} packed${held}.`;
  return `${table.done.length} of ${plural(whole, "parcel")} packed; ${plural(copies, "copy", "copies")} still to go${held}.`;
}

/** A mass in grams with at most one decimal. */
export const grams = (milligrams: number): string => `${Math.round(milligrams / 100) / 10} g`;
