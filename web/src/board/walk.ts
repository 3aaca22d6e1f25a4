// Walking over pages and prints with the arrows. Each region has one tab stop;
// which one it is moves along with the focus.

import { carriedBy, regionOf, type Region } from "./hooks";

/** What the focus can stand on in a region, in reading order. */
export function stops(region: Element): HTMLElement[] {
  return [...region.querySelectorAll<HTMLElement>("[data-photo]:not([hidden] *), [data-page][data-blank]:not([hidden] *), .chapter-name:not([hidden] *)")];
}

/** Draws a print or a spread that was still to be drawn (see Veil), so that it can take the focus. */
export function drawNow(el: Element): void {
  el.closest("[data-veiled]")?.removeAttribute("data-veiled");
}

/** Keeps exactly one tab stop in a region: the one that has it now, or the first. */
export function oneTabStop(region: Element, wanted?: HTMLElement): void {
  const had = [...region.querySelectorAll<HTMLElement>('[tabindex="0"]')];
  const now = wanted ?? had.find((el) => !el.closest("[hidden]")) ?? stops(region)[0];
  for (const el of had) if (el !== now) el.tabIndex = -1;
  if (now && now.tabIndex !== 0) now.tabIndex = 0;
}

/** The stop that an arrow, Home or End leads to from where the focus is; undefined for other keys and at the edge. */
export function stepFrom(from: HTMLElement, key: string): HTMLElement | undefined {
  const region = from.closest("[data-region]");
  if (!region) return undefined;
  const all = stops(region);
  const i = all.indexOf(from);
  switch (key) {
    case "ArrowRight": return all[i + 1];
    case "ArrowLeft": return all[i - 1];
    case "Home": return all[0];
    case "End": return all.at(-1);
    case "ArrowDown": return nearest(from, all, 1);
    case "ArrowUp": return nearest(from, all, -1);
    default: return undefined;
  }
}

/**
 * The element of the next line up or down that lies most straight above or
 * below: spreads wrap, so lines are what the eye sees, not what the rows are.
 */
export function nearest(from: Element, all: readonly HTMLElement[], way: 1 | -1): HTMLElement | undefined {
  const here = from.getBoundingClientRect();
  const middle = { x: here.left + here.width / 2, y: here.top + here.height / 2 };
  let best: { el: HTMLElement; far: number } | undefined;
  const lines = new Map<Element, boolean>(); // asking for the place of a page far away would lay out its spread
  for (const el of all) {
    const row = el.closest(".spread");
    if (row && !lines.has(row)) lines.set(row, nearLine(row.getBoundingClientRect(), here));
    if (row && !lines.get(row)) continue;
    const box = (el.closest(".print") ?? el).getBoundingClientRect(); // likewise a print's
    if (box.height === 0) continue;
    const down = (box.top + box.height / 2 - middle.y) * way;
    if (down < Math.min(here.height, box.height) / 2) continue; // the same line
    const far = down * 3 + Math.abs(box.left + box.width / 2 - middle.x);
    if (!best || far < best.far) best = { el, far };
  }
  return best?.el;
}

/** Whether a spread lies in the line of a page or one of its neighbours. */
function nearLine(row: DOMRect, page: DOMRect): boolean {
  return row.bottom > page.top - 2 * row.height && row.top < page.bottom + 2 * row.height;
}

/** Remembers where the focus stands, so that it can be given a sensible place when that is gone. */
export interface Standing {
  readonly region: Region;
  readonly index: number;
}

export function standing(): Standing | undefined {
  const el = document.activeElement as HTMLElement | null;
  const region = regionOf(el);
  if (!el || !region || !carriedOrBlank(el)) return undefined;
  return { region, index: stops(el.closest("[data-region]")!).indexOf(el) };
}

function carriedOrBlank(el: HTMLElement): boolean {
  return carriedBy(el) !== undefined || el.hasAttribute("data-blank");
}

/** Gives the focus back after the wall was drawn anew, if it was lost. */
export function regain(was: Standing | undefined): void {
  const now = document.activeElement;
  if (!was || (now && now !== document.body && now.isConnected && carriedOrBlank(now as HTMLElement))) return;
  if (now && now !== document.body && !regionOf(now)) return; // the maker went elsewhere meanwhile
  const region = document.querySelector(`[data-region="${was.region}"]`);
  const all = region ? stops(region) : [];
  const next = all[Math.min(was.index, all.length - 1)] ?? document.querySelector<HTMLElement>(`[data-region="wall"] [data-blank], [data-region="wall"] [data-photo]`);
  next?.focus({ preventScroll: true });
}
