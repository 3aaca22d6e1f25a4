// The map's geometry: where a position lies on the screen, which photos lie
// together there, how near one has come. Nothing here draws.

import { lengthWords, type Photo } from "./facts";
import type { PhotoID } from "./sequence";

/** A place in the map's plane: Mercator, 0..1 from west to east and from north to south. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** What is in sight: the plane's place in the middle of the window, and how many CSS pixels the world is wide. */
export interface Outlook {
  readonly x: number;
  readonly y: number;
  readonly scale: number;
}

/** The window the map is seen through, CSS pixels. */
export interface Frame {
  readonly width: number;
  readonly height: number;
}

const farthestNorth = 85.0511287798; // degrees: there the plane is square
const round = 40_075_017; // metres round the equator (WGS 84)
const nearest = 2 ** 23; // CSS pixels for the world: 5 m to the pixel on the equator, more than any outline or lens knows

/** Mercator on a sphere (Snyder, Map Projections: A Working Manual, equations 7-1 and 7-2). */
export function toPlane({ lat, lng }: { lat: number; lng: number }): Spot {
  const phi = (Math.max(-farthestNorth, Math.min(farthestNorth, lat)) * Math.PI) / 180;
  return { x: (lng + 180) / 360, y: 0.5 - Math.log(Math.tan(Math.PI / 4 + phi / 2)) / (2 * Math.PI) };
}

/** Back again (equations 7-4 and 7-5), with the longitude within ±180°. */
export function fromPlane({ x, y }: Spot): { lat: number; lng: number } {
  const lng = (x - Math.floor(x)) * 360 - 180;
  return { lat: (Math.atan(Math.sinh(Math.PI * (1 - 2 * y))) * 180) / Math.PI, lng };
}

/** The copy of x, of all the worlds side by side, that lies nearest to the middle. */
function near(x: number, middle: number): number {
  return x - Math.round(x - middle);
}

export function toScreen(o: Outlook, f: Frame, p: Spot): Spot {
  return { x: f.width / 2 + (near(p.x, o.x) - o.x) * o.scale, y: f.height / 2 + (p.y - o.y) * o.scale };
}

export function fromScreen(o: Outlook, f: Frame, at: Spot): Spot {
  return { x: o.x + (at.x - f.width / 2) / o.scale, y: o.y + (at.y - f.height / 2) / o.scale };
}

/** The nearest outlook that is possible: the world fills the window, and its north and south stay outside the middle. */
export function bounded(o: Outlook, f: Frame): Outlook {
  const scale = Math.min(nearest, Math.max(f.width, f.height, o.scale));
  const half = Math.min(0.5, f.height / 2 / scale);
  return { x: o.x - Math.floor(o.x), y: Math.min(1 - half, Math.max(half, o.y)), scale };
}

/** Moves the map by so many pixels, as a hand would. */
export function panned(o: Outlook, f: Frame, dx: number, dy: number): Outlook {
  return bounded({ x: o.x - dx / o.scale, y: o.y - dy / o.scale, scale: o.scale }, f);
}

/** Brings the map nearer by a factor; what lies at a point of the window stays there. */
export function zoomed(o: Outlook, f: Frame, factor: number, at: Spot): Outlook {
  const scale = Math.min(nearest, Math.max(f.width, f.height, o.scale * factor));
  const p = fromScreen(o, f, at);
  return bounded({ x: p.x - (at.x - f.width / 2) / scale, y: p.y - (at.y - f.height / 2) / scale, scale }, f);
}

const least = 6000 / round; // of the world: one town fills the window no nearer than this

/** The outlook that shows all of the places, the shorter way round the globe. */
export function fit(places: readonly Spot[], f: Frame): Outlook {
  if (places.length === 0) return bounded({ x: 0.5, y: 0.4, scale: 0 }, f);
  const xs = places.map((p) => p.x - Math.floor(p.x)).sort((a, b) => a - b);
  let from = 0; // the place east of the widest gap
  let gap = xs[0]! + 1 - xs.at(-1)!;
  xs.forEach((x, i) => {
    const wide = i > 0 ? x - xs[i - 1]! : 0;
    if (wide > gap) [gap, from] = [wide, i];
  });
  const ys = places.map((p) => p.y);
  const [top, bottom] = [Math.min(...ys), Math.max(...ys)];
  const width = Math.max(least, 1 - gap);
  const height = Math.max(least, bottom - top);
  const scale = Math.min((f.width * 0.8) / width, (f.height * 0.74) / height);
  return bounded({ x: xs[from]! + (1 - gap) / 2, y: (top + bottom) / 2, scale }, f);
}

/** Photos that lie together on the screen. */
export interface Dot extends Spot {
  readonly photos: readonly PhotoID[];
  readonly label: string; // the town of most of them
}

const together = 24; // CSS pixels: nearer dots could not be told apart by a finger

/** The photos in sight as dots, each at the middle of those it stands for. */
export function dots(photos: readonly Photo[], o: Outlook, f: Frame): Dot[] {
  const found: { x: number; y: number; ax: number; ay: number; photos: PhotoID[]; labels: string[] }[] = [];
  for (const p of photos) {
    if (!p.where) continue;
    const at = toScreen(o, f, toPlane(p.where));
    if (at.x < -together || at.y < -together || at.x > f.width + together || at.y > f.height + together) continue;
    const there = found.find((d) => Math.hypot(d.ax - at.x, d.ay - at.y) < together);
    if (there) {
      there.x += at.x;
      there.y += at.y;
      there.photos.push(p.number);
      there.labels.push(p.label ?? "");
    } else found.push({ x: at.x, y: at.y, ax: at.x, ay: at.y, photos: [p.number], labels: [p.label ?? ""] });
  }
  return found.map((d) => ({ x: d.x / d.photos.length, y: d.y / d.photos.length, photos: d.photos, label: most(d.labels) }));
}

function most(labels: readonly string[]): string {
  const by = new Map<string, number>();
  for (const label of labels) by.set(label, (by.get(label) ?? 0) + 1);
  return [...by].sort((a, b) => b[1] - a[1])[0]?.[0].split(",")[0] ?? "";
}

/** The dots whose name can be written beside them without touching another. Many photos go first. */
export function named(list: readonly Dot[]): Set<Dot> {
  const taken: { left: number; right: number; y: number }[] = list.map((d) => ({ left: d.x - 11, right: d.x + 11, y: d.y }));
  const names = new Set<Dot>();
  for (const d of [...list].sort((a, b) => b.photos.length - a.photos.length)) {
    const box = { left: d.x + 13, right: d.x + 17 + d.label.length * 7.2, y: d.y };
    const free = taken.every((t) => Math.abs(t.y - box.y) > 19 || t.right < box.left || t.left > box.right);
    if (!free || d.label === "" || d.label.length > 24) continue;
    names.add(d);
    taken.push(box);
  }
  return names;
}

/** The photos within a rectangle of the window, given by two of its corners. */
export function within(photos: readonly Photo[], o: Outlook, f: Frame, a: Spot, b: Spot): PhotoID[] {
  return photos.filter((p) => {
    if (!p.where) return false;
    const at = toScreen(o, f, toPlane(p.where));
    return at.x >= Math.min(a.x, b.x) && at.x <= Math.max(a.x, b.x) && at.y >= Math.min(a.y, b.y) && at.y <= Math.max(a.y, b.y);
  }).map((p) => p.number);
}

/** Metres to the pixel in the middle of the window. */
export function grain(o: Outlook): number {
  return (round * Math.cos((fromPlane(o).lat * Math.PI) / 180)) / o.scale;
}

/** A length of 1, 2 or 5 times a power of ten, at most so long. */
export function even(metres: number): number {
  const ten = 10 ** Math.floor(Math.log10(metres));
  return (metres >= 5 * ten ? 5 : metres >= 2 * ten ? 2 : 1) * ten;
}

const sureness = 24; // CSS pixels: so well one points

/** How closely a click means a place: as wide as a fingertip, and never closer than 50 m. */
export function radiusOfClick(o: Outlook): number {
  return Math.max(50, Math.min(500_000, even(grain(o) * sureness)));
}

/** The bar that says how long something is: pixels, and words. */
export function scaleBar(o: Outlook): { pixels: number; words: string } {
  const metres = even(grain(o) * 120);
  return { pixels: metres / grain(o), words: lengthWords(metres) };
}
