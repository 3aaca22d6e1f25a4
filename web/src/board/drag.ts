// Carrying by hand: a mouse or pen drags after a few pixels, a finger after it
// has rested, so that the page still scrolls. What is carried stays where it is
// until it is let go; a ghost follows the hand.

import { chosenSpoken } from "../model/commands";
import type { Desk } from "../model/desk";
import { chooseAlong, chosenPhotos, emptyHand, takenUp } from "../model/hand";
import type { PhotoID } from "../model/sequence";
import { carriesSpreads, pickedUpSpoken, targetSpoken, type Carried, type Target } from "../model/targets";
import { Aim, targetAt } from "./aim";
import { swallowClick } from "./frame";
import { carriedBy, photoOf } from "./hooks";
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
  private stirred = false; // a hand that only rests where it took something up must not scroll

  constructor(private desk: Desk, private aim: Aim, readonly press: Press, private x: number, private y: number) {
    const { ghost, offset } = ghostOf(press);
    this.ghost = ghost;
    this.offset = offset;
    document.body.append(ghost);
    for (const el of carriedElements(press)) el.setAttribute("data-carried", "");
    document.body.dataset.placing = press.carried.kind;
    grip.setPointerCapture(press.pointer);
    desk.bell.hold("hand", true);
    desk.say(pickedUpSpoken(desk.session.sequence, press.carried));
    this.stopScroll = edgeScroll(() => (this.stirred ? { x: this.x, y: this.y } : undefined), () => this.look());
    this.move(x, y);
  }

  move(x: number, y: number): void {
    this.x = x;
    this.y = y;
    this.stirred ||= Math.hypot(x - this.press.x, y - this.press.y) > slip;
    this.look(); // before the ghost moves: what lies below is asked for while nothing waits to be laid out
    this.ghost.style.transform = `translate3d(${x - this.offset.x}px, ${y - this.offset.y}px, 0)`;
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
    if (this.press.touch && !carriesSpreads(this.press.carried) && !this.stirred) this.rested(photoOf(this.press.el));
    else if (target) this.desk.put(this.press.carried, target);
    else this.desk.say("Left where it was.");
  }

  /** A finger that rested on a card and went nowhere begins to choose several. */
  private rested(photo: PhotoID): void {
    const { desk } = this;
    desk.setHand(chooseAlong(chosenPhotos(desk.hand).includes(photo) || desk.hand.many ? desk.hand : emptyHand, photo));
    desk.say(`Left where it was. ${chosenSpoken(chosenPhotos(desk.hand).length)} Tap others to choose them along.`);
  }

  giveUp(): void {
    this.end();
    this.desk.say("Left where it was.");
  }

  private end(): void {
    this.desk.bell.hold("hand", false);
    this.stopScroll();
    this.aim.clear();
    this.ghost.remove();
    for (const el of document.querySelectorAll("[data-carried]")) el.removeAttribute("data-carried");
    delete document.body.dataset.placing;
    const { pointer } = this.press;
    if (grip.hasPointerCapture(pointer)) grip.releasePointerCapture(pointer);
  }
}

/** What stays behind, paler, while it is carried. */
function carriedElements({ carried, el }: Press): Element[] {
  if (carried.kind === "chapter") return [...document.querySelectorAll(`.wall [data-run="${carried.chapter}"], .wall [data-stack="${carried.chapter}"]`)];
  return carried.kind === "photos" ? carried.photos.flatMap((photo) => document.querySelector(`[data-region] [data-photo="${photo}"]`) ?? []) : [el];
}

/** A likeness of what is carried, to follow the hand. */
function ghostOf(press: Press): { ghost: HTMLElement; offset: { x: number; y: number } } {
  const photo = !carriesSpreads(press.carried);
  const source = photo ? press.el : press.el.closest<HTMLElement>(".spread")!;
  const seen = photo ? source.querySelector("img")! : source;
  const box = seen.getBoundingClientRect();
  const scale = Math.min(0.8, 180 / Math.max(box.width, box.height)); // the words on the place below must stay readable
  const ghost = document.createElement("div");
  ghost.className = `ghost ${photo ? press.carried.kind : "spread"}`;
  ghost.setAttribute("aria-hidden", "true");
  const likeness = seen.cloneNode(true) as HTMLElement;
  for (const el of [likeness, ...likeness.querySelectorAll<HTMLElement>("*")]) {
    for (const name of el.getAttributeNames()) if (name.startsWith("data-") && name !== "data-across") el.removeAttribute(name);
    el.removeAttribute("tabindex");
    el.removeAttribute("role");
  }
  ghost.append(likeness);
  if (press.carried.kind === "photos") ghost.append(countOf(press.carried.photos.length));
  if (photo) {
    ghost.style.width = `${box.width * scale}px`;
    ghost.style.height = `${box.height * scale}px`;
    const hold = (press.y - box.top) * scale;
    // It hangs from the hand, below the words on the page; under a finger nothing could be read anyway.
    return { ghost, offset: { x: (press.x - box.left) * scale, y: press.touch ? hold : Math.min(hold, 12) } };
  }
  for (const el of [ghost, likeness]) el.style.setProperty("--page", `${(box.width * scale) / 2}px`);
  return { ghost, offset: { x: -10, y: -14 } }; // below the hand, so that the place it points at stays in sight
}

function countOf(n: number): HTMLElement {
  const count = document.createElement("b");
  count.textContent = String(n);
  return count;
}

// Holds the pointer while something is carried, and gives the hand its shape:
// changing the shape of every card instead would have all of them styled anew.
const grip = document.createElement("div");
grip.className = "grip";

/** Binds carrying by hand to everything within root. Call the result to unbind. */
export function bindDrag(root: HTMLElement, desk: Desk, aim: Aim): () => void {
  const hands = new Hands(desk, aim);
  const html = document.documentElement;
  const bound: [EventTarget, string, (e: never) => void, AddEventListenerOptions?][] = [
    [root, "pointerdown", (e: PointerEvent) => hands.down(e)],
    [html, "pointermove", (e: PointerEvent) => hands.moved(e)],
    [html, "pointerup", (e: PointerEvent) => hands.up(e)],
    [html, "pointercancel", (e: PointerEvent) => hands.cancelled(e)],
    // A browser decides at the first touchmove whether the finger scrolls; this
    // listener must have been there, and not passive, before the finger came.
    [root, "touchmove", (e: TouchEvent) => { if (hands.full && e.cancelable) e.preventDefault(); }, { passive: false }],
    [html, "contextmenu", (e: Event) => { if (hands.full || hands.resting) e.preventDefault(); }],
    [root, "dragstart", (e: Event) => e.preventDefault()], // the browser's own dragging of pictures and marked text
    [window, "keydown", (e: KeyboardEvent) => hands.key(e), { capture: true }],
    [window, "blur", () => hands.finish("giveUp")],
  ];
  for (const [on, kind, does, options] of bound) on.addEventListener(kind, does as EventListener, options);
  document.body.append(grip);
  return () => {
    grip.remove();
    hands.finish("giveUp");
    for (const [on, kind, does, options] of bound) on.removeEventListener(kind, does as EventListener, options);
  };
}

/** What the pointer is doing: nothing, pressing something it may carry, or carrying it. */
class Hands {
  private press: Press | undefined;
  private carry: Carry | undefined;

  constructor(private desk: Desk, private aim: Aim) {}

  get full(): boolean {
    return this.carry !== undefined;
  }

  /** A finger rests on something it could carry. */
  get resting(): boolean {
    return this.press?.touch ?? false;
  }

  down(e: PointerEvent): void {
    if (this.carry || this.desk.readOnly || e.button !== 0 || !e.isPrimary || e.ctrlKey || e.metaKey || e.shiftKey) return;
    const el = (e.target as Element).closest<HTMLElement>("[data-photo], [data-handle], [data-chapter]");
    const one = carriedBy(el);
    if (!el || !one) return;
    const touch = e.pointerType === "touch";
    const carried = takenUp(this.desk.hand, one);
    this.press = { pointer: e.pointerId, touch, carried, el, x: e.clientX, y: e.clientY, timer: 0 };
    if (touch) this.press.timer = window.setTimeout(() => this.begin(e.clientX, e.clientY), holdFor);
  }

  moved(e: PointerEvent): void {
    if (this.carry?.press.pointer === e.pointerId) return this.carry.move(e.clientX, e.clientY);
    const { press } = this;
    if (press?.pointer !== e.pointerId) return;
    const far = Math.hypot(e.clientX - press.x, e.clientY - press.y);
    if (press.touch && far > slip) this.forget(); // it is a scroll
    else if (!press.touch && far >= dragAfter) this.begin(e.clientX, e.clientY);
  }

  up(e: PointerEvent): void {
    if (this.carry?.press.pointer === e.pointerId) this.finish("letGo");
    else if (this.press?.pointer === e.pointerId) this.forget();
  }

  cancelled(e: PointerEvent): void {
    if (this.carry?.press.pointer === e.pointerId || this.press?.pointer === e.pointerId) this.finish("giveUp");
  }

  key(e: KeyboardEvent): void {
    if (e.key !== "Escape" || !this.carry) return;
    e.preventDefault();
    e.stopPropagation();
    this.finish("giveUp");
  }

  finish(how: "letGo" | "giveUp"): void {
    this.forget();
    const ended = this.carry;
    this.carry = undefined;
    if (!ended) return;
    swallowClick();
    ended[how]();
  }

  private begin(x: number, y: number): void {
    const { press } = this;
    if (!press) return;
    this.forget();
    this.carry = new Carry(this.desk, this.aim, press, x, y);
  }

  private forget(): void {
    clearTimeout(this.press?.timer);
    this.press = undefined;
  }
}
