// Stepping back from the wall and in again. While one moves, the wall is scaled
// as one piece about what the eye rests on; where one comes to stand, it is laid
// out anew with that place where it was.

import type { Desk } from "../model/desk";
import { far, gestured, lineHeight, sizeAt, type Standpoint } from "../model/steps";
import { glide } from "./flip";
import { sight } from "./scroll";
import { Veil } from "./veil";

const duration = 220; // ms of one step; no source
const still = 170; // ms without a further turn of the wheel: the step is meant
const eachFrame = 4; // spreads that are laid out in each frame once one stands still; no source
const atOnce = 4; // those that are laid out at once; no source
const wide = 140; // CSS pixels; pages so wide carry their numbers in larger figures; no source
const mostGliding = 18; // spreads that glide to their new lines; more at a time would stutter

const calm = matchMedia("(prefers-reduced-motion: reduce)");

/** What the eye rests on: a spread, the part of its height, and where that is in the window. */
interface Rest {
  readonly el: HTMLElement;
  readonly part: number;
  readonly x: number;
  readonly y: number;
}

export class Lens {
  private laid: Standpoint | undefined; // how the wall is laid out
  private was: Standpoint | undefined; // how rows that are stretched are laid out
  private size = -1; // the liking it was laid out by
  private rest: Rest | undefined;
  private factor = 1; // how many times as large the wall is drawn just now
  private moving: Animation | undefined;
  private timer = 0;
  private sharpening = 0;
  private pausing = 0;
  private readonly veil = new Veil(eachFrame, (row) => this.bare(row));

  /** sharpen is called whenever pages have come to a new width. */
  constructor(private readonly desk: Desk, private readonly el: HTMLElement, private readonly sharpen: (page: number) => void) {}

  /** What moves as one: around the wall, so that in a frame in which it moves no spread is styled anew. */
  private get piece(): HTMLElement {
    return this.el.parentElement!;
  }

  /** Brings the wall to where the desk says one stands. */
  draw(): void {
    const to = this.desk.standpoint;
    if (!to) return;
    const from = this.laid;
    const stepped = this.size !== this.desk.view.size;
    this.size = this.desk.view.size;
    this.squint();
    for (const row of this.el.children) if (!row.matches("[data-veiled], [data-stretched]")) this.bare(row); // new ones, too
    if (from && same(from, to) && (this.factor === 1 || !stepped)) return; // news do not end a gesture
    if (from && stepped && from.page !== to.page && !calm.matches && document.visibilityState === "visible") this.go(to.page / from.page);
    else if (!this.moving || !from || !stepped) this.settle(stepped || this.factor !== 1);
  }

  /** A gesture draws the wall so many times as large as it was when it began, about a point of the window. */
  live(factor: number, x: number, y: number): void {
    if (this.moving) this.settle(); // a gesture begins where the step before it leads
    const { laid } = this;
    const { room } = this.desk;
    if (!laid || !room || document.querySelector(".ghost")) return;
    this.begin(x, y);
    const [near, away] = [laid.nearest, laid.farthest].map((line) => sizeAt(line, laid, room) / laid.page);
    this.factor = Math.min(near! * 1.08, Math.max(away! * 0.92, factor)); // a little beyond either end, so that the end is felt
    this.stop();
    this.piece.style.transform = `scale(${this.factor})`;
  }

  /** Turns the wheel on: the pages become so many times as large as they are drawn now. */
  turn(by: number, x: number, y: number): void {
    if (this.moving) this.settle();
    this.live(this.factor * by, x, y);
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.gestured(), still);
  }

  /** The gesture is over: the step it meant is taken. */
  gestured(): void {
    clearTimeout(this.timer);
    const { laid, desk } = this;
    if (!laid || !desk.room || this.factor === 1) return;
    const line = gestured(this.factor, laid, desk.room);
    if (line === laid.line) this.go(1);
    else desk.stand(line);
  }

  /** Notes what the eye rests on: the spread at a point, that with the focus, or that in the middle. */
  private begin(x?: number, y?: number): void {
    if (this.rest) return;
    this.rest = restAt(this.el, x, y);
    if (!this.rest) return;
    const { piece } = this;
    const box = piece.getBoundingClientRect();
    piece.style.transformOrigin = `${this.rest.x - box.left}px ${this.rest.y - box.top}px`;
    piece.style.willChange = "transform";
  }

  private go(factor: number): void {
    this.begin();
    this.hide();
    const now = this.moving ? new DOMMatrix(getComputedStyle(this.piece).transform).a : this.factor;
    this.stop();
    this.factor = factor;
    this.moving = this.piece.animate([{ transform: `scale(${now})` }, { transform: `scale(${factor})` }], { duration, easing: "cubic-bezier(.3, .1, .2, 1)", fill: "forwards" });
    this.moving.onfinish = () => void (this.pausing = window.setTimeout(() => this.settle())); // laid out before the next frame, painted in it
  }

  /** Draws what comes in sight while one moves a few spreads a frame, from the middle on, and not whenever it happens to. */
  private hide(): void {
    const { rest } = this;
    const to = this.desk.standpoint;
    if (!rest || !to) return;
    const { leaving, staying } = sorted([...this.el.children] as HTMLElement[], to, this.desk.room?.head, rest);
    const stretched = this.veil.stretched;
    const drawn = new Set(stretched);
    const veiled = new Set(this.veil.veiled); // of the step before: its rows keep their turn
    const hidden = (row: HTMLElement) => !drawn.has(row) && (veiled.has(row) || !inSight(row.getBoundingClientRect())) && !row.contains(document.activeElement); // what has the focus would lose it
    this.veil.over([...staying, ...leaving].filter(hidden), stretched);
  }

  private stop(): void {
    clearTimeout(this.pausing);
    if (!this.moving) return;
    this.moving.onfinish = null;
    this.moving.cancel();
    this.moving = undefined;
  }

  /**
   * Has rows that will be in sight and rows that will not be laid out later. What is
   * in sight now is stretched: only such rows as are laid out alike, the most. A step
   * brings others in sight, which are drawn in their turn; who only has another room
   * sees next to no others.
   */
  private wait(later: readonly HTMLElement[], leaving: readonly HTMLElement[], stepped: boolean): void {
    const still = new Set(this.veil.stretched);
    const veiled = new Set(this.veil.veiled); // of these nothing is drawn that could be stretched
    const before = later.filter((row) => still.has(row));
    const now: HTMLElement[] = [];
    const coming: HTMLElement[] = [];
    const drawn = (row: HTMLElement) => !stepped || row.contains(document.activeElement) || inSight(row.getBoundingClientRect()); // what has the focus would lose it
    for (const row of later) if (!still.has(row)) (veiled.has(row) || !drawn(row) ? coming : now).push(row);
    if (now.length >= before.length) this.was = this.laid;
    this.veil.over([...coming, ...leaving], now.length >= before.length ? now : before);
  }

  /** From far away there are pictures only. */
  private bare(row: Element): void {
    row.toggleAttribute("data-far", this.laid !== undefined && this.laid.page < far);
  }

  /** From far away hundreds of pictures are in sight: one blur over all of them costs a fraction of one for each. */
  private squint(): void {
    this.el.toggleAttribute("data-one-blur", this.desk.squinting && this.laid !== undefined && this.laid.page < far);
  }

  /**
   * Lays the wall out where one has come to stand; what lies in other lines glides
   * there. Who did not step, but has another room now, and looks at the top stays
   * at the top.
   */
  private settle(stepped = true): void {
    const to = this.desk.standpoint;
    if (!to) return;
    const first = this.laid === undefined;
    if (!first) this.begin();
    const { rest } = this;
    const rows = [...this.el.children] as HTMLElement[];
    const seen = this.moving ? someInSight(rows) : undefined;
    const glideOn = seen ? glide(seen) : () => {};
    const root = document.documentElement;
    root.style.overflowAnchor = "none"; // the browser's own idea of the place to keep would move it twice
    this.stop();
    this.factor = 1;
    this.rest = undefined;
    for (const name of ["transform", "transform-origin", "will-change"]) this.piece.style.removeProperty(name);
    const { leaving, staying } = rest ? sorted(rows, to, this.desk.room?.head, rest) : { leaving: [], staying: rows };
    const later = this.laid ? staying.slice(atOnce).filter((row) => !row.matches(".stack")) : [];
    this.wait(later, leaving, stepped);
    lay(this.el, to, this.was ?? to);
    this.laid = to;
    const waiting = new Set([...later, ...leaving]);
    for (const row of rows) if (!waiting.has(row)) this.bare(row);
    this.squint();
    if (rest && (stepped || scrollY > 0)) keepPlace(this.el, to, rest);
    glideOn();
    requestAnimationFrame(() => requestAnimationFrame(() => root.style.removeProperty("overflow-anchor")));
    clearTimeout(this.sharpening);
    this.sharpening = window.setTimeout(() => this.sharpen(to.page), 50); // this frame has enough to do
  }
}

function same(a: Standpoint, b: Standpoint): boolean {
  return a.page === b.page && a.foot === b.foot && a.line === b.line;
}

/** Lays the wall out; was is what spreads that are stretched are laid out by. */
function lay(el: HTMLElement, to: Standpoint, was: Standpoint): void {
  for (const name of ["page", "gap", "apart", "foot"] as const) el.style.setProperty(`--${name}`, `${to[name]}px`);
  for (const name of ["page", "foot"] as const) el.style.setProperty(`--was-${name}`, `${was[name]}px`);
  el.style.setProperty("--stretch", String(to.page / was.page));
  el.dataset.toLine = String(to.line);
  el.toggleAttribute("data-wide", to.page >= wide);
  el.toggleAttribute("data-near", to.line === to.nearest);
}

/** The rows in sight, unless there are too many to glide. */
function someInSight(rows: readonly HTMLElement[]): HTMLElement[] | undefined {
  const seen: HTMLElement[] = [];
  for (const row of rows) {
    const box = row.getBoundingClientRect();
    if (box.top >= innerHeight) break;
    if (inSight(box) && seen.push(row) > mostGliding) return undefined;
  }
  return seen;
}

function inSight(box: DOMRect): boolean {
  return box.bottom > 0 && box.top < innerHeight;
}

function restAt(wall: HTMLElement, x?: number, y?: number): Rest | undefined {
  const { top, bottom } = sight();
  const pointed = x === undefined || y === undefined ? undefined : nearestRow(wall, x, y);
  if (pointed) return { ...pointed, x: x!, y: y! };
  const held = wall.querySelector("[data-chosen]")?.closest<HTMLElement>(".spread") ?? document.activeElement?.closest<HTMLElement>(".wall .spread");
  const box = held?.getBoundingClientRect();
  if (held && box && box.bottom > top && box.top < bottom) {
    return { el: held, part: 0.5, x: box.left + box.width / 2, y: box.top + box.height / 2 };
  }
  const middle = { x: wall.getBoundingClientRect().left + wall.clientWidth / 2, y: (top + bottom) / 2 };
  const row = nearestRow(wall, middle.x, middle.y);
  return row && { ...row, ...middle };
}

function nearestRow(wall: HTMLElement, x: number, y: number): { el: HTMLElement; part: number } | undefined {
  let best: { el: HTMLElement; part: number; off: number } | undefined;
  for (const el of wall.querySelectorAll<HTMLElement>(":scope > .spread")) {
    const box = el.getBoundingClientRect();
    const off = Math.hypot(Math.max(box.left - x, 0, x - box.right), Math.max(box.top - y, 0, y - box.bottom));
    if (!best || off < best.off) best = { el, off, part: Math.min(1, Math.max(0, (y - box.top) / box.height)) };
  }
  return best;
}

/**
 * Rows that will lie well out of sight, as far as can be told before they are
 * laid, and those that will not, those first which the eye rests on: they need not
 * all be styled and laid out in the frame in which one comes to rest.
 */
function sorted(rows: readonly HTMLElement[], to: Standpoint, head: number | undefined, rest: Rest): { leaving: HTMLElement[]; staying: HTMLElement[] } {
  const shown = rows.filter((row) => !row.hidden);
  const high = lineHeight(to, head) + to.apart;
  const lineOf = (i: number) => Math.floor(i / to.line);
  const at = Math.max(0, shown.indexOf(rest.el));
  const top = rest.y - rest.part * high - lineOf(at) * high; // of the first line
  const beyond = innerHeight / 2; // the window's ends may not let it scroll so far
  const leaves = (row: HTMLElement, i: number) => {
    const y = top + lineOf(i) * high;
    return to.line < to.farthest && (y + high < -beyond || y > innerHeight + beyond) && !row.contains(document.activeElement); // the focus must find its place
  };
  const away = (i: number) => Math.hypot(i % to.line - at % to.line, 0.6 * (lineOf(i) - lineOf(at))); // a spread is wider than high
  const numbered = shown.map((row, i) => ({ row, i }));
  return {
    leaving: numbered.filter(({ row, i }) => leaves(row, i)).map(({ row }) => row),
    staying: numbered.filter(({ row, i }) => !leaves(row, i)).sort((a, b) => away(a.i) - away(b.i)).map(({ row }) => row),
  };
}

/** Scrolls so that what the eye rested on is where it was; a sequence or a spread that is whole in sight lies whole there. */
function keepPlace(wall: HTMLElement, to: Standpoint, rest: Rest): void {
  const { bottom } = sight();
  const top = parseFloat(getComputedStyle(document.documentElement).getPropertyValue("--bar-room")) || 0; // once the bar sticks to the window's edge
  const all = wall.getBoundingClientRect();
  const row = rest.el.isConnected ? rest.el.getBoundingClientRect() : undefined;
  if (all.height <= bottom - top) scrollBy(0, all.top - top);
  else if (row && to.line === to.nearest) scrollBy(0, (row.top + row.bottom) / 2 - (top + bottom) / 2);
  else if (row) scrollBy(0, row.top + rest.part * row.height - rest.y);
}

/** Binds the wheel with Ctrl, pinching on a pad (which comes as the same), and two fingers on the screen. Call the result to unbind. */
export function bindLens(root: HTMLElement, lens: Lens): () => void {
  let apart = 0; // two fingers when they came, CSS pixels
  const onWall = (e: Event) => (e.target as Element).closest("#wall") !== null && !document.querySelector(".ghost");
  const wheel = (e: WheelEvent) => {
    if (!(e.ctrlKey || e.metaKey) || !onWall(e)) return;
    e.preventDefault();
    const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1;
    const turned = Math.max(-120, Math.min(120, e.deltaY * lines));
    lens.turn(Math.exp(-turned * 0.0045), e.clientX, e.clientY);
  };
  const touch = (e: TouchEvent) => {
    const [a, b] = [e.touches[0], e.touches[1]];
    if (e.type === "touchstart") apart = a && b && onWall(e) ? distance(a, b) : 0;
    else if (e.type === "touchmove" && apart > 0 && a && b) {
      if (e.cancelable) e.preventDefault();
      lens.live(distance(a, b) / apart, (a.clientX + b.clientX) / 2, (a.clientY + b.clientY) / 2);
    } else if (apart > 0 && e.touches.length < 2) {
      apart = 0;
      lens.gestured();
    }
  };
  root.addEventListener("wheel", wheel, { passive: false });
  const kinds = ["touchstart", "touchmove", "touchend", "touchcancel"] as const;
  for (const kind of kinds) root.addEventListener(kind, touch, { passive: false });
  return () => {
    root.removeEventListener("wheel", wheel);
    for (const kind of kinds) root.removeEventListener(kind, touch);
  };
}

function distance(a: Touch, b: Touch): number {
  return Math.max(20, Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY));
}
