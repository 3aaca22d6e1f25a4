// What the maker has chosen, and whether the next place pointed at takes it.
// Pointer, finger and keyboard all go through these few states.

import { chapterOf } from "./chapter";
import { firstTarget, pushable, sameTarget, targetsFor, type Carried, type One, type Target } from "./targets";
import { indexOf, type PhotoID, type Sequence } from "./sequence";

export interface Hand {
  readonly chosen: One | undefined;
  readonly more: readonly PhotoID[]; // further photos chosen along with it, for what can be done to several
  readonly many: boolean; // choosing several: a tap adds or takes away, and walking leaves them chosen
  readonly where: boolean; // choosing where: the next place takes it
  readonly aim: Target | undefined; // where the keyboard's walk stands
  readonly push: boolean; // what lies where it is put is pushed on, instead of swapped
}

export const emptyHand: Hand = { chosen: undefined, more: [], many: false, where: false, aim: undefined, push: false };

export function chosenPhoto(hand: Hand): PhotoID {
  return hand.chosen?.kind === "photo" ? hand.chosen.photo : 0;
}

/** All photos chosen, the first one first. */
export function chosenPhotos(hand: Hand): PhotoID[] {
  const first = chosenPhoto(hand);
  return first === 0 ? [] : [first, ...hand.more];
}

/** What would be carried if it were taken up now: all that is chosen. */
export function carriedIn(hand: Hand): Carried | undefined {
  const photos = chosenPhotos(hand);
  return photos.length > 1 ? { kind: "photos", photos } : hand.chosen;
}

/** What a hand that takes up one thing carries: with one of several chosen photos all of them. */
export function takenUp(hand: Hand, carried: One): Carried {
  const photos = chosenPhotos(hand);
  return carried.kind === "photo" && photos.length > 1 && photos.includes(carried.photo) ? { kind: "photos", photos } : carried;
}

export function choose(carried: Carried): Hand {
  return carried.kind === "photos" ? chooseAll(carried.photos) : { ...emptyHand, chosen: carried };
}

/** Adds a photo to those chosen, or takes it from them. */
export function toggle(hand: Hand, photo: PhotoID): Hand {
  const photos = chosenPhotos(hand);
  const next = photos.includes(photo) ? photos.filter((id) => id !== photo) : [...photos, photo];
  return { ...chooseAll(next), many: hand.many && next.length > 0 };
}

/** From now on every card that is tapped is chosen along, until all is put down. */
export function chooseAlong(hand: Hand, photo: PhotoID): Hand {
  if (chosenPhotos(hand).includes(photo)) return { ...hand, many: true };
  return { ...toggle(hand, photo), many: true };
}

/** Chooses these photos together, so that walking and looking leaves them chosen. */
export function chooseMany(photos: readonly PhotoID[]): Hand {
  return { ...chooseAll(photos), many: photos.length > 0 };
}

/** Chooses everything from the first chosen photo to this one, in the order they lie in. */
export function extend(hand: Hand, photo: PhotoID, order: readonly PhotoID[]): Hand {
  const from = order.indexOf(chosenPhoto(hand));
  const to = order.indexOf(photo);
  if (from < 0 || to < 0) return choose({ kind: "photo", photo });
  const run = from <= to ? order.slice(from, to + 1) : order.slice(to, from + 1).reverse();
  return chooseAll(run);
}

function chooseAll(photos: readonly PhotoID[]): Hand {
  const [first, ...more] = photos;
  return first === undefined ? emptyHand : { ...choose({ kind: "photo", photo: first }), more };
}

/** Takes it up: from now on the arrows move where it would go. */
export function pickUp(q: Sequence, carried: Carried): Hand {
  return { ...choose(carried), where: true, aim: firstTarget(q, carried) };
}

/** The hand aimed at a target; pushing on where it may. */
export function aimAt(q: Sequence, hand: Hand, target: Target): Hand {
  const carried = carriedIn(hand);
  if (!carried || target.kind !== "page") return { ...hand, aim: target };
  const page = { kind: "page", page: target.page } as const;
  return { ...hand, aim: hand.push && pushable(q, carried, target.page) ? { ...page, push: true } : page };
}

/** From now on what lies there is pushed on, or swapped again. */
export function turnPush(q: Sequence, hand: Hand): Hand {
  const next = { ...hand, push: !hand.push };
  return hand.aim ? aimAt(q, next, hand.aim) : next;
}

/** Moves the aim by so many places; it stops at both ends. */
export function walk(q: Sequence, hand: Hand, by: number): Hand {
  const carried = carriedIn(hand);
  if (!carried) return hand;
  const targets = targetsFor(q, carried);
  const { aim } = hand;
  const here = aim?.kind === "page" ? { kind: "page", page: aim.page } as const : aim;
  const i = targets.findIndex((t) => sameTarget(t, here));
  const next = targets[Math.min(targets.length - 1, Math.max(0, i + by))];
  return next ? aimAt(q, hand, next) : hand;
}

/** Drops what is no longer there to be chosen. */
export function tidy(q: Sequence, hand: Hand, known: (photo: PhotoID) => boolean): Hand {
  const { chosen } = hand;
  if (!chosen) return hand;
  if (chosen.kind === "spread") return indexOf(q, chosen.spread) >= 0 ? hand : emptyHand;
  if (chosen.kind === "chapter") return chapterOf(q, chosen.chapter) ? hand : emptyHand;
  const photos = chosenPhotos(hand);
  if (photos.every(known)) return hand;
  const still = photos.filter(known);
  return hand.more.length > 0 && still.length > 0 ? { ...chooseAll(still), many: hand.many } : known(chosen.photo) ? { ...hand, more: hand.more.filter(known) } : emptyHand;
}
