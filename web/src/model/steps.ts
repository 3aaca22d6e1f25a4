// How near one stands to the wall. A step is so many spreads to a line: from
// the whole sequence in sight to one spread that fills it. All measures are CSS
// pixels and follow from the width of a page.

/** What the wall has of the screen. */
export interface Room {
  readonly width: number; // of a line
  readonly height: number; // in sight between bar and table
  readonly finger: boolean; // pointed at with a finger: feet are higher
  readonly head?: number; // above each spread, for the names of chapters
}

/** The measures of a wall whose pages are so wide. */
export interface Measures {
  readonly page: number;
  readonly gap: number; // between two spreads of a line
  readonly apart: number; // between two lines
  readonly foot: number; // below each spread
}

/** How the wall is laid out from where one stands. */
export interface Standpoint extends Measures {
  readonly line: number; // spreads to a line
  readonly nearest: number; // as few as there can be: one spread fills the sight
  readonly farthest: number; // as many as there can be: the whole sequence is in sight
}

export const tall = 1.2; // a page's height in widths
const gapShare = 0.26;
const gapBounds = [2, 44] as const;
const rim = 26; // above and below a spread that fills the sight
const least = 90; // no page is smaller for lack of height

/** A page narrower than this carries no number that could be read. */
export const far = 64;

export function measures(page: number, finger = false): Measures {
  const gap = Math.min(gapBounds[1], Math.max(gapBounds[0], page * gapShare));
  const foot = finger ? Math.min(32, Math.max(2, page * 0.5)) : Math.min(24, Math.max(2, page * 0.375));
  return { page, gap, apart: page * 0.08 + Math.min(10, page * 0.15), foot };
}

/** The widest page of which so many spreads fill a line. */
export function pageFor(line: number, width: number): number {
  const [narrow, wide] = gapBounds;
  const page = width / (2 * line + gapShare * (line - 1));
  const gap = page * gapShare > wide ? wide : page * gapShare < narrow ? narrow : undefined;
  const exact = gap === undefined ? page : (width - gap * (line - 1)) / (2 * line);
  return Math.max(2, Math.floor(exact * 100) / 100); // never a hair too wide for the line
}

/** How many spreads with pages at least so wide go into a line. */
export function lineFor(page: number, width: number): number {
  const { gap } = measures(page);
  return Math.max(1, Math.floor((width + gap) / (2 * page + gap) + 1e-6));
}

function height(rows: number, line: number, m: Measures, head: number): number {
  const lines = Math.ceil(rows / line);
  return lines * lineHeight(m, head) + (lines - 1) * m.apart;
}

/** How high a line of spreads is, with so much above each for the names of chapters. */
export function lineHeight(m: Measures, head = 0): number {
  return head + m.page * tall + m.foot;
}

/** The page of the step at which so many spreads, or the one that fills the sight, make a line. */
function pageAt(line: number, nearest: number, room: Room): number {
  const page = pageFor(line, room.width);
  return line === nearest ? Math.min(page, filling(room)) : page;
}

/** The widest page of a spread that is whole in sight. */
function filling(room: Room): number {
  const foot = room.finger ? 32 : 24;
  return Math.max(least, (room.height - foot - (room.head ?? 0) - 2 * rim) / tall);
}

/** A page to begin with that suits the screen: four spreads to a line of 1,280 pixels, five of 2,560; no source. */
function firstSize(width: number): number {
  return Math.min(240, Math.max(130, width * 0.09));
}

/** As many spreads to a line as bring all rows in sight. */
function wholeLine(rows: number, room: Room): number {
  let line = lineFor(filling(room), room.width);
  while (line < rows && height(rows, line, measures(pageFor(line, room.width), room.finger), room.head ?? 0) > room.height) line++;
  return line;
}

/** Where one stands who likes pages at least so wide (0: whatever suits), before a wall of so many rows. */
export function standpoint(size: number, room: Room, rows: number): Standpoint {
  const nearest = lineFor(filling(room), room.width);
  const first = lineFor(firstSize(room.width), room.width);
  const farthest = Math.max(nearest, first, wholeLine(rows, room));
  const wanted = lineFor(size > 0 ? size : firstSize(room.width), room.width);
  const line = Math.min(farthest, Math.max(nearest, wanted));
  return { line, nearest, farthest, ...measures(pageAt(line, nearest, room), room.finger) };
}

/** The size to like so that one stands where so many spreads make a line. */
export function sizeAt(line: number, from: Standpoint, room: Room): number {
  return pageAt(Math.min(from.farthest, Math.max(from.nearest, line)), from.nearest, room);
}

const enough = 0.06; // of a natural logarithm: a gesture that changed less has not meant a step; no source

/** Where a gesture leads that made the pages so many times as wide: the step nearest to it, and at least one in its direction. */
export function gestured(factor: number, from: Standpoint, room: Room): number {
  const way = Math.log(factor);
  if (Math.abs(way) < enough) return from.line;
  const off = (line: number) => Math.abs(Math.log(sizeAt(line, from, room) / (from.page * factor)));
  let best = way > 0 ? from.line - 1 : from.line + 1;
  const onward = way > 0 ? -1 : 1;
  while (best + onward >= from.nearest && best + onward <= from.farthest && off(best + onward) < off(best)) best += onward;
  return Math.min(from.farthest, Math.max(from.nearest, best));
}

/** "The whole sequence, 9 spreads to a line", to be spoken. */
export function standpointWords(at: Standpoint): string {
  const line = at.line === 1 ? "One spread to a line" : `${at.line} spreads to a line`;
  if (at.line === at.farthest) return `${line}, the whole sequence is in sight.`;
  return at.line === at.nearest ? `${line}, as near as it goes.` : `${line}.`;
}
