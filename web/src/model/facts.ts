// What is known of photos, as the maker can state it: each fact as a value,
// shared or mixed among several photos, and statements that say it anew.

import type * as api from "../net/api";
import type { Statement } from "./change";
import type { PhotoID } from "./sequence";
import { sourceWords } from "./photo";
import { countsAsTaken, whenWords } from "./when";
import { photosText } from "./words";

/** A photo as the program tells it, with the words for its place. */
export type Photo = api.Photo & { readonly label?: string };

/** What can be stated of photos in this page; the program knows a gaze besides. */
export type Fact = "taken" | "where" | "roll" | "frame" | "caption" | "feeling" | "note";

/** What is held of a photo, as the program compares it: nothing known is an empty value. */
export function valueOf(p: Photo, fact: string): api.Value {
  switch (fact) {
    case "taken": return p.taken.precision === "unknown" ? {} : { taken: p.taken };
    case "where": return p.where ? { where: p.where } : {};
    case "roll": return text(p.roll);
    case "frame": return text(p.frame);
    case "caption": return text(p.caption);
    case "note": return text(p.note ?? "");
    case "feeling": return p.feeling && p.feeling.length > 0 ? { words: p.feeling } : {};
    case "gaze": return p.gaze ? { gaze: p.gaze } : {};
    default: return {};
  }
}

function text(words: string): api.Value {
  return words === "" ? {} : { text: words };
}

/** The photo as a statement has it. A new place has no words yet: the program finds them. */
export function stated(p: Photo, fact: string, now: api.Value): Photo {
  switch (fact) {
    case "taken": return { ...p, taken: now.taken ?? { precision: "unknown", source: "" } };
    case "where": return without({ ...p, label: "" }, "where", now.where);
    case "roll": return { ...p, roll: now.text ?? "" };
    case "frame": return { ...p, frame: now.text ?? "" };
    case "caption": return { ...p, caption: now.text ?? "" };
    case "note": return { ...p, note: now.text ?? "" };
    case "feeling": return without(p, "feeling", now.words);
    case "gaze": return without(p, "gaze", now.gaze);
    default: return p;
  }
}

function without<K extends "where" | "feeling" | "gaze">(p: Photo, name: K, value: api.Photo[K] | undefined): Photo {
  const { [name]: _, ...rest } = p;
  return value === undefined ? (rest as Photo) : { ...p, [name]: value };
}

export function sameValue(a: api.Value, b: api.Value): boolean {
  return canonical(a) === canonical(b);
}

function canonical(value: unknown): string {
  return JSON.stringify(value, (_, v: unknown) => (v && typeof v === "object" && !Array.isArray(v) ? Object.fromEntries(Object.entries(v).sort(([a], [b]) => (a < b ? -1 : 1))) : v));
}

/** Statements that make the fact of each photo what now gives; those that are so already are passed over. */
export function statements(photos: readonly Photo[], fact: Fact, now: (p: Photo, i: number) => api.Value): Statement[] {
  return photos.flatMap((p, i) => {
    const was = valueOf(p, fact);
    const value = now(p, i);
    return sameValue(was, value) ? [] : [{ photo: p.number, fact, was, now: value }];
  });
}

/** What several photos hold of a fact, the most frequent first. */
export interface Held {
  readonly value: api.Value;
  readonly photos: readonly PhotoID[];
}

export function held(photos: readonly Photo[], fact: Fact): Held[] {
  const by = new Map<string, { value: api.Value; photos: PhotoID[] }>();
  for (const p of photos) {
    const value = valueOf(p, fact);
    const key = canonical(value);
    const entry = by.get(key);
    if (entry) entry.photos.push(p.number);
    else by.set(key, { value, photos: [p.number] });
  }
  return [...by.values()].sort((a, b) => b.photos.length - a.photos.length);
}

/** How closely a time is known, and who says so. */
export function takenNote(w: api.When): string {
  if (w.precision === "unknown") return "";
  const close = { instant: "to the second", day: "to the day", span: "some time in these days" }[w.precision];
  if (w.source === "scanner") return ""; // its words say so themselves
  const zone = w.precision === "instant" ? (w.offset === undefined ? ", no time zone known" : `, ${zoneWords(w.offset)}`) : "";
  return [`${close}${zone}`, sourceWords(w.source)].filter(Boolean).join("; ");
}

/** "UTC+2", "UTC−3:30" */
export function zoneWords(minutes: number): string {
  const whole = Math.trunc(Math.abs(minutes) / 60);
  const part = Math.abs(minutes) % 60;
  if (minutes === 0) return "UTC";
  return `UTC${minutes < 0 ? "−" : "+"}${whole}${part ? `:${String(part).padStart(2, "0")}` : ""}`;
}

/** "45.5279° north, 13.5690° east" */
export function degrees(lat: number, lng: number): string {
  const side = (v: number, plus: string, minus: string) => `${Math.abs(v).toFixed(4)}° ${v < 0 ? minus : plus}`;
  return `${side(lat, "north", "south")}, ${side(lng, "east", "west")}`;
}

/** A radius as one says it: "80 m", "2 km", "12.5 km". */
export function lengthWords(metres: number): string {
  if (metres < 1000) return `${Math.round(metres)} m`;
  return `${Number((metres / 1000).toFixed(metres < 20_000 ? 1 : 0))} km`;
}

/** How closely a place is known, and who says so. */
export function whereNote(w: api.Where): string {
  return [w.radius > 0 ? `within ${lengthWords(w.radius)}` : "", sourceWords(w.source)].filter(Boolean).join("; ");
}

/** The place of a photo in words: its town, or degrees. */
export function whereWords(p: Photo): string {
  if (!p.where) return "place unknown";
  return p.label || degrees(p.where.lat, p.where.lng);
}

/** Whether the file a photo came from is no longer where it was. */
export function missing(p: Photo): boolean {
  return p.findings?.some((f) => f.code === "not-found") ?? false;
}

/** A date that the maker, or anything but a scanner, gave. */
export function dated(p: Photo): boolean {
  return countsAsTaken(p.taken);
}

/** Feelings as they are typed: words between commas, each once, in order. */
export function readFeelings(typed: string): string[] {
  const words = typed.split(/[,;\n]/).map((w) => w.trim().replace(/\s+/g, " ").normalize("NFC")).filter((w) => w !== "");
  return inWordOrder(new Set(words));
}

/** By code point, as the program orders them: UTF-16 order would differ beyond the basic plane. */
function inWordOrder(words: Iterable<string>): string[] {
  const points = (w: string) => [...w].map((c) => c.codePointAt(0)!);
  return [...words].sort((a, b) => {
    const [x, y] = [points(a), points(b)];
    const i = x.findIndex((v, k) => v !== y[k]);
    return i < 0 ? x.length - y.length : x[i]! - (y[i] ?? -1);
  });
}

/** A photo's feelings with some more, and without some. */
export function feelingsWith(p: Photo, more: readonly string[], less: readonly string[] = []): api.Value {
  const words = new Set([...(p.feeling ?? []), ...more]);
  for (const word of less) words.delete(word);
  return words.size > 0 ? { words: inWordOrder(words) } : {};
}

/** Every word already used for a feeling in the title, the most used first. */
export function feelingsUsed(photos: Iterable<Photo>): { word: string; photos: PhotoID[] }[] {
  const by = new Map<string, PhotoID[]>();
  for (const p of photos) for (const word of p.feeling ?? []) by.set(word, [...(by.get(word) ?? []), p.number]);
  return [...by].map(([word, of]) => ({ word, photos: of })).sort((a, b) => b.photos.length - a.photos.length || (a.word < b.word ? -1 : 1));
}

/**
 * The frame a photo gets when several are numbered on from the first: "7" goes
 * on 8, 9; "13A" goes on 14A. undefined when it begins with no number.
 */
export function frameFrom(first: string, i: number, backwards: boolean): string | undefined {
  const found = /^(\d+)(.*)$/.exec(first.trim());
  if (!found) return undefined;
  const n = Number(found[1]) + (backwards ? -i : i);
  return n < 0 ? undefined : String(n) + found[2];
}

/** A position that was typed in degrees: "45.528, 13.568", "45.528 N 13.568 E"; undefined when it is none. */
export function readPosition(typed: string): { lat: number; lng: number } | undefined {
  const found = /^\s*([+-−]?\d{1,2}(?:\.\d+)?)\s*°?\s*([ns])?\w*[\s,;]+([+-−]?\d{1,3}(?:\.\d+)?)\s*°?\s*([ew])?\w*\s*$/i.exec(typed);
  if (!found) return undefined;
  const read = (digits: string, wind: string | undefined) => Number(digits.replace("−", "-")) * (/[sw]/i.test(wind ?? "") ? -1 : 1);
  const [lat, lng] = [read(found[1]!, found[2]), read(found[3]!, found[4])];
  return Math.abs(lat) <= 90 && Math.abs(lng) <= 180 && (lat !== 0 || lng !== 0) ? { lat, lng } : undefined;
}

const sameRegion = 300_000; // metres; no source: a journey's next town is rarely farther

/** Towns in the region of places that are known already come before others of the same name far away. */
export function nearestFirst<T extends { lat: number; lng: number }>(towns: readonly T[], known: readonly { lat: number; lng: number }[]): T[] {
  const far = (t: T) => (known.some((k) => metresBetween(t, k) < sameRegion) ? 0 : 1);
  return towns.map((t) => [far(t), t] as const).sort((a, b) => a[0] - b[0]).map(([, t]) => t);
}

const earth = 6_371_008.8; // mean radius, metres (IUGG, GRS 80)

/** Along the great circle of a sphere: to half a percent, enough to sort and to draw by. */
export function metresBetween(a: { lat: number; lng: number }, b: { lat: number; lng: number }): number {
  const r = Math.PI / 180;
  const h = Math.sin(((b.lat - a.lat) * r) / 2) ** 2 + Math.cos(a.lat * r) * Math.cos(b.lat * r) * Math.sin(((b.lng - a.lng) * r) / 2) ** 2;
  return 2 * earth * Math.asin(Math.min(1, Math.sqrt(h)));
}

/** How far from its middle a picture "of that town" may well have been taken, metres. Our own choice. */
export function townRadius(people: number): number {
  return people >= 500_000 ? 10_000 : people >= 50_000 ? 5000 : people >= 5000 ? 2000 : 1000;
}

/** "photo 12", "photos 12 and 47", "8 photos", to be said something of. */
export function of(photos: readonly PhotoID[]): string {
  return photos.length === 1 ? `photo ${photos[0]}` : photos.length > 4 ? `${photos.length} photos` : `photos ${photosText(photos)}`;
}

/** The act of stating a fact of photos, in words: "say that 12 photos were taken 7 May 2026". */
export function actWords(photos: readonly PhotoID[], fact: Fact, now: api.Value, place = ""): string {
  const were = photos.length === 1 ? "was" : "were";
  const are = photos.length === 1 ? "is" : "are";
  switch (fact) {
    case "taken": return now.taken ? `say that ${of(photos)} ${were} taken ${whenWords(now.taken)}` : `say that nobody knows when ${of(photos)} ${were} taken`;
    case "where": return now.where ? `say that ${of(photos)} ${were} taken at ${place || degrees(now.where.lat, now.where.lng)}` : `say that nobody knows where ${of(photos)} ${were} taken`;
    case "roll": return now.text ? `say that ${of(photos)} ${are} of roll ${now.text}` : `say that ${of(photos)} ${are} of no known roll`;
    case "frame": return now.text ? `say that ${of(photos)} ${are} frame ${now.text}` : `say that the frame of ${of(photos)} is not known`;
    case "caption": return now.text ? `write a caption for ${of(photos)}` : `take the caption from ${of(photos)}`;
    case "note": return now.text ? `write a note on ${of(photos)}` : `take the note from ${of(photos)}`;
    case "feeling": return `say how ${of(photos)} ${photos.length === 1 ? "feels" : "feel"}`;
  }
}
