// Carrying by hand: a mouse or pen drags after a few pixels, a finger after it
// has rested, so that the page still scrolls. What is carried stays where it is
// until it is let go; a ghost follows the hand.

import type { Desk } from "../model/desk";
import { targetSpoken, type Carried, type Target } from "../model/targets";
import { pickedUpSpoken } from "../model/targets";
import { Aim, targetAt } from "./aim";
import { carriedBy } from "./hooks";
import { edgeScroll } from "./scroll";

const dragAfter = 4; // CSS pixels for mouse and pen
const holdFor = 220; // ms for a finger
const slip = 9; // CSS pixels a resting finger may wander; no source

interface Press {
  readonly pointer: number;
  readonly touch: boolean;
  readonly carried: Carried;
  readonly el: HTMLElement;
  readonly x: number;
  readonly y: number;
  timer: number;
}

/** One carry, from lifting to letting go. */
class Carry {
  private readonly ghost: HTMLElement;
  private readonly stopScroll: () => void;
  private readonly offset: { x: number; y: number };
  private target: Target | undefined;
  private spoken = "";

  constructor(private desk: Desk, private aim: Aim, readonly press: Press, private x: number, private y: number) {
    const { ghost, offset } = ghostOf(press);
    this.ghost = ghost;
    this.offset = offset;
    document.body.append(ghost);
    press.el.setAttribute("data-carried", "");
    document.body.dataset.placing = press.carried.kind;
    document.documentElement.setPointerCapture(press.pointer);
    desk.say(pickedUpSpoken(desk.session.sequence, press.carried));
    this.stopScroll = edgeScroll(() => ({ x: this.x, y: this.y }), () => this.look());
    this.move(x, y);
  }

  move(x: number, y: number): void {
    this.x = x;
    this.y = y;
    this.ghost.style.transform = `translate3d(${x - this.offset.x}px, ${y - this.offset.y}px, 0)`;
    this.look();
  }

  private look(): void {
    const { carried } = this.press;
    this.target = targetAt(this.desk, carried, this.x, this.y);
    this.aim.show(this.desk, carried, this.target);
    const words = this.target ? targetSpoken(this.desk.session.sequence, carried, this.target) : "";
    if (words && words !== this.spoken) this.desk.say(words);
    this.spoken = words;
  }

  letGo(): void {
    const { target } = this;
    this.end();
    if (target) this.desk.put(this.press.carried, target);
    else this.desk.say("Left where it was.");
  }

  giveUp(): void {
    this.end();
    this.desk.say("Left where it was.");
  }

  private end(): void {
    this.stopScroll();
    this.aim.clear();
    this.ghost.remove();
    this.press.el.removeAttribute("data-carried");
    delete document.body.dataset.placing;
    const { pointer } = this.press;
    if (document.documentElement.hasPointerCapture(pointer)) document.documentElement.releasePointerCapture(pointer);
  }
}

/** A likeness of what is carried, to follow the hand. */
function ghostOf(press: Press): { ghost: HTMLElement; offset: { x: number; y: number } } {
  const source = press.carried.kind === "photo" ? press.el : press.el.closest<HTMLElement>(".spread")!;
  const seen = press.carried.kind === "photo" ? source.querySelector("img")! : source;
  const box = seen.getBoundingClientRect();
  const scale = Math.min(0.8, 180 / Math.max(box.width, box.height)); // the words on the place below must stay readable
  const ghost = document.createElement("div");
  ghost.className = `ghost ${press.carried.kind}`;
  ghost.setAttribute("aria-hidden", "true");
  const likeness = seen.cloneNode(true) as HTMLElement;
  for (const el of [likeness, ...likeness.querySelectorAll<HTMLElement>("*")]) {
    for (const name of el.getAttributeNames()) if (name.startsWith("data-") && name !== "data-across") el.removeAttribute(name);
    el.removeAttribute("tabindex");
    el.removeAttribute("role");
  }
  ghost.append(likeness);
  if (press.carried.kind === "photo") {
    ghost.style.width = `${box.width * scale}px`;
    ghost.style.height = `${box.height * scale}px`;
    return { ghost, offset: { x: (press.x - box.left) * scale, y: (press.y - box.top) * scale } };
  }
  ghost.style.setProperty("--page", `${(box.width * scale) / 2}px`);
  return { ghost, offset: { x: -10, y: -14 } }; // below the hand, so that the place it points at stays in sight
}

/** Binds carrying by hand to everything within root. Call the result to unbind. */
export function bindDrag(root: HTMLElement, desk: Desk, aim: Aim): () => void {
  let press: Press | undefined;
  let carry: Carry | undefined;

  const forget = () => {
    clearTimeout(press?.timer);
    press = undefined;
  };
  const begin = (x: number, y: number) => {
    if (!press) return;
    clearTimeout(press.timer);
    carry = new Carry(desk, aim, press, x, y);
    press = undefined;
  };
  const finish = (how: "letGo" | "giveUp") => {
    forget();
    const ended = carry;
    carry = undefined;
    if (!ended) return;
    swallowClick();
    ended[how]();
  };

  const down = (e: PointerEvent) => {
    if (carry || desk.readOnly || e.button !== 0 || !e.isPrimary || e.ctrlKey || e.metaKey || e.shiftKey) return;
    const el = (e.target as Element).closest<HTMLElement>("[data-photo], [data-handle]");
    const carried = carriedBy(el);
    if (!el || !carried) return;
    const touch = e.pointerType === "touch";
    press = { pointer: e.pointerId, touch, carried, el, x: e.clientX, y: e.clientY, timer: 0 };
    if (touch) press.timer = window.setTimeout(() => begin(e.clientX, e.clientY), holdFor);
  };
  const moved = (e: PointerEvent) => {
    if (carry?.press.pointer === e.pointerId) return carry.move(e.clientX, e.clientY);
    if (press?.pointer !== e.pointerId) return;
    const far = Math.hypot(e.clientX - press.x, e.clientY - press.y);
    if (press.touch && far > slip) forget(); // it is a scroll
    else if (!press.touch && far >= dragAfter) begin(e.clientX, e.clientY);
  };
  const up = (e: PointerEvent) => {
    if (carry?.press.pointer === e.pointerId) finish("letGo");
    else if (press?.pointer === e.pointerId) forget();
  };
  const cancel = (e: PointerEvent) => {
    if (carry?.press.pointer === e.pointerId || press?.pointer === e.pointerId) finish("giveUp");
  };
  const key = (e: KeyboardEvent) => {
    if (e.key !== "Escape" || !carry) return;
    e.preventDefault();
    e.stopPropagation();
    finish("giveUp");
  };
  // A browser decides at the first touchmove whether the finger scrolls; this
  // listener must have been there, and not passive, before the finger came.
  const hold = (e: TouchEvent) => {
    if (carry && e.cancelable) e.preventDefault();
  };
  const menu = (e: Event) => {
    if (carry || press?.touch) e.preventDefault();
  };
  const lost = () => finish("giveUp");
  const native = (e: Event) => e.preventDefault(); // the browser's own dragging of pictures and marked text

  const html = document.documentElement;
  root.addEventListener("pointerdown", down);
  root.addEventListener("dragstart", native);
  html.addEventListener("pointermove", moved);
  html.addEventListener("pointerup", up);
  html.addEventListener("pointercancel", cancel);
  root.addEventListener("touchmove", hold, { passive: false });
  html.addEventListener("contextmenu", menu);
  window.addEventListener("keydown", key, true);
  window.addEventListener("blur", lost);
  return () => {
    finish("giveUp");
    root.removeEventListener("pointerdown", down);
    root.removeEventListener("dragstart", native);
    html.removeEventListener("pointermove", moved);
    html.removeEventListener("pointerup", up);
    html.removeEventListener("pointercancel", cancel);
    root.removeEventListener("touchmove", hold);
    html.removeEventListener("contextmenu", menu);
    window.removeEventListener("keydown", key, true);
    window.removeEventListener("blur", lost);
  };
}

/** Letting go is not a click on what lies below. */
function swallowClick(): void {
  const swallow = (e: Event) => {
    e.preventDefault();
    e.stopPropagation();
  };
  window.addEventListener("click", swallow, { capture: true, once: true });
  setTimeout(() => window.removeEventListener("click", swallow, true), 60);
}
