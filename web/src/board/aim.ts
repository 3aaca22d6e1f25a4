// Where something carried would go: found from a point on the screen, and shown
// on the place itself with the words that say what would happen.

import type { Desk } from "../model/desk";
import { build } from "../model/acts";
import { push } from "../model/laying";
import { carriesSpreads, intentFor, outside, pushable, targetWords, type Carried, type Target } from "../model/targets";
import { indexOf, type Page, type PhotoID, type Sequence } from "../model/sequence";
import { elementOf, pageOf, regionOf } from "./hooks";

/** The target at a point of the window; undefined outside of all. */
export function targetAt(desk: Desk, carried: Carried, x: number, y: number): Target | undefined {
  const el = document.elementFromPoint(x, y);
  const name = el?.closest<HTMLElement>("[data-drop]")?.dataset.drop as "table" | "box" | undefined;
  if (name) return { kind: name };
  const region = regionOf(el);
  if (!region) return undefined;
  if (region !== "wall") return { kind: region };
  const between = el!.closest<HTMLElement>("[data-between]");
  if (between) return { kind: "between", index: settled(desk, carried, Number(between.dataset.between)) };
  const row = el!.closest<HTMLElement>("[data-spread]");
  if (!row || carriesSpreads(carried)) {
    const place = row ? besideRow(desk, el!, x, y) : nearestBetween(desk, x, y);
    return { kind: "between", index: settled(desk, carried, place.index) };
  }
  const page = pageOf(el);
  return page ? onPage(desk, carried, page, el!.closest("[data-page]")!, x) : footPage(el!, x);
}

const edge = 0.34; // of a page's width; no source: the fingertip of a slow hand finds it, and swapping keeps the larger part

/** On a full page its left edge pushes on, and the rest swaps. */
function onPage(desk: Desk, carried: Carried, page: Page, cell: Element, x: number): Target {
  const box = cell.getBoundingClientRect();
  const push = x < box.left + box.width * edge && pushable(desk.session.sequence, carried, page);
  return push ? { kind: "page", page, push } : { kind: "page", page };
}

/** Over a spread's foot, the page above counts. */
function footPage(el: Element, x: number): Target | undefined {
  const row = el.closest(".spread")!;
  for (const cell of row.querySelectorAll("[data-page]")) {
    const box = cell.getBoundingClientRect();
    if (x >= box.left && x <= box.right) return { kind: "page", page: pageOf(cell)! };
  }
  return undefined;
}

/** A chapter does not go inside another: the nearer end of that one is meant. */
function settled(desk: Desk, carried: Carried, index: number): number {
  return carried.kind === "chapter" ? outside(desk.session.sequence, carried.chapter, index) : index;
}

/** A carried spread goes before or behind the one it is held over. */
function besideRow(desk: Desk, el: Element, x: number, y: number): Target & { kind: "between" } {
  const row = el.closest<HTMLElement>(".spread")!;
  const q = desk.session.sequence;
  if (row.classList.contains("opening")) return { kind: "between", index: 0 };
  if (row.classList.contains("closing")) return { kind: "between", index: q.spreads.length };
  const box = row.getBoundingClientRect();
  const index = indexOf(q, Number(row.dataset.spread));
  const place = row.querySelector(".between")!.getBoundingClientRect();
  const stacked = place.width > place.height; // one spread to a line: before is above
  const before = stacked ? y < box.top + box.height / 2 : x < box.left + box.width / 2;
  return { kind: "between", index: before ? index : index + 1 };
}

/**
 * In the free space beside and below spreads, the nearest place between two
 * counts. Only rows near sight are asked where they lie: there may be hundreds, and
 * the hand moves in every frame.
 */
function nearestBetween(desk: Desk, x: number, y: number): Target & { kind: "between" } {
  const last = desk.session.sequence.spreads.length;
  let best = { index: last, far: Infinity };
  for (const place of document.querySelectorAll<HTMLElement>(".wall .in-reach[data-between]")) {
    const box = place.parentElement!.getBoundingClientRect();
    const below = y < box.top ? box.top - y : y > box.bottom ? y - box.bottom : 0;
    const far = Math.abs(x - box.left) + below * 4; // the same line first
    if (far < best.far) best = { index: Number(place.dataset.between), far };
  }
  return { kind: "between", index: best.index };
}

/** The rows that are in sight or will be when the wall scrolls a little. */
function nearSight(): Element[] {
  return [...document.querySelectorAll(".wall > .spread")].filter((row) => {
    const { top, bottom } = row.getBoundingClientRect();
    return bottom > -innerHeight / 2 && top < 1.5 * innerHeight;
  });
}

/** Shows one target at a time, in words. */
export class Aim {
  private el: HTMLElement | null = null;
  private shown = "";
  private scrolled = 0; // where the window stood then
  private readonly says = document.createElement("span");

  constructor() {
    this.says.className = "says";
    this.says.setAttribute("aria-hidden", "true"); // the status line says it
  }

  /** Marks where it would go; a place where nothing would change is not marked. */
  show(desk: Desk, carried: Carried, target: Target | undefined): void {
    const q = desk.session.sequence;
    const key = `${q.revision} ${JSON.stringify([carried, target])}`;
    if (key === this.shown && this.el?.isConnected && Math.abs(scrollY - this.scrolled) < innerHeight / 2) return; // a hand moves often within one place
    const intent = target && intentFor(q, carried, target);
    const el = target && intent ? elementOf(target) : null;
    const near = intent?.want === "push" ? nearSight() : []; // asked before anything is written on the page
    this.clear();
    if (!el || !target || !intent) return;
    this.el = el;
    this.shown = key;
    this.scrolled = scrollY;
    el.setAttribute("data-aimed", build(q, intent).ok ? target.kind : "not");
    if (intent.want === "push") this.pushing(q, intent, el, near);
    this.says.textContent = targetWords(q, carried, target);
    el.append(this.says);
  }

  /** Shows which photos move on besides, as far as they are in sight or may soon be: there can be hundreds. */
  private pushing(q: Sequence, { photos, page }: { photos: readonly PhotoID[]; page: Page }, el: Element, near: readonly Element[]): void {
    el.setAttribute("data-push", "");
    const pushed = push(q, photos, page);
    if (!pushed.ok) return;
    const moved = new Set(pushed.value.moved);
    for (const row of near) {
      for (const card of row.querySelectorAll<HTMLElement>("[data-photo]")) {
        if (moved.has(Number(card.dataset.photo))) card.parentElement!.setAttribute("data-moves-on", "");
      }
    }
  }

  clear(): void {
    this.shown = "";
    if (!this.el) return;
    this.el.removeAttribute("data-aimed");
    this.el.removeAttribute("data-push");
    for (const el of document.querySelectorAll("[data-moves-on]")) el.removeAttribute("data-moves-on");
    this.says.remove();
    this.el = null;
  }
}
