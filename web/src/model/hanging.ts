// A wall as it is read off paper: what faces what, in order. The program reads
// the notation; this writes it, and makes the corrections of the maker. Each
// correction gives another hanging, or the same one when there is nothing to do.

import type { PhotoID, Sequence } from "./sequence";

/** Two facing pages; 0 is a blank. */
export interface Facing {
  readonly left: PhotoID;
  readonly right: PhotoID;
  readonly across: boolean; // the photo in left crosses the gutter; right is 0
}

export interface Hanging {
  readonly opening: PhotoID;
  readonly spreads: readonly Facing[];
  readonly closing: PhotoID;
}

export const bare: Hanging = { opening: 0, spreads: [], closing: 0 };

type LooseFacing = { left?: PhotoID; right?: PhotoID; across?: boolean };

/** A hanging as JSON carries it, or the wall's own. */
export function readHanging(h: { opening?: PhotoID; closing?: PhotoID; spreads: readonly LooseFacing[] } | Sequence): Hanging {
  return {
    opening: h.opening ?? 0, closing: h.closing ?? 0,
    spreads: h.spreads.map((s) => ({ left: s.left ?? 0, right: s.right ?? 0, across: s.across ?? false })),
  };
}

/** The notation, as package sequence writes it: 12+47 / 3+19 / 8. */
export function written(h: Hanging): string {
  const number = (id: PhotoID) => (id === 0 ? "" : String(id));
  const parts = h.spreads.map((s) => (s.across ? `${s.left}+${s.left}` : s.left === 0 && s.right === 0 ? "_+_" : `${number(s.left)}+${number(s.right)}`));
  if (h.opening !== 0 || (h.spreads.length === 0 && h.closing !== 0)) parts.unshift(number(h.opening) || "_");
  if (h.closing !== 0) parts.push(String(h.closing));
  return parts.join(" / ");
}

const alone = (photo: PhotoID): Facing => ({ left: photo, right: 0, across: false });
const holds = (s: Facing, photo: PhotoID) => photo !== 0 && (s.left === photo || s.right === photo);
const partner = (s: Facing, photo: PhotoID) => (s.left === photo ? s.right : s.left);

/** Every photo in reading order. */
export function hanging(h: Hanging): PhotoID[] {
  return [h.opening, ...h.spreads.flatMap((s) => [s.left, s.right]), h.closing].filter((id) => id !== 0);
}

export function spreadOf(h: Hanging, photo: PhotoID): Facing | undefined {
  return h.spreads.find((s) => holds(s, photo));
}

function withSpread(h: Hanging, i: number, ...now: Facing[]): Hanging {
  return { ...h, spreads: [...h.spreads.slice(0, i), ...now, ...h.spreads.slice(i + 1)] };
}

function changed(h: Hanging, photo: PhotoID, change: (s: Facing) => Facing[]): Hanging {
  const i = h.spreads.findIndex((s) => holds(s, photo));
  return i < 0 ? h : withSpread(h, i, ...change(h.spreads[i]!));
}

/** Another number stands on the print. */
export function renumbered(h: Hanging, from: PhotoID, to: PhotoID): Hanging {
  const other = (id: PhotoID) => (id === from ? to : id);
  return { opening: other(h.opening), closing: other(h.closing), spreads: h.spreads.map((s) => ({ ...s, left: other(s.left), right: other(s.right) })) };
}

/** The print does not hang; a spread that held it alone goes too. */
export function without(h: Hanging, photo: PhotoID): Hanging {
  const off = (id: PhotoID) => (id === photo ? 0 : id);
  const rest = changed(h, photo, (s) => (partner(s, photo) === 0 ? [] : [{ ...s, left: off(s.left), right: off(s.right) }]));
  return { ...rest, opening: off(h.opening), closing: off(h.closing) };
}

/** A print that was missed hangs alone, beside another or at the end. */
export function beside(h: Hanging, photo: PhotoID, other: PhotoID, before = false): Hanging {
  const i = h.spreads.findIndex((s) => holds(s, other));
  const at = i < 0 ? (other !== 0 && other === h.opening ? 0 : h.spreads.length) : i + (before ? 0 : 1);
  return { ...h, spreads: [...h.spreads.slice(0, at), alone(photo), ...h.spreads.slice(at)] };
}

/** The print faces the one after it; whom either faced hangs alone. */
export function facingNext(h: Hanging, photo: PhotoID): Hanging {
  const order = hanging(h);
  const next = order[order.indexOf(photo) + 1];
  if (next === undefined || order.indexOf(photo) < 0) return h;
  if (h.opening === photo) return facingNext({ ...h, opening: 0, spreads: [alone(photo), ...h.spreads] }, photo);
  if (h.closing === next) return facingNext({ ...h, closing: 0, spreads: [...h.spreads, alone(next)] }, photo);
  const own = spreadOf(h, photo)!;
  if (holds(own, next)) return h;
  const left = own.right === photo ? own.left : 0; // whom it faced
  const right = partner(spreadOf(h, next)!, next);
  const pair = { left: photo, right: next, across: false };
  const i = h.spreads.indexOf(own);
  const j = h.spreads.findIndex((s) => holds(s, next));
  const spreads = [...h.spreads.slice(0, i), ...(left ? [alone(left)] : []), pair, ...h.spreads.slice(i + 1, j), ...(right ? [alone(right)] : []), ...h.spreads.slice(j + 1)];
  return { ...h, spreads };
}

/** The print faces nobody: it gets the spread behind or before the one it was on. */
export function setApart(h: Hanging, photo: PhotoID): Hanging {
  return changed(h, photo, (s) => {
    const other = partner(s, photo);
    if (other === 0) return [s];
    return s.left === photo ? [alone(photo), alone(other)] : [alone(other), alone(photo)];
  });
}

/** The pages of its spread change sides. */
export function swapped(h: Hanging, photo: PhotoID): Hanging {
  return changed(h, photo, (s) => [s.across ? s : { ...s, left: s.right, right: s.left }]);
}

/** A print alone lies across both pages, or no longer. */
export function turnedAcross(h: Hanging, photo: PhotoID): Hanging {
  return changed(h, photo, (s) => (partner(s, photo) === 0 ? [{ left: photo, right: 0, across: !s.across }] : [s]));
}

/** Its spread goes one place earlier (-1) or later (1); a print alone can become the opening or the closing page. */
export function shifted(h: Hanging, photo: PhotoID, by: -1 | 1): Hanging {
  if (photo === h.opening) return by > 0 ? { ...h, opening: 0, spreads: [alone(photo), ...h.spreads] } : h;
  if (photo === h.closing) return by < 0 ? { ...h, closing: 0, spreads: [...h.spreads, alone(photo)] } : h;
  const i = h.spreads.findIndex((s) => holds(s, photo));
  const own = h.spreads[i];
  if (!own) return h;
  const to = i + by;
  if (to < 0 || to >= h.spreads.length) {
    if (partner(own, photo) !== 0) return h;
    const rest = withSpread(h, i);
    if (by < 0) return h.opening === 0 ? { ...rest, opening: photo } : h;
    return h.closing === 0 ? { ...rest, closing: photo } : h;
  }
  const spreads = [...h.spreads];
  spreads[i] = spreads[to]!;
  spreads[to] = own;
  return { ...h, spreads };
}
