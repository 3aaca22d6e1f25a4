// One hand, two fingers or a wheel on a surface that can be moved and brought
// nearer.

import type { Spot } from "../model/chart";

const still = 5; // CSS pixels a press may wander and still be a tap; no source

export interface Gestures {
  /** Whether a press that begins now draws a frame. */
  framing(e: PointerEvent): boolean;
  pan(dx: number, dy: number): void;
  zoom(factor: number, at: Spot): void;
  frame(from: Spot, to: Spot): void;
  framed(from: Spot, to: Spot, along: boolean): void;
  tap(at: Spot, along: boolean): void;
}

interface Finger extends Spot { readonly from: Spot }

/** Binds pointers and wheel on el. Call the result to unbind. */
export function bindGestures(el: HTMLElement, to: Gestures): () => void {
  const fingers = new Map<number, Finger>();
  let framing = false;
  let wandered = false;

  const spot = (e: PointerEvent | WheelEvent): Spot => {
    const box = el.getBoundingClientRect();
    return { x: e.clientX - box.left, y: e.clientY - box.top };
  };
  const down = (e: PointerEvent) => {
    if (e.button !== 0) return;
    const at = spot(e);
    if (fingers.size === 0) {
      framing = to.framing(e);
      wandered = false;
    } else {
      framing = false;
      wandered = true; // two fingers never tap
    }
    fingers.set(e.pointerId, { ...at, from: at });
    el.setPointerCapture(e.pointerId);
  };
  const move = (e: PointerEvent) => {
    const finger = fingers.get(e.pointerId);
    if (!finger) return;
    const at = spot(e);
    wandered ||= Math.hypot(at.x - finger.from.x, at.y - finger.from.y) > still;
    if (!wandered) return;
    const others = [...fingers].filter(([id]) => id !== e.pointerId).map(([, f]) => f);
    fingers.set(e.pointerId, { ...at, from: finger.from });
    if (others.length === 1) pinch(others[0]!, finger, at);
    else if (framing) to.frame(finger.from, at);
    else if (others.length === 0) to.pan(at.x - finger.x, at.y - finger.y);
  };
  const pinch = (other: Spot, was: Spot, is: Spot) => {
    const far = (a: Spot) => Math.max(8, Math.hypot(a.x - other.x, a.y - other.y));
    to.pan((is.x - was.x) / 2, (is.y - was.y) / 2);
    to.zoom(far(is) / far(was), { x: (is.x + other.x) / 2, y: (is.y + other.y) / 2 });
  };
  const up = (e: PointerEvent) => {
    const finger = fingers.get(e.pointerId);
    fingers.delete(e.pointerId);
    if (!finger || fingers.size > 0) return;
    const along = e.ctrlKey || e.metaKey;
    if (wandered && framing) to.framed(finger.from, spot(e), along);
    else if (!wandered) to.tap(spot(e), along || e.shiftKey);
  };
  const cancel = (e: PointerEvent) => {
    const finger = fingers.get(e.pointerId);
    fingers.delete(e.pointerId);
    if (finger && framing) to.framed(finger.from, finger.from, true); // nothing lies in it
  };
  const wheel = (e: WheelEvent) => {
    e.preventDefault();
    const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1;
    const turn = Math.max(-240, Math.min(240, e.deltaY * lines));
    to.zoom(Math.exp(-turn * (e.ctrlKey ? 0.01 : 0.0025)), spot(e)); // pinching on a pad comes as a small wheel with Ctrl
  };
  el.addEventListener("pointerdown", down);
  el.addEventListener("pointermove", move);
  el.addEventListener("pointerup", up);
  el.addEventListener("pointercancel", cancel);
  el.addEventListener("wheel", wheel, { passive: false });
  return () => {
    el.removeEventListener("pointerdown", down);
    el.removeEventListener("pointermove", move);
    el.removeEventListener("pointerup", up);
    el.removeEventListener("pointercancel", cancel);
    el.removeEventListener("wheel", wheel);
  };
}
