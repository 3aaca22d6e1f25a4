// Choosing several photos by what they have in common.

import type * as api from "../net/api";
import { dated, feelingsUsed, type Photo } from "./facts";
import type { PhotoID } from "./sequence";
import { dayOf, dayWords, spanWords } from "./when";

/** What photos can be chosen by. */
export type By = "roll" | "day" | "place" | "colour" | "tone" | "feeling" | "kind" | "use" | "missing";

/** What became of photos so far. */
export interface Use {
  readonly wall: ReadonlySet<PhotoID>; // there now
  readonly hung: ReadonlySet<PhotoID>; // there now or at any time before
}

/** Photos that have something in common, and what that is. */
export interface Group {
  readonly key: string;
  readonly words: string;
  readonly photos: readonly PhotoID[];
}

/** What choosing a group does to those chosen already. */
export type Way = "only" | "add" | "among";

/** The chosen photos after a group was pressed. One that is chosen whole is put down again. */
export function combine(chosen: readonly PhotoID[], group: readonly PhotoID[], way: Way): PhotoID[] {
  if (way === "among") return chosen.filter((id) => group.includes(id));
  const whole = group.every((id) => chosen.includes(id));
  if (way === "add") return whole ? chosen.filter((id) => !group.includes(id)) : [...chosen, ...group.filter((id) => !chosen.includes(id))];
  return whole && chosen.length === group.length ? [] : [...group];
}

/** The groups of photos by one thing they share, in an order that makes sense for it. */
export function groupsBy(photos: readonly Photo[], by: Exclude<By, "colour">, use: Use): Group[] {
  switch (by) {
    case "roll": return gather(photos, (p) => p.roll && [p.roll, `Roll ${p.roll}`]).sort(byKey);
    case "day": return gather(photos, dayGroup).sort(byKey);
    case "place": return gather(photos, (p) => p.where && [p.label || "~", p.label || "Far from any known town"])
      .sort((a, b) => b.photos.length - a.photos.length || byKey(a, b));
    case "kind": return [
      some("scan", "Film scans", photos, (p) => p.scan),
      some("digital", "No film", photos, (p) => !p.scan),
      some("colour", "In colour", photos, (p) => !p.tone.monochrome),
      some("grey", "Black and white", photos, (p) => p.tone.monochrome),
    ].filter((g) => g.photos.length > 0);
    case "tone": return [
      ...tones.map((t, i) => some(t.key, t.words, photos, (p) => p.tone.mean >= t.from && !(p.tone.mean >= (tones[i - 1]?.from ?? Infinity)))),
      some("strong", "Strong contrast", photos, (p) => p.tone.deviation >= strong),
      some("soft", "Soft contrast", photos, (p) => p.tone.deviation < soft),
    ].filter((g) => g.photos.length > 0);
    case "feeling": return [
      ...feelingsUsed(photos).map(({ word, photos: of }) => ({ key: `feels ${word}`, words: word, photos: of })),
      some("none", "Without a feeling", photos, (p) => (p.feeling ?? []).length === 0),
    ].filter((g) => g.photos.length > 0);
    case "use": return [
      some("new", "Not yet used", photos, (p) => !use.hung.has(p.number)),
      some("once", "Once on the wall", photos, (p) => use.hung.has(p.number) && !use.wall.has(p.number)),
      some("wall", "On the wall now", photos, (p) => use.wall.has(p.number)),
    ].filter((g) => g.photos.length > 0);
    case "missing": return [
      some("date", "Without a date of taking", photos, (p) => !dated(p)),
      some("place", "Without a place", photos, (p) => !p.where),
      some("frame", "Film without roll or frame", photos, (p) => p.scan && (p.roll === "" || p.frame === "")),
      some("feeling", "Without a feeling", photos, (p) => (p.feeling ?? []).length === 0),
      some("caption", "Without a caption", photos, (p) => p.caption === ""),
    ].filter((g) => g.photos.length > 0);
  }
}

function dayGroup(p: Photo): [string, string] | undefined {
  if (!dated(p)) return undefined;
  const from = p.taken.from!;
  if (p.taken.precision !== "span") return [from.slice(0, 10), dayWords(dayOf(from))];
  return [`${from.slice(0, 10)} to ${p.taken.to!.slice(0, 10)}`, `Some time in ${spanWords(dayOf(from), dayOf(p.taken.to!))}`];
}

function gather(photos: readonly Photo[], of: (p: Photo) => readonly [string, string] | "" | undefined): Group[] {
  const groups = new Map<string, { key: string; words: string; photos: PhotoID[] }>();
  for (const p of photos) {
    const found = of(p);
    if (!found) continue;
    const [key, words] = found;
    const group = groups.get(key);
    if (group) group.photos.push(p.number);
    else groups.set(key, { key, words, photos: [p.number] });
  }
  return [...groups.values()];
}

function byKey(a: Group, b: Group): number {
  return a.key.localeCompare(b.key, "en", { numeric: true });
}

function some(key: string, words: string, photos: readonly Photo[], is: (p: Photo) => boolean): Group {
  return { key, words, photos: photos.filter(is).map((p) => p.number) };
}

// Mean lightness L* from which a picture counts as light, and as neither light
// nor dark: thirds of the scale, no source. Contrast is the deviation of L*.
export const tones = [
  { key: "light", words: "Light pictures", from: 66 },
  { key: "middle", words: "Middle tones", from: 34 },
  { key: "dark", words: "Dark pictures", from: -Infinity },
] as const;
const strong = 27; // no source: about the strongest quarter of a mixed title
const soft = 15; // likewise the softest

/** The feeling by which a photo is laid: of its words the one that most photos share. */
export function feelingGroup(photos: readonly Photo[]): (p: Photo) => string | undefined {
  const rank = new Map(feelingsUsed(photos).map(({ word }, i) => [word, i]));
  return (p) => [...(p.feeling ?? [])].sort((a, b) => rank.get(a)! - rank.get(b)!)[0];
}

/** A colour of the title's photos that can be pointed at. */
export interface Pointed {
  readonly lab: api.Lab;
  readonly weight: number; // of all colours of the title, 0..1
}

const alikeInTitle = 17; // colour difference within which two swatches become one; no source: about two dozen remain of a mixed title

/** The main colours of a title, light to dark within each: at most n, the weightiest. */
export function colours(photos: readonly Photo[], n = 24): Pointed[] {
  const all = photos.flatMap((p) => p.palette).sort((a, b) => b.weight - a.weight);
  const found: { lab: api.Lab; weight: number }[] = [];
  for (const { lab, weight } of all) {
    const near = found.find((f) => difference(f.lab, lab) < alikeInTitle);
    if (near) near.weight += weight;
    else found.push({ lab, weight });
  }
  const sum = found.reduce((s, f) => s + f.weight, 0) || 1;
  return found.sort((a, b) => b.weight - a.weight).slice(0, n)
    .map(({ lab, weight }) => ({ lab, weight: weight / sum }))
    .sort((a, b) => hueRank(a.lab) - hueRank(b.lab) || b.lab.l - a.lab.l);
}

const leastShare = 0.05; // of a picture: what covers less is a detail, not its colour; no source

/** Photos in which a colour within the given difference covers a part worth speaking of, the most of it first. */
export function ofColour(photos: readonly Photo[], lab: api.Lab, within: number): PhotoID[] {
  const share = (p: Photo) => p.palette.reduce((s, swatch) => s + (difference(swatch.lab, lab) <= within ? swatch.weight : 0), 0);
  return photos.map((p) => ({ number: p.number, share: share(p) })).filter((p) => p.share >= leastShare)
    .sort((a, b) => b.share - a.share || a.number - b.number).map((p) => p.number);
}

/** CIE 1976 colour difference, ΔE*ab (ISO/CIE 11664-4): near enough to point with; judging pairs is the program's. */
function difference(x: api.Lab, y: api.Lab): number {
  return Math.hypot(x.l - y.l, x.a - y.a, x.b - y.b);
}

const grey = 8; // chroma below which nobody names a hue; no source

function hueOf({ a, b }: api.Lab): number {
  return (Math.atan2(b, a) * 180) / Math.PI + (b < 0 ? 360 : 0);
}

function hueRank(lab: api.Lab): number {
  return Math.hypot(lab.a, lab.b) < grey ? -1 : Math.floor((((hueOf(lab) + 10) % 360) / 360) * 12);
}

// Hue angles in degrees at which one name gives way to the next; from memory
// of where the sRGB primaries and their mixtures lie in CIELAB.
const hues: readonly (readonly [number, string])[] = [
  [18, "pink"], [48, "red"], [76, "orange"], [106, "yellow"], [170, "green"], [215, "turquoise"], [312, "blue"], [335, "violet"], [361, "pink"],
];

/**
 * The colour by which a photo is laid: of its palette the one that carries most
 * colour, by share and chroma together; its hue's name, and greys last.
 */
export function colourFamily(p: Photo): Family {
  let family = familyOf.get(p);
  if (!family) familyOf.set(p, (family = judgeFamily(p)));
  return family;
}

interface Family { readonly rank: number; readonly words: string }
const familyOf = new WeakMap<Photo, Family>(); // sorting asks for it again and again

function judgeFamily(p: Photo): Family {
  const strength = (s: api.Swatch) => s.weight * Math.hypot(s.lab.a, s.lab.b);
  const main = p.palette.reduce<api.Swatch | undefined>((best, s) => (!best || strength(s) > strength(best) ? s : best), undefined);
  if (!main) return { rank: 99, words: "Not measured" };
  if (p.tone.monochrome || Math.hypot(main.lab.a, main.lab.b) < grey) return { rank: 90, words: "Greys" };
  const name = hues.find(([end]) => hueOf(main.lab) < end)![1];
  const rank = families.indexOf(name);
  return { rank, words: name[0]!.toUpperCase() + name.slice(1) };
}

const families = ["red", "orange", "yellow", "green", "turquoise", "blue", "violet", "pink"];

/** A colour as one would call it: "dark blue", "pale grey", "brown". */
export function colourWords(lab: api.Lab): string {
  const chroma = Math.hypot(lab.a, lab.b);
  const { l } = lab;
  if (chroma < grey) return l < 12 ? "black" : l > 94 ? "white" : `${l < 38 ? "dark " : l > 72 ? "pale " : ""}grey`;
  const hue = hues.find(([end]) => hueOf(lab) < end)![1];
  if ((hue === "orange" || hue === "yellow" || hue === "red") && l < 50 && chroma < 50) return l < 28 ? "dark brown" : "brown";
  if ((hue === "orange" || hue === "yellow") && l >= 60 && chroma < 34) return l > 82 ? "cream" : "sand";
  return `${l < 32 ? "dark " : l > 76 ? "pale " : ""}${chroma < 20 ? "greyish " : ""}${hue}`;
}
