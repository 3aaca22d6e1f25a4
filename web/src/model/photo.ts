// A photo's own facts in words a person would use.

import type * as api from "../net/api";

const months = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

function day(iso: string): string {
  const [y, m, d] = iso.slice(0, 10).split("-").map(Number);
  return `${d} ${months[m! - 1]} ${y}`;
}

/** Who says so, to follow a value. */
export function sourceWords(source: api.When["source"]): string {
  return {
    camera: "says the camera", scanner: "says the scanner", maker: "you said", phone: "says the phone", track: "from the track",
    notes: "from notes in the file", sidecar: "from the sidecar file", "": "",
  }[source];
}

/** When the photo was taken, as far as anybody knows, and who says so. */
export function takenWords(p: api.Photo): string {
  const { precision, from, to, source } = p.taken;
  if (!from || precision === "unknown") return "Nobody knows when.";
  if (source === "scanner") return `Scanned ${day(from)}; taking date unknown.`;
  const says = sourceWords(source);
  const who = says && `, ${says}`;
  if (precision === "instant") return `${day(from)}, ${from.slice(11, 16)}${who}`;
  if (precision === "day" || !to || to.slice(0, 10) === from.slice(0, 10)) return `${day(from)}${who}`;
  return `Between ${day(from)} and ${day(to)}${who}`;
}

/** Where it was taken, as degrees with the two winds named, and who says so. */
export function placeWords(p: api.Photo): string {
  if (!p.where) return "Nobody knows where.";
  const { lat, lng, radius, source } = p.where;
  const says = sourceWords(source);
  const side = (v: number, plus: string, minus: string) => `${Math.abs(v).toFixed(4)}° ${v < 0 ? minus : plus}`;
  const within = radius > 0 ? `, within ${Math.round(radius)} m` : "";
  return `${side(lat, "north", "south")}, ${side(lng, "east", "west")}${within}${says && `, ${says}`}`;
}

/** "3600 × 2400 pixels, JPEG, 4.2 MB" */
export function fileWords(p: api.Photo): string {
  const size = p.bytes >= 1e6 ? `${(p.bytes / 1e6).toFixed(1)} MB` : `${Math.max(1, Math.round(p.bytes / 1e3))} kB`;
  return `${p.width} × ${p.height} pixels, ${p.format.toUpperCase()}, ${size}`;
}

const white = [0.3127 / 0.329, 1, 0.3583 / 0.329] as const; // D65 by its chromaticity, IEC 61966-2-1

/**
 * A CIE L*a*b* colour of white point D65 as CSS. CSS's own lab() stands on D50,
 * so the way leads through XYZ: the inverse of CIE 15, which the browser then
 * shows on whatever screen this is.
 */
export function labColour({ l, a, b }: api.Lab): string {
  const y = (l + 16) / 116;
  const part = (t: number) => (t > 6 / 29 ? t ** 3 : 3 * (6 / 29) ** 2 * (t - 4 / 29));
  const xyz = [part(y + a / 500) * white[0], part(y), part(y - b / 200) * white[2]];
  return `color(xyz-d65 ${xyz.map((v) => v.toFixed(5)).join(" ")})`;
}

/** A time as one says it, seen from now: "today at 14:05", "18 November at 9:30". */
export function momentWords(iso: string, now: Date): string {
  const at = new Date(iso);
  const clock = `${at.getHours()}:${String(at.getMinutes()).padStart(2, "0")}`;
  const days = Math.round((midnight(now) - midnight(at)) / 86_400_000);
  if (days === 0) return `today at ${clock}`;
  if (days === 1) return `yesterday at ${clock}`;
  const date = `${at.getDate()} ${months[at.getMonth()]}`;
  return at.getFullYear() === now.getFullYear() ? `${date} at ${clock}` : `${date} ${at.getFullYear()}`;
}

function midnight(d: Date): number {
  return new Date(d.getFullYear(), d.getMonth(), d.getDate()).getTime();
}
