// When a photo was taken, as a person types it and as it is told back. A typed
// time is as precise as it was typed: a minute, a day, some days, or unknown.

import type * as api from "../net/api";
import { done, refused, type Outcome } from "./sequence";

export const months = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/** A calendar day; month counts from 1. */
export interface Day {
  readonly y: number;
  readonly m: number;
  readonly d: number;
}

/** What was typed means this time, or that it is not known. */
export type Typed = { readonly is: "time"; readonly when: api.When } | { readonly is: "unknown" };

const firstPhotograph = 1826; // no photograph is older (from memory: Niépce's view from a window, 1826 or 1827)
const example = "Write it like 7 May 2026, 2026-05-07 16:40, or 3–9 May 2026.";

/** Reads what the maker typed. today bounds it: nothing was taken tomorrow. */
export function readWhen(text: string, today: Day): Outcome<Typed> {
  const typed = text.trim().toLowerCase();
  if (typed === "") return refused("Nothing is written.", example);
  if (/^(unknown|not known|nobody knows|no idea|\?+)$/.test(typed)) return done({ is: "unknown" });
  const clock = takeClock(typed);
  if (!clock) return refused("There is no such time of day.", example);
  const days = readDays(clock.rest);
  if (!days) return refused(`“${text.trim()}” cannot be read as a date.`, example);
  const [from, to] = days;
  for (const day of [from, to]) if (!exists(day)) return refused(`There is no ${dayWords(day)}.`, "Look at the day and the month again.");
  if (order(from) > order(to)) return refused("It ends before it begins.", "Write the earlier day first.");
  if (from.y < firstPhotograph) return refused(`No photograph was taken in ${from.y}.`, "Write the year with four digits.");
  if (order(from) > order(today)) return refused(`${dayWords(from)} has not come yet.`, "Look at the year again.");
  if (clock.at && order(from) !== order(to)) return refused("A time of day goes with one day.", example);
  return done({ is: "time", when: clock.at ? instant(from, clock.at, clock.offset) : wholeDays(from, to) });
}

function instant(day: Day, at: string, offset: number | undefined): api.When {
  const moment = `${iso(day)}T${at}`;
  const when: api.When = { precision: "instant", from: moment, to: moment, source: "maker" };
  return offset === undefined ? when : { ...when, offset };
}

/** Some moment of the days from one to another, as the program writes it. */
export function wholeDays(from: Day, to: Day): api.When {
  const precision = order(from) === order(to) ? "day" : "span";
  return { precision, from: `${iso(from)}T00:00:00`, to: `${iso(to)}T23:59:59`, source: "maker" };
}

interface Clock {
  readonly at: string; // "16:40:00"; "" when only days were written
  readonly offset: number | undefined; // minutes east of UTC
  readonly rest: string;
}

/** Takes the time of day off the end of what was typed; undefined when there is no such time. */
function takeClock(typed: string): Clock | undefined {
  const found = /(?:\s|,|\bat|(?<=\d)t)\s*(\d{1,2})(?::(\d{2})(?::(\d{2})(?:\.\d+)?)?)?\s*([ap]\.?m\.?)?\s*(z|utc|gmt|[+-]\d{1,2}(?::?\d{2})?)?$/.exec(typed);
  if (!found || (found[2] === undefined && found[4] === undefined)) return { at: "", offset: undefined, rest: typed };
  let hour = Number(found[1]);
  if (found[4]) {
    if (hour < 1 || hour > 12) return undefined;
    hour = (hour % 12) + (found[4].startsWith("p") ? 12 : 0);
  }
  const minute = Number(found[2] ?? 0);
  const second = Number(found[3] ?? 0);
  if (hour > 23 || minute > 59 || second > 59) return undefined;
  const offset = readOffset(found[5]);
  if (offset !== undefined && Math.abs(offset) > 14 * 60) return undefined;
  return { at: [hour, minute, second].map(two).join(":"), offset, rest: typed.slice(0, found.index) };
}

function readOffset(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (/^[a-z]/.test(text)) return 0;
  const [, sign, hours, minutes] = /^([+-])(\d{1,2}):?(\d{2})?$/.exec(text)!;
  return (Number(hours) * 60 + Number(minutes ?? 0)) * (sign === "-" ? -1 : 1);
}

/** The first and the last day that was written; undefined when it is no date. */
function readDays(text: string): [Day, Day] | undefined {
  const plain = text
    .replace(/(\d{4})-(\d{1,2})-(\d{1,2})(?!\d)/g, "$3#$2#$1") // marked, so that their hyphens join no span
    .replace(/(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})/g, "$1#$2#$3")
    .replace(/(\d{1,2})\/(\d{1,2})\/(\d{4})/g, (_, a: string, b: string, y: string) => slashed(a, b, y))
    .replace(/\b(on|of|the|from|between|in|about|mon|tues?|wed(nes)?|thu(rs)?|fri|sat(ur)?|sun)(day)?\b\.?/g, " ")
    .replace(/(\d)(st|nd|rd|th)\b/g, "$1")
    .replace(/[,.]/g, " ").trim();
  const ends = plain.split(/\s*(?:–|—|-|\/|\bto\b|\buntil\b|\btill\b|\band\b)\s*/);
  if (ends.length > 2) return undefined;
  const last = readPart(ends.at(-1)!);
  const first = ends.length === 2 ? readPart(ends[0]!) : last;
  if (!first || !last) return undefined;
  // "3–9 May 2026": what the first part leaves out, it shares with the last.
  const from = { d: first.d, m: first.m || last.m, y: first.y || last.y };
  if (!last.y || (last.d && !last.m) || (!last.m && first.m) || (first.d > 0) !== (last.d > 0)) return undefined;
  return [
    { y: from.y, m: from.m || 1, d: from.d || 1 },
    { y: last.y, m: last.m || 12, d: last.d || daysIn(last.y, last.m || 12) },
  ];
}

/** With strokes, people write day or month first: it is only read when just one of the two can be. */
function slashed(a: string, b: string, y: string): string {
  if (Number(a) > 12 || a === b) return `${a}#${b}#${y}`;
  return Number(b) > 12 ? `${b}#${a}#${y}` : "unclear";
}

interface Part { d: number; m: number; y: number } // 0 for what is not said

function readPart(text: string): Part | undefined {
  const part: Part = { d: 0, m: 0, y: 0 };
  for (const word of text.split(/\s+/)) {
    const marked = /^(\d{1,2})#(\d{1,2})#(\d{4})$/.exec(word);
    const named = /^[a-z]{3,}$/.test(word) ? months.findIndex((m) => m.toLowerCase().startsWith(word === "sept" ? "sep" : word)) + 1 : 0;
    if (marked && !part.d && !part.m && !part.y) [part.d, part.m, part.y] = [Number(marked[1]), Number(marked[2]), Number(marked[3])];
    else if (/^\d{4}$/.test(word) && !part.y) part.y = Number(word);
    else if (/^\d{1,2}$/.test(word) && Number(word) > 0 && !part.d) part.d = Number(word);
    else if (named > 0 && !part.m) part.m = named;
    else return undefined;
  }
  return part;
}

function daysIn(y: number, m: number): number {
  return new Date(Date.UTC(y, m, 0)).getUTCDate();
}

function exists({ y, m, d }: Day): boolean {
  return m >= 1 && m <= 12 && d >= 1 && d <= daysIn(y, m);
}

function order({ y, m, d }: Day): number {
  return (y * 100 + m) * 100 + d;
}

function two(n: number): string {
  return String(n).padStart(2, "0");
}

function iso({ y, m, d }: Day): string {
  return `${String(y).padStart(4, "0")}-${two(m)}-${two(d)}`;
}

export function dayWords({ y, m, d }: Day): string {
  return `${d} ${months[m - 1] ?? `(month ${m})`} ${y}`;
}

export function dayOf(text: string): Day {
  const [y, m, d] = text.slice(0, 10).split("-").map(Number);
  return { y: y!, m: m!, d: d! };
}

/** Today as the maker's own clock has it. */
export function dayFrom(now: Date): Day {
  return { y: now.getFullYear(), m: now.getMonth() + 1, d: now.getDate() };
}

/** Whether it says when the photo was taken: a scanner's date does not. */
export function countsAsTaken(w: api.When): boolean {
  return w.precision !== "unknown" && w.from !== undefined && w.source !== "scanner";
}

/** When, as closely as it is known: "3 May 2026, 17:04", "3–9 May 2026", "date unknown". */
export function whenWords(w: api.When): string {
  if (w.precision === "unknown" || !w.from) return "date unknown";
  if (w.source === "scanner") return `scanned ${spanWords(dayOf(w.from), dayOf(w.to ?? w.from))}; taking date unknown`;
  if (w.precision === "instant") return `${dayWords(dayOf(w.from))}, ${w.from.slice(11, 16)}`;
  return spanWords(dayOf(w.from), dayOf(w.to ?? w.from));
}

/** Names the days from one to another without repeating what they share; whole months and years go by their own names. */
export function spanWords(from: Day, to: Day): string {
  const whole = from.d === 1 && to.d === daysIn(to.y, to.m);
  const month = (day: Day) => months[day.m - 1]!;
  if (whole && from.m === 1 && to.m === 12) return from.y === to.y ? String(to.y) : `${from.y}–${to.y}`;
  if (whole) {
    if (from.y !== to.y) return `${month(from)} ${from.y} – ${month(to)} ${to.y}`;
    return from.m === to.m ? `${month(to)} ${to.y}` : `${month(from)}–${month(to)} ${to.y}`;
  }
  if (order(from) === order(to)) return dayWords(to);
  if (from.y !== to.y) return `${dayWords(from)} – ${dayWords(to)}`;
  return from.m === to.m ? `${from.d}–${dayWords(to)}` : `${from.d} ${month(from)} – ${dayWords(to)}`;
}

/** The same in a form that can be typed again; "" when nothing is known that could be. */
export function typedWhen(w: api.When): string {
  return countsAsTaken(w) ? whenWords(w) : "";
}
