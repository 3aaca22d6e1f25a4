// The keyboard's way over the wall: arrows walk, Space or Enter picks up and
// puts down, single letters do what the line below the wall offers.

import { keyCommands, take, turnPushing } from "../model/commands";
import type { Desk } from "../model/desk";
import { rowForKey } from "../model/groups";
import { aimAt, carriedIn, chosenPhoto, choose, emptyHand, extend, takenUp, walk } from "../model/hand";
import type { PhotoID } from "../model/sequence";
import { carriesSpreads, targetSpoken, targetsFor, type Carried, type One, type Target } from "../model/targets";
import { carriedBy, elementOf, pageOf, photoOf } from "./hooks";
import { intoSight } from "./scroll";
import { drawNow, nearest, stepFrom, stops } from "./walk";

/** Binds the keyboard. Call the result to unbind. */
export function bindKeys(root: HTMLElement, desk: Desk): () => void {
  const anywhere = (e: KeyboardEvent) => {
    if (document.querySelector("dialog[open]") || typing(e.target)) return;
    const command = e.ctrlKey || e.metaKey;
    if (command && !e.altKey && e.key.toLowerCase() === "z") {
      e.preventDefault();
      if (e.shiftKey) desk.redo();
      else desk.undo();
    } else if (e.key === "Escape") escape(desk);
    else if (!command && !e.altKey && !e.defaultPrevented) {
      const row = rowForKey(desk, e.key);
      if (!row) return;
      e.preventDefault();
      row.run(desk);
    }
  };
  const onBoard = (e: KeyboardEvent) => {
    if (e.defaultPrevented || e.ctrlKey || e.metaKey || e.altKey || typing(e.target)) return;
    const el = (e.target as Element).closest<HTMLElement>("[data-photo], [data-page][data-blank], [data-handle], [data-chapter], [data-between]");
    if (!el) return;
    const handled = desk.hand.where ? carrying(desk, e.key) : standing(desk, el, e);
    if (handled) e.preventDefault();
  };
  window.addEventListener("keydown", anywhere);
  root.addEventListener("keydown", onBoard);
  return () => {
    window.removeEventListener("keydown", anywhere);
    root.removeEventListener("keydown", onBoard);
  };
}

/** Single letters must never act while somebody writes. */
function typing(target: EventTarget | null): boolean {
  const el = target as HTMLElement;
  return el instanceof HTMLTextAreaElement || el instanceof HTMLSelectElement || el.isContentEditable ||
    (el instanceof HTMLInputElement && !["checkbox", "radio", "range", "button"].includes(el.type));
}

function escape(desk: Desk): void {
  if (desk.trial.now) desk.trial.leave();
  else if (desk.hand.where) {
    desk.say("Left where it was.");
    desk.setHand({ ...desk.hand, where: false, aim: undefined, push: false });
  } else if (desk.hand.chosen) desk.setHand(emptyHand);
  else if (desk.side) desk.show({ side: undefined });
}

/** The keys while nothing is carried. */
function standing(desk: Desk, el: HTMLElement, e: KeyboardEvent): boolean {
  const carried = carriedBy(el);
  const next = stepFrom(el, e.key);
  if (e.key.startsWith("Arrow") || e.key === "Home" || e.key === "End") {
    if (next) drawNow(next);
    if (next && e.shiftKey) stretch(desk, next);
    else next?.focus({ preventScroll: true }); // it would be scrolled to twice
    intoSight(next);
    return true;
  }
  if (e.key === " " || e.key === "Enter") {
    if (carried?.kind === "photo" && desk.hand.many && e.key === " ") keyCommands(desk, carried).find((c) => c.act === "along")?.run();
    else if (carried && !desk.readOnly) pickUp(desk, takenUp(desk.hand, carried));
    else if (carried?.kind === "photo") desk.show({ sheet: "look", lookingAt: carried.photo });
    else onBlank(desk, el);
    return true;
  }
  const subject = carried ?? spreadOf(el);
  const command = subject && keyCommands(desk, subject).find((c) => c.key !== "" && c.key === e.key.toLowerCase());
  if (!command || e.shiftKey) return false;
  if (command.act === "table" || command.act === "box") leaveBehind(el, photoOf(el));
  command.run();
  showAim(desk);
  return true;
}

function pickUp(desk: Desk, carried: Carried): void {
  take(desk, carried);
  showAim(desk);
}

/** Keeps the place aimed at in sight. A pointer's own aim is where one looks anyway. */
function showAim(desk: Desk): void {
  if (desk.hand.where && desk.hand.aim) intoSight(elementOf(desk.hand.aim));
}

function spreadOf(el: HTMLElement): One | undefined {
  const page = pageOf(el);
  return page && page.spread !== 0 ? { kind: "spread", spread: page.spread } : undefined;
}

/** Enter on a blank page puts there what is chosen. */
function onBlank(desk: Desk, el: HTMLElement): void {
  const page = pageOf(el);
  const photo = chosenPhoto(desk.hand);
  if (page && photo) desk.put({ kind: "photo", photo }, { kind: "page", page });
  else desk.say("Nothing is picked up. Pick up a photo first, with Space on its card.");
}

/** Shift and arrow: everything from the first chosen to here. */
function stretch(desk: Desk, to: HTMLElement): void {
  const photo = photoOf(to);
  if (!photo) return;
  const order = stops(to.closest("[data-region]")!).map(photoOf).filter((id) => id > 0);
  const hand = chosenPhoto(desk.hand) ? extend(desk.hand, photo, order) : choose({ kind: "photo", photo });
  to.focus({ preventScroll: true });
  desk.setHand(hand);
  desk.say(`${hand.more.length + 1} photos chosen.`);
}

/**
 * A photo sent to a tray leaves; the maker does not. The focus goes to its
 * neighbour, so that one can go on through the wall or the table.
 */
export function leaveBehind(el: Element, photo: PhotoID): void {
  const region = el.closest("[data-region]");
  if (!region) return;
  const all = stops(region).filter((stop) => photoOf(stop) > 0);
  const i = all.findIndex((stop) => photoOf(stop) === photo);
  (all[i + 1] ?? all[i - 1])?.focus({ preventScroll: true });
}

/** The keys while something is picked up. */
function carrying(desk: Desk, key: string): boolean {
  const { aim } = desk.hand;
  const chosen = carriedIn(desk.hand);
  if (!chosen || !aim) return false;
  const by: Record<string, number> = { ArrowRight: 1, ArrowLeft: -1, Home: -1e6, End: 1e6 };
  if (key in by) pointAt(desk, chosen, walked(desk, by[key]!));
  else if (key === "ArrowDown" || key === "ArrowUp") pointAt(desk, chosen, lineAway(desk, chosen, aim, key === "ArrowDown" ? 1 : -1));
  else if (key === "t" && chosen.kind !== "chapter") pointAt(desk, chosen, { kind: "table" });
  else if (key === "b" && !carriesSpreads(chosen)) pointAt(desk, chosen, { kind: "box" });
  else if (key === "p" && !carriesSpreads(chosen)) turnPushing(desk);
  else if (key === " " || key === "Enter") desk.put(chosen, aim);
  else if (key === "Escape") escape(desk);
  else return false;
  return true;
}

/** The place so many steps on, passing over those that lie in a folded chapter. */
function walked(desk: Desk, by: number): Target | undefined {
  const q = desk.session.sequence;
  let hand = walk(q, desk.hand, by);
  for (let last: Target | undefined; hand.aim !== last && !inSight(hand.aim); ) {
    last = hand.aim;
    hand = walk(q, hand, Math.sign(by));
  }
  return inSight(hand.aim) ? hand.aim : desk.hand.aim;
}

function inSight(target: Target | undefined): boolean {
  return target !== undefined && !elementOf(target)?.closest("[hidden]") && elementOf(target) !== null;
}

function pointAt(desk: Desk, carried: Carried, aim: Target | undefined): void {
  if (!aim) return;
  const hand = aimAt(desk.session.sequence, desk.hand, aim);
  desk.setHand(hand);
  showAim(desk);
  desk.say(targetSpoken(desk.session.sequence, carried, hand.aim!));
}

/** The target a line further up or down; beyond the wall's end come table and box. */
function lineAway(desk: Desk, carried: Carried, aim: Target, way: 1 | -1): Target | undefined {
  const targets = targetsFor(desk.session.sequence, carried);
  const onWall = targets.filter((t) => t.kind === "page" || t.kind === "between"); // none of them pushes: that is the hand's
  if (aim.kind === "table" || aim.kind === "box") {
    if (way === 1) return targets.at(-1);
    return aim.kind === "box" ? { kind: "table" } : onWall.at(-1);
  }
  const here = elementOf(aim);
  const elements = new Map(onWall.map((t) => [elementOf(t)!, t] as const));
  const next = here && nearest(here, [...elements.keys()], way);
  return next ? elements.get(next) : way === 1 ? { kind: "table" } : undefined;
}

