// Where something carried would go: found from a point on the screen, and shown
// on the place itself with the words that say what would happen.

import type { Desk } from "../model/desk";
import { intentFor, targetWords, type Carried, type Target } from "../model/targets";
import { indexOf } from "../model/sequence";
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
  if (between) return { kind: "between", index: Number(between.dataset.between) };
  const row = el!.closest<HTMLElement>("[data-spread]");
  if (!row) return nearestBetween(desk, x, y);
  const page = pageOf(el);
  if (carried.kind === "photo" && page) return { kind: "page", page };
  return carried.kind === "spread" ? besideRow(desk, el!, x, y) : footPage(el!, x);
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

/** A carried spread goes before or behind the one it is held over. */
function besideRow(desk: Desk, el: Element, x: number, y: number): Target {
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

/** In the free space beside and below spreads, the nearest place between two counts. */
function nearestBetween(desk: Desk, x: number, y: number): Target {
  let best = { index: desk.session.sequence.spreads.length, far: Infinity };
  for (const el of document.querySelectorAll<HTMLElement>("[data-between]")) {
    const box = el.getBoundingClientRect();
    const below = y < box.top ? box.top - y : y > box.bottom ? y - box.bottom : 0;
    const far = Math.abs(x - (box.left + box.width / 2)) + below * 4; // the same line first
    if (far < best.far) best = { index: Number(el.dataset.between), far };
  }
  return { kind: "between", index: best.index };
}

/** Shows one target at a time, in words. */
export class Aim {
  private el: HTMLElement | null = null;
  private readonly says = document.createElement("span");

  constructor() {
    this.says.className = "says";
    this.says.setAttribute("aria-hidden", "true"); // the status line says it
  }

  /** Marks where it would go; a place where nothing would change is not marked. */
  show(desk: Desk, carried: Carried, target: Target | undefined): void {
    const possible = target && intentFor(desk.session.sequence, carried, target);
    const el = target && possible ? elementOf(target) : null;
    if (el !== this.el) this.clear();
    if (!el || !target) return;
    this.el = el;
    el.setAttribute("data-aimed", target.kind);
    this.says.textContent = targetWords(desk.session.sequence, carried, target);
    if (this.says.parentElement !== el) el.append(this.says);
  }

  clear(): void {
    this.el?.removeAttribute("data-aimed");
    this.says.remove();
    this.el = null;
  }
}
