// The maker's mark of a face in a picture, and of where it looks: it leads the
// eye over the page, so it counts when a partner is looked for.

import type * as api from "../net/api";
import type { Intent } from "./acts";
import { sameValue, valueOf, type Photo } from "./facts";
import { sentence } from "./words";

export const directions = [
  { towards: "left", words: "to the left" },
  { towards: "right", words: "to the right" },
  { towards: "out", words: "towards us" },
  { towards: "", words: "nowhere in particular" },
] as const;

/** A spot in a picture, as fractions of its width and its height. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

export const middle: Spot = { x: 0.5, y: 0.4 };

const fine = 1000; // a thousandth of a picture is finer than anybody points

/** Where on a picture was clicked; a click beside it counts for its rim. */
export function spotIn(box: { left: number; top: number; width: number; height: number }, x: number, y: number): Spot {
  return tidy({ x: (x - box.left) / box.width, y: (y - box.top) / box.height });
}

function tidy({ x, y }: Spot): Spot {
  const within = (v: number) => Math.round(Math.min(1, Math.max(0, v)) * fine) / fine;
  return { x: within(x), y: within(y) };
}

const ways: Readonly<Record<string, readonly [number, number]>> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** The spot one key's step on; undefined for a key that does not move it. */
export function stepped(spot: Spot, key: string, far: boolean): Spot | undefined {
  const way = ways[key];
  const step = far ? 0.1 : 0.01;
  return way && tidy({ x: spot.x + way[0] * step, y: spot.y + way[1] * step });
}

/** "A face at 40 % from the left and 30 % from the top" */
export function spotWords({ x, y }: Spot): string {
  return `A face at ${Math.round(x * 100)} % from the left and ${Math.round(y * 100)} % from the top`;
}

/** Where a face looks, as a sentence. */
export function lookWords(gaze: api.Gaze | undefined): string {
  if (!gaze) return "No face is marked.";
  return sentence(`a face is marked; it looks ${directions.find((d) => d.towards === gaze.towards)?.words ?? "nowhere in particular"}`);
}

/** The act of marking a face, or of taking the mark away; undefined when it is so already. */
export function mark(p: Photo, gaze: api.Gaze | undefined): Intent | undefined {
  const now: api.Value = gaze ? { gaze } : {};
  if (sameValue(valueOf(p, "gaze"), now)) return undefined;
  const act = gaze ? `mark that a face in photo ${p.number} looks ${directions.find((d) => d.towards === gaze.towards)!.words}` : `take the mark of a face from photo ${p.number}`;
  return { want: "say", act, says: () => [{ photo: p.number, fact: "gaze", was: valueOf(p, "gaze"), now }] };
}
