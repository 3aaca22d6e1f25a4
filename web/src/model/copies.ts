// Copies and orders in words, and what the page has to reckon of them: nothing
// here asks the program or touches the page.

import type * as api from "../net/api";

export type Place = api.Copy["place"];
export type Purpose = api.Order["for"];
export type OrderState = api.Order["state"];
export type Field = api.OrderTable["fields"][number];

export const placeWords: Readonly<Record<Place, string>> = { here: "here", shop: "with a shop", sold: "sold", given: "given", damaged: "damaged" };
export const purposeWords: Readonly<Record<Purpose, string>> = {
  sale: "for sale", deposit: "for deposit", friend: "for a friend", press: "for the press", shop: "to a shop, on consignment", maker: "the maker's own",
};
export const stateWords: Readonly<Record<OrderState, string>> = { open: "to be sent", sent: "sent or handed over", cancelled: "cancelled" };

/** A weight for people: "130.5 g". */
export function massWords(milligrams: number): string {
  return `${Math.round(milligrams / 100) / 10} g`;
}

/** Grams as typed, as whole milligrams; undefined for what is no weight up to 1000 kg. */
export function readGrams(typed: string): number | undefined {
  const text = typed.trim().replace(",", ".").replace(/\s*g$/i, "");
  if (!/^\d{1,6}(\.\d{1,3})?$/.test(text)) return undefined;
  return Math.round(Number(text) * 1000);
}

/** Grams as they stand in a field; "" for nothing said. */
export function gramsOf(milligrams: number): string {
  return milligrams === 0 ? "" : String(milligrams / 1000);
}

/** Millimetres as typed; undefined for what is no length up to 3 m. */
export function readMm(typed: string): number | undefined {
  const text = typed.trim().replace(",", ".").replace(/\s*mm$/i, "");
  if (!/^\d{1,4}(\.\d{1,2})?$/.test(text)) return undefined;
  return Number(text) <= 3000 ? Number(text) : undefined;
}

/** What the maker shows of the copies. */
export type Shown = "all" | "free" | Place;

export function isFree(c: api.Copy): boolean {
  return c.place === "here" && !c.order && c.for === "sale";
}

export function shownCopies(copies: readonly api.Copy[], shown: Shown): api.Copy[] {
  if (shown === "all") return [...copies];
  return copies.filter((c) => (shown === "free" ? isFree(c) : c.place === shown));
}

/** Names one copy among all of a title. */
export function keyOf(ref: api.CopyRef): string {
  return `${ref.series} ${ref.number}`;
}

/** "62 free to sell, 30 sold, 8 with a shop". */
export function tallyWords(t: api.Tally): string {
  const parts = [`${t.free} free to sell`];
  for (const place of ["sold", "shop", "given", "damaged"] as const) {
    const n = t.by[place] ?? 0;
    if (n > 0) parts.push(`${n} ${placeWords[place]}`);
  }
  const kept = (t.by.here ?? 0) - t.free;
  if (kept > 0) parts.push(`${kept} here and kept`);
  if (t.waiting > 0) parts.push(`${t.waiting} ordered beyond those there are`);
  return parts.join(", ");
}

/** An order nobody has entered yet. */
export function newOrder(day: string): api.Order {
  const nothing = { minor: 0, currency: "" };
  return {
    id: 0, revision: 0, number: "", channel: "", day, for: "sale", copies: 1, price: nothing, postage: nothing, wish: "", note: "", state: "open", allotted: [], erased: false,
    to: { name: "", company: "", lines: [], postcode: "", town: "", region: "", country: "", email: "", phone: "" },
  };
}

/** Letters without case and accents, as people look for them. */
function plain(text: string): string {
  return text.normalize("NFKD").replace(/\p{Mn}/gu, "").toLowerCase();
}

/** The orders that hold every word typed, in whatever they say. */
export function foundOrders(orders: readonly api.OrderShown[], typed: string, state: OrderState | "all" | "waiting" | "doubtful"): api.OrderShown[] {
  const words = plain(typed).split(/\s+/).filter(Boolean);
  return orders.filter((shown) => {
    const { order } = shown;
    if (state === "waiting" ? lacking(order) === 0 : state === "doubtful" ? shown.doubts.length === 0 : state !== "all" && order.state !== state) return false;
    const { to } = order;
    const said = plain([order.number, order.channel, order.wish, order.note, to.name, to.company, ...to.lines, to.postcode, to.town, to.region, to.country, to.email, to.phone, ...shown.marks].join("\n"));
    return words.every((word) => said.includes(word));
  });
}

/** How many copies an order still waits for. */
export function lacking(order: api.Order): number {
  return order.state === "cancelled" ? 0 : Math.max(0, order.copies - order.allotted.length);
}

/** Address lines as typed in a field of several lines. */
export function linesOf(typed: string): string[] {
  return typed.split("\n").map((line) => line.trim()).filter(Boolean);
}

/** Matches a column with a field, or with nothing: each field has one column, each column one field. */
export function matched(columns: Readonly<Record<string, number>>, column: number, field: Field | ""): Record<string, number> {
  const next: Record<string, number> = {};
  for (const [name, at] of Object.entries(columns)) if (at !== column && name !== field) next[name] = at;
  if (field) next[field] = column;
  return next;
}

/** What a column is matched with; "" for nothing. */
export function fieldAt(columns: Readonly<Record<string, number>>, column: number): Field | "" {
  return (Object.entries(columns).find(([, at]) => at === column)?.[0] ?? "") as Field | "";
}

const lead: Readonly<Record<string, string>> = { ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes" };

/** What a table was found to be: "12 rows in windows-1252, parted by semicolons". */
export function tableWords(t: api.Table): string {
  return `${t.rows} ${t.rows === 1 ? "row" : "rows"} in ${t.encoding}, parted by ${lead[t.separator] ?? t.separator}`;
}
