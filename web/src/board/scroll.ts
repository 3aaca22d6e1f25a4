// Scrolling to what is to be seen and while something is carried to the edge of
// what is in sight, and what waits while one scrolls.

import type { Bell } from "../model/bell";

const zone = 64; // CSS pixels at either edge; no source
const fastest = 22; // CSS pixels per frame at the very edge
const patience = 220; // ms in the zone before it starts: passing through on the way elsewhere must not scroll
const begun = 24; // CSS pixels from where it was lifted: what is lifted near an edge must not run away under the hand

/** The part of the window in which the wall is seen. */
export function sight(): { top: number; bottom: number } {
  const top = document.querySelector(".head-bar")?.getBoundingClientRect().bottom ?? 0;
  const bottom = document.querySelector(".tray")?.getBoundingClientRect().top ?? innerHeight;
  return { top: Math.max(0, top), bottom: Math.min(innerHeight, bottom) };
}

const clear = 24; // CSS pixels between what is shown and bar or tray; no source

/** Scrolls as little as it takes until a card, page or place lies clear of bar and tray. A print's own tray scrolls with it. */
export function intoSight(el: Element | null | undefined): void {
  if (!el?.closest(".wall")) return el?.scrollIntoView({ block: "nearest" });
  const { top, bottom } = sight();
  const box = el.getBoundingClientRect();
  const above = box.top - top - clear;
  const below = box.bottom - bottom + clear;
  if (above < 0) scrollBy(0, above);
  else if (below > 0) scrollBy(0, Math.min(above, below));
}

const still = 150; // ms without scrolling: the page stands still; no source

/** Lets news wait while the page or what lies in it is scrolled. Call the result to unbind. */
export function bindScroll(bell: Bell): () => void {
  let timer = 0;
  const scrolled = () => {
    bell.hold("scroll", true);
    clearTimeout(timer);
    timer = window.setTimeout(() => bell.hold("scroll", false), still);
  };
  document.addEventListener("scroll", scrolled, { capture: true, passive: true });
  return () => {
    document.removeEventListener("scroll", scrolled, { capture: true });
    clearTimeout(timer);
    bell.hold("scroll", false);
  };
}

/**
 * Scrolls the window, or the tray the point is over, as long as the point stays
 * near an edge. scrolled is called after each step. Call the result to stop.
 */
export function edgeScroll(point: () => { x: number; y: number } | undefined, scrolled: () => void): () => void {
  const at = edges();
  let frame = 0;
  let since = 0;
  let from: { x: number; y: number } | undefined;
  let moved = false;
  const step = (now: number) => {
    frame = requestAnimationFrame(step);
    const p = point();
    from ??= p;
    moved ||= !!p && !!from && Math.hypot(p.x - from.x, p.y - from.y) > begun;
    const pull = p && moved ? pullAt(at, p.x, p.y) : undefined;
    if (!pull) {
      since = 0;
      return;
    }
    if (since === 0) since = now;
    if (now - since < patience) return;
    const before = pull.of.scrollTop;
    pull.of.scrollTop += pull.by;
    if (pull.of.scrollTop !== before) scrolled();
  };
  frame = requestAnimationFrame(step);
  return () => cancelAnimationFrame(frame);
}

/** Where the edges are. They are looked up once for a carry: asking in every frame would lay the page out twice. */
interface Edges {
  readonly trays: readonly { readonly el: Element; readonly box: DOMRect }[];
  readonly top: number;
  readonly bottom: number;
}

function edges(): Edges {
  return { trays: [...document.querySelectorAll(".prints")].map((el) => ({ el, box: el.getBoundingClientRect() })), ...sight() };
}

/** What is to be scrolled, and by how much, for a point of the window. */
function pullAt({ trays, top, bottom }: Edges, x: number, y: number): { of: Element; by: number } | undefined {
  const tray = trays.find(({ box }) => x >= box.left && x <= box.right && y >= box.top && y <= box.bottom);
  const by = tray
    ? speed(y, tray.box.top, tray.box.bottom, Math.min(zone, tray.box.height / 4))
    : speed(y, top, bottom, Math.min(zone, (bottom - top) / 5));
  return by === 0 ? undefined : { of: tray ? tray.el : document.scrollingElement!, by };
}

function speed(y: number, top: number, bottom: number, zone: number): number {
  if (y < top + zone) return -Math.ceil(fastest * Math.min(1, (top + zone - y) / zone));
  if (y > bottom - zone) return Math.ceil(fastest * Math.min(1, (y - bottom + zone) / zone));
  return 0;
}
