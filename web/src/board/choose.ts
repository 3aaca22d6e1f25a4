// Choosing with a click or a tap, and choosing where: the way to move things
// that needs no dragging.

import { chosenSpoken } from "../model/commands";
import type { Desk } from "../model/desk";
import { aimAt, carriedIn, choose, chosenPhoto, chosenPhotos, extend, toggle, type Hand } from "../model/hand";
import { sameTarget, type Target } from "../model/targets";
import { carriedBy, pageOf, photoOf, regionOf } from "./hooks";
import { oneTabStop, stops } from "./walk";

/** Binds clicks and the focus. Call the result to unbind. */
export function bindChoose(root: HTMLElement, desk: Desk): () => void {
  let [before, now]: (number | undefined)[] = []; // the photos the last two clicks met
  const click = (e: MouseEvent) => {
    const el = e.target as Element;
    [before, now] = [now, photoOf(el)];
    if (!regionOf(el) || el.closest("button, input, select")) return;
    const carried = desk.hand.where ? carriedIn(desk.hand) : undefined;
    if (carried) {
      const target = targetOf(el);
      if (target) desk.put(carried, aimAt(desk.session.sequence, desk.hand, target).aim!);
      return;
    }
    chooseAt(desk, el, e);
  };
  // A quick finger that puts one card down and chooses the next has not tapped that one twice.
  const twice = (e: MouseEvent) => {
    const photo = photoOf(e.target as Element);
    if (photo && photo === before) desk.show({ sheet: "look", lookingAt: photo });
  };
  // What is chosen must stay chosen when a blank page is pressed to put it there.
  const press = (e: MouseEvent) => {
    const el = e.target as Element;
    if (photoOf(el) && (e.ctrlKey || e.metaKey || e.shiftKey)) return e.preventDefault(); // the focus would choose this one alone
    const placing = desk.hand.where || (chosenPhoto(desk.hand) && !desk.readOnly && blankTarget(el));
    if (placing && regionOf(el)) e.preventDefault();
  };
  const focus = (e: FocusEvent) => {
    const el = e.target as HTMLElement;
    const region = el.closest("[data-region]");
    if (!region || !el.matches("[data-photo], [data-page], .chapter-name")) return;
    oneTabStop(region, el);
    if (!desk.hand.where) follow(desk, el);
  };
  // While a place is being chosen, the one under the mouse says what would happen there.
  const over = (e: PointerEvent) => {
    if (!desk.hand.where || !desk.hand.chosen || e.pointerType === "touch") return;
    const aim = targetOf(e.target as Element);
    const hand = aim && aimAt(desk.session.sequence, desk.hand, aim);
    if (hand && !sameTarget(hand.aim, desk.hand.aim)) desk.setHand(hand);
  };
  root.addEventListener("pointerover", over);
  root.addEventListener("click", click);
  root.addEventListener("dblclick", twice);
  root.addEventListener("mousedown", press);
  root.addEventListener("focusin", focus);
  return () => {
    root.removeEventListener("pointerover", over);
    root.removeEventListener("click", click);
    root.removeEventListener("dblclick", twice);
    root.removeEventListener("mousedown", press);
    root.removeEventListener("focusin", focus);
  };
}

/** The focus chooses as it goes, so that the line of words is always about what it stands on. */
function follow(desk: Desk, el: HTMLElement): void {
  const carried = carriedBy(el) ?? spreadOf(el);
  const photo = photoOf(el);
  if (!carried || desk.hand.many || (photo && [chosenPhoto(desk.hand), ...desk.hand.more].includes(photo))) return;
  desk.setHand(choose(carried));
}

function spreadOf(el: Element) {
  const page = pageOf(el);
  return page && page.spread !== 0 ? ({ kind: "spread", spread: page.spread } as const) : undefined;
}

function chooseAt(desk: Desk, el: Element, e: MouseEvent): void {
  const photo = photoOf(el);
  const target = blankTarget(el);
  const held = chosenPhoto(desk.hand);
  if (photo && (e.ctrlKey || e.metaKey || (desk.hand.many && !e.shiftKey))) setMany(desk, toggle(desk.hand, photo));
  else if (photo && e.shiftKey && held) setMany(desk, extend(desk.hand, photo, stops(el.closest("[data-region]")!).map(photoOf).filter((id) => id > 0)));
  else if (photo) {
    el.closest<HTMLElement>("[data-photo]")!.focus({ preventScroll: true });
    desk.setHand(choose({ kind: "photo", photo }));
  } else if (target && held && !desk.readOnly && desk.hand.more.length === 0) desk.put({ kind: "photo", photo: held }, target);
  else {
    const carried = carriedBy(el) ?? spreadOf(el);
    if (carried) desk.setHand(choose(carried));
  }
}

function setMany(desk: Desk, hand: Hand): void {
  desk.setHand(hand);
  desk.say(chosenSpoken(chosenPhotos(hand).length));
}

/** A blank page or a place between spreads: what is chosen can go there without taking another's place. */
function blankTarget(el: Element): Target | undefined {
  if (el.closest("[data-page][data-blank], [data-between]")) return targetOf(el);
  return undefined;
}

function targetOf(el: Element): Target | undefined {
  const between = el.closest<HTMLElement>("[data-between]");
  if (between) return { kind: "between", index: Number(between.dataset.between) };
  const page = pageOf(el);
  if (page) return { kind: "page", page };
  const region = regionOf(el);
  return region === "table" || region === "box" ? { kind: region } : undefined;
}
