// Choosing by drawing a frame: a mouse or pen pressed where no card lies and
// drawn over the wall, the table or the box chooses all cards the frame touches.

import { chosenSpoken } from "../model/commands";
import type { Desk } from "../model/desk";
import { chooseMany, chosenPhotos } from "../model/hand";
import type { PhotoID } from "../model/sequence";
import { photoOf } from "./hooks";
import { edgeScroll } from "./scroll";
import { stops } from "./walk";

const frameAfter = 6; // CSS pixels: less is a click

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** A frame being drawn over one region, in coordinates that scroll along with it. */
class Frame {
  private readonly el = document.createElement("div");
  private readonly stopScroll: () => void;
  private readonly rows: { el: Element; box: DOMRect; cards?: { el: HTMLElement; box: DOMRect }[] }[];
  private framed = new Set<HTMLElement>();

  constructor(private readonly region: HTMLElement, private readonly scroller: Element, private readonly from: Spot, private to: Spot) {
    this.el.className = "frame";
    document.body.append(this.el);
    const by = this.scrolled;
    // Of spreads far from sight only the row is asked for its place: its cards would have to be laid out.
    this.rows = [...region.querySelectorAll(".spread, .print")].map((el) => ({ el, box: shifted(el.getBoundingClientRect(), by) }));
    this.stopScroll = edgeScroll(() => ({ x: this.to.x, y: this.to.y }), () => this.draw());
  }

  private get scrolled(): number {
    return this.scroller.scrollTop;
  }

  move(to: Spot): void {
    this.to = to;
    this.draw();
  }

  private draw(): void {
    const from = { x: this.from.x, y: this.from.y - this.scrolled };
    const left = Math.min(from.x, this.to.x);
    const top = Math.min(from.y, this.to.y);
    const box = new DOMRect(left, top, Math.abs(from.x - this.to.x), Math.abs(from.y - this.to.y));
    this.el.style.transform = `translate(${box.x}px, ${box.y}px)`;
    this.el.style.width = `${box.width}px`;
    this.el.style.height = `${box.height}px`;
    const now = new Set(this.within(shifted(box, this.scrolled)));
    for (const card of this.framed) if (!now.has(card)) card.removeAttribute("data-framed");
    for (const card of now) if (!this.framed.has(card)) card.setAttribute("data-framed", "");
    this.framed = now;
  }

  private within(frame: DOMRect): HTMLElement[] {
    return this.rows.flatMap((row) => {
      if (!touch(row.box, frame)) return [];
      row.cards ??= [...row.el.querySelectorAll<HTMLElement>("[data-photo]")].map((el) => ({ el, box: shifted(el.getBoundingClientRect(), this.scrolled) }));
      return row.cards.filter((card) => touch(card.box, frame)).map((card) => card.el);
    });
  }

  /** Takes the frame away; the result is what lay in it, in the order it lies in. */
  end(): PhotoID[] {
    this.stopScroll();
    this.el.remove();
    for (const card of this.framed) card.removeAttribute("data-framed");
    return stops(this.region).filter((el) => this.framed.has(el)).map(photoOf);
  }
}

function shifted(box: DOMRect, by: number): DOMRect {
  return new DOMRect(box.x, box.y + by, box.width, box.height);
}

function touch(a: DOMRect, b: DOMRect): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Where a frame may begin: on bare ground of the wall, the table or the box. */
function groundOf(target: Element): { region: HTMLElement; scroller: Element } | undefined {
  if (target.closest("[data-photo], [data-handle], button, input, select, a, label, .bare")) return undefined;
  const tray = target.closest<HTMLElement>(".prints");
  if (tray) return { region: tray, scroller: tray };
  const wall = target.closest("main#wall")?.querySelector<HTMLElement>("[data-region='wall']");
  return wall ? { region: wall, scroller: document.scrollingElement! } : undefined;
}

/** Binds drawing frames to everything within root. Call the result to unbind. */
export function bindFrame(root: HTMLElement, desk: Desk): () => void {
  let press: { pointer: number; ground: NonNullable<ReturnType<typeof groundOf>>; at: Spot; along: boolean } | undefined;
  let frame: Frame | undefined;
  const html = document.documentElement;

  const down = (e: PointerEvent) => {
    if (e.button !== 0 || !e.isPrimary || e.pointerType === "touch" || desk.hand.where) return;
    const ground = groundOf(e.target as Element);
    if (ground) press = { pointer: e.pointerId, ground, at: { x: e.clientX, y: e.clientY }, along: e.ctrlKey || e.metaKey || e.shiftKey };
  };
  const moved = (e: PointerEvent) => {
    if (press?.pointer !== e.pointerId) return;
    const to = { x: e.clientX, y: e.clientY };
    if (!frame && Math.hypot(to.x - press.at.x, to.y - press.at.y) >= frameAfter) {
      const { region, scroller } = press.ground;
      frame = new Frame(region, scroller, { x: press.at.x, y: press.at.y + scroller.scrollTop }, to);
      html.setPointerCapture(e.pointerId);
    }
    frame?.move(to);
  };
  const finish = (chooses: boolean) => {
    const drawn = frame?.end();
    const along = press?.along ?? false;
    if (press && html.hasPointerCapture(press.pointer)) html.releasePointerCapture(press.pointer);
    frame = undefined;
    press = undefined;
    if (!drawn) return;
    swallowClick();
    if (!chooses) return;
    const photos = along ? [...new Set([...chosenPhotos(desk.hand), ...drawn])] : drawn;
    desk.setHand(chooseMany(photos));
    desk.say(chosenSpoken(photos.length));
  };
  const up = (e: PointerEvent) => { if (press?.pointer === e.pointerId) finish(true); };
  const cancel = (e: PointerEvent) => { if (press?.pointer === e.pointerId) finish(false); };
  const key = (e: KeyboardEvent) => {
    if (e.key !== "Escape" || !frame) return;
    e.preventDefault();
    e.stopPropagation();
    finish(false);
  };
  root.addEventListener("pointerdown", down);
  html.addEventListener("pointermove", moved);
  html.addEventListener("pointerup", up);
  html.addEventListener("pointercancel", cancel);
  window.addEventListener("keydown", key, { capture: true });
  return () => {
    finish(false);
    root.removeEventListener("pointerdown", down);
    html.removeEventListener("pointermove", moved);
    html.removeEventListener("pointerup", up);
    html.removeEventListener("pointercancel", cancel);
    window.removeEventListener("keydown", key, { capture: true });
  };
}

/** Letting go is not a click on what lies below. */
export function swallowClick(): void {
  const swallow = (e: Event) => {
    e.preventDefault();
    e.stopPropagation();
  };
  window.addEventListener("click", swallow, { capture: true, once: true });
  setTimeout(() => window.removeEventListener("click", swallow, true), 60);
}
