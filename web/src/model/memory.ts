// Remaking the order from memory: the wall's photos in a heap, and as many empty
// pages. It is a draft beside the wall and never touches it.

import { drawnPages } from "./weeks";
import { readSequence, readSpread, type PhotoID, type Sequence, type Spread } from "./sequence";

export interface Trial {
  readonly kept: Sequence; // the wall it is made from memory of
  readonly heap: readonly PhotoID[]; // not laid yet, in no order
  readonly pages: readonly PhotoID[]; // from the opening to the closing page; 0 is blank
  readonly next: number; // the page the next photo goes to; pages.length when there is none
}

/** An empty wall of as many pages, and the photos shuffled; the same wall is always shuffled alike. */
export function beginTrial(kept: Sequence): Trial {
  const photos = [...new Set(drawnPages(kept).filter((id) => id !== 0))];
  const heap = shuffled(photos, kept.revision + 1);
  return { kept, heap, pages: drawnPages(kept).map(() => 0), next: 0 };
}

/** Lays a photo of the heap on the next page. */
export function lay(t: Trial, photo: PhotoID): Trial {
  if (!t.heap.includes(photo) || t.next >= t.pages.length) return t;
  const pages = t.pages.with(t.next, photo);
  return { ...t, heap: t.heap.filter((id) => id !== photo), pages, next: blankFrom(pages, t.next) };
}

/** Points at a page: a blank one is where the next photo goes; a photo on it goes back to the heap first. */
export function point(t: Trial, page: number): Trial {
  const photo = t.pages[page];
  if (photo === undefined) return t;
  if (photo === 0) return { ...t, next: page };
  return { ...t, heap: [...t.heap, photo], pages: t.pages.with(page, 0), next: page };
}

function blankFrom(pages: readonly PhotoID[], from: number): number {
  const behind = pages.indexOf(0, from);
  const any = behind >= 0 ? behind : pages.indexOf(0);
  return any >= 0 ? any : pages.length;
}

/** What was remade, as a wall. A pair that hangs so keeps its number; a photo that crosses the gutter does so where it is alone. */
export function remade(t: Trial): Sequence {
  const across = new Set(t.kept.spreads.filter((s) => s.across).map((s) => s.left));
  let last = t.kept.last;
  const used = new Set<number>();
  const spreads: Spread[] = [];
  for (let i = 1; i + 1 < t.pages.length; i += 2) {
    const [one, two] = [t.pages[i]!, t.pages[i + 1]!];
    const wide = one === 0 || two === 0 ? across.has(one || two) : false;
    const [left, right] = wide ? [one || two, 0] : [one, two];
    const same = t.kept.spreads.find((s) => s.left === left && s.right === right && !used.has(s.id));
    const id = same?.id ?? ++last;
    used.add(id);
    spreads.push(readSpread({ id, left, right, across: wide }));
  }
  return readSequence({ revision: t.kept.revision, opening: t.pages[0] ?? 0, spreads, closing: t.pages.at(-1) ?? 0, box: t.kept.box, last });
}

/** A draft read back from where it was saved; undefined when it makes no sense. */
export function readTrial(saved: unknown): Trial | undefined {
  const t = saved as Partial<Trial> | null;
  if (!t || !Array.isArray(t.heap) || !Array.isArray(t.pages) || !t.kept || !Array.isArray(t.kept.spreads)) return undefined;
  if (t.pages.length !== 2 * t.kept.spreads.length + 2) return undefined;
  return { kept: readSequence(t.kept), heap: t.heap, pages: t.pages, next: Math.min(Math.max(0, t.next ?? 0), t.pages.length) };
}

/** Fisher and Yates, drawn from a small generator with a seed (mulberry32, public domain), so that a reload changes nothing. */
function shuffled(photos: readonly PhotoID[], seed: number): PhotoID[] {
  const list = [...photos];
  let state = (seed * 2_654_435_761) >>> 0;
  const draw = () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  for (let i = list.length - 1; i > 0; i--) {
    const j = Math.floor(draw() * (i + 1));
    [list[i], list[j]] = [list[j]!, list[i]!];
  }
  return list;
}
