// The weeks a wall has hung: its versions in their order, with the days between
// them, in words.

import type * as api from "../net/api";
import type { PhotoID } from "./sequence";
import { plural } from "./words";

const months = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/** Midnights between two moments, where the maker is. */
export function daysBetween(from: Date, to: Date): number {
  const midnight = (d: Date) => Date.UTC(d.getFullYear(), d.getMonth(), d.getDate());
  return Math.round((midnight(to) - midnight(from)) / 86_400_000);
}

/** How long after another version one was kept: "the same day", "the day after", "4 days later". */
export function laterWords(days: number): string {
  return days <= 0 ? "the same day" : days === 1 ? "the day after" : `${days} days later`;
}

/** Where a day lies from today: "today", "yesterday", "12 days ago". */
export function agoWords(days: number): string {
  return days <= 0 ? "today" : days === 1 ? "yesterday" : `${days} days ago`;
}

/** When one last looked at a version, to follow its name. */
export function lookedWords(v: { at: string; looked?: string }, now: Date): string {
  if (v.looked) return `last looked at ${agoWords(daysBetween(new Date(v.looked), now))}`;
  const days = daysBetween(new Date(v.at), now);
  return days < 1 ? "" : `not looked at since it was left ${agoWords(days)}`;
}

/** What a version is called: its name, or what it is. */
export function versionName(v: { named: boolean; name: string }): string {
  return v.named ? v.name : "End of a sitting";
}

export interface Week {
  readonly words: string; // "Week of 23 November"
  readonly versions: readonly api.VersionSummary[];
}

/** Versions by the week they were left in, in the order they come; weeks begin on Monday. */
export function inWeeks(versions: readonly api.VersionSummary[], now: Date): Week[] {
  const weeks: { words: string; versions: api.VersionSummary[] }[] = [];
  for (const v of versions) {
    const words = weekWords(new Date(v.at), now);
    const last = weeks.at(-1);
    if (last?.words === words) last.versions.push(v);
    else weeks.push({ words, versions: [v] });
  }
  return weeks;
}

function weekWords(at: Date, now: Date): string {
  const monday = new Date(at.getFullYear(), at.getMonth(), at.getDate() - ((at.getDay() + 6) % 7));
  const year = monday.getFullYear() === now.getFullYear() ? "" : ` ${monday.getFullYear()}`;
  const ago = Math.floor((daysBetween(monday, now)) / 7);
  return ago === 0 ? "This week" : ago === 1 ? "Last week" : `Week of ${monday.getDate()} ${months[monday.getMonth()]}${year}`;
}

/** The version kept before another on its line of work, of a list that has the newest first. */
export function versionBefore(versions: readonly api.VersionSummary[], v: api.VersionSummary): api.VersionSummary | undefined {
  return versions.slice(versions.indexOf(v) + 1).find((o) => o.line === v.line);
}

/** "held 5 sittings, 16 days". */
export function heldWords(h: { sittings: number; days: number; times: number }): string {
  const anew = h.times > 1 ? `, hung ${h.times} times` : "";
  return `held ${plural(h.sittings, "sitting")}, ${plural(h.days, "day")}${anew}`;
}

/** One row of a small picture of a wall: where on it, and what lies there. */
export interface Tile {
  readonly x: number;
  readonly y: number;
  readonly photo: PhotoID; // 0 for a blank page
  readonly wide: boolean; // across both pages
}

export interface Miniature {
  readonly page: number; // its width; a page is 1.2 times as high
  readonly height: number;
  readonly tiles: readonly Tile[];
}

const tall = 1.2;
const gap = 0.35; // between spreads, in page widths

/**
 * Lays the pages of a wall out small, within a width and, while that leaves
 * pages of at least 4 pixels, a height. Pages are in reading order from the
 * opening to the closing page; a photo across the gutter is on both of its.
 */
export function miniature(pages: readonly PhotoID[], width: number, high: number): Miniature {
  const rows = pages.length / 2 + 1; // spreads, and the two pages that stand alone
  let best = { columns: 1, page: 0 };
  for (let columns = 1; columns <= rows; columns++) {
    const page = Math.min(width / (columns * (2 + gap) - gap), high / (Math.ceil(rows / columns) * (tall + gap) - gap));
    if (page > best.page) best = { columns, page };
  }
  const page = Math.max(best.page, 4);
  const columns = Math.max(1, page > best.page ? Math.floor((width / page + gap) / (2 + gap)) : best.columns);
  const place = (row: number, right: boolean) => ({
    x: ((row % columns) * (2 + gap) + (right ? 1 : 0)) * page,
    y: Math.floor(row / columns) * (tall + gap) * page,
  });
  const tiles: Tile[] = [];
  pages.forEach((photo, i) => {
    const row = (i + 1) >> 1;
    const right = i % 2 === 0;
    const wide = photo !== 0 && !right && pages[i + 1] === photo;
    if (right && i > 0 && photo !== 0 && pages[i - 1] === photo) return;
    tiles.push({ ...place(row, right), photo, wide });
  });
  return { page, height: (Math.ceil(rows / columns) * (tall + gap) - gap) * page, tiles };
}

/** The pages of a sequence as a small picture wants them. */
export function drawnPages(q: { opening: PhotoID; closing: PhotoID; spreads: readonly { left: PhotoID; right: PhotoID; across: boolean }[] }): PhotoID[] {
  return [q.opening, ...q.spreads.flatMap((s) => [s.left, s.across ? s.left : s.right]), q.closing];
}
