// What the maker has read off the paper wall so far: the text is what counts,
// the photographs show where each number was seen.

import type * as api from "../net/api";
import { beside, hanging, renumbered, written, type Hanging } from "./hanging";
import type { PhotoID } from "./sequence";

/** A code in a photograph. The number is what the maker says it is, 0 while it is not known. */
export interface Mark {
  readonly shot: number; // which photograph, from 0
  readonly corners: readonly number[]; // x and y of four corners, fractions of width and height
  readonly number: PhotoID;
  readonly read: boolean; // by the program
}

/** What has been read and not yet hung or kept; it outlives the closing of its panel. */
export interface Paper {
  readonly text: string;
  readonly hung?: Hung; // what the text says, after a correction: the program need not read it first
  readonly long: number; // of the small prints, millimetres
  readonly reading?: api.WallReading;
  readonly marks: readonly Mark[];
  readonly chosen: { readonly photo: PhotoID } | { readonly mark: number } | undefined;
}

interface Hung {
  readonly text: string;
  readonly hanging: Hanging;
}

/** The wall corrected, and its text with it. */
export function rewritten(paper: Paper, hanging: Hanging): Paper {
  const text = written(hanging);
  return { ...paper, text, hung: { text, hanging } };
}

export const noPaper: Paper = { text: "", long: 70, marks: [], chosen: undefined };

/** All codes of a reading, those first that were read. */
export function marksOf(reading: api.WallReading): Mark[] {
  return reading.shots.flatMap((s, shot) => [
    ...s.codes.map((c): Mark => ({ shot, corners: c.corners, number: c.number, read: true })),
    ...s.unread.map((corners): Mark => ({ shot, corners, number: 0, read: false })),
  ]);
}

export function middle(m: Mark): { x: number; y: number } {
  const sum = (from: number) => (m.corners[from]! + m.corners[from + 2]! + m.corners[from + 4]! + m.corners[from + 6]!) / 4;
  return { x: sum(0), y: sum(1) };
}

/** The number on a print is another one: it changes where it hangs and in every photograph that shows it. */
export function correct(paper: Paper, h: Hanging, from: PhotoID, to: PhotoID): { paper: Paper; h: Hanging } {
  return { paper: { ...paper, marks: paper.marks.map((m) => (m.number === from ? { ...m, number: to } : m)), chosen: { photo: to } }, h: renumbered(h, from, to) };
}

/** A code that could not be read has this number: it hangs beside the nearest print of its photograph that does. */
export function name(paper: Paper, h: Hanging, index: number, number: PhotoID): { paper: Paper; h: Hanging } {
  const mark = paper.marks[index]!;
  const marks = paper.marks.map((m, i) => (i === index ? { ...m, number } : m));
  const named = { ...paper, marks, chosen: { photo: number } };
  const hung = hanging(h);
  if (hung.includes(number)) return { paper: named, h };
  const at = middle(mark);
  const far = (m: Mark) => Math.hypot(middle(m).x - at.x, 3 * (middle(m).y - at.y)); // a neighbour in the row before one above
  const near = paper.marks.filter((m) => m.shot === mark.shot && hung.includes(m.number)).sort((a, b) => far(a) - far(b))[0];
  return { paper: named, h: beside(h, number, near?.number ?? 0, near !== undefined && middle(near).x > at.x) };
}

/** A line of text taken apart at a slip. */
export function around(text: string, slip: api.Slip): { before: string; place: string; after: string } {
  const runes = [...text.replaceAll("\r\n", " \n").replaceAll("\r", "\n")];
  const start = slip.from - (slip.column - 1);
  const stop = runes.findIndex((c, i) => i >= slip.from && c === "\n");
  const end = stop < 0 ? runes.length : stop;
  return {
    before: runes.slice(start, slip.from).join(""),
    place: runes.slice(slip.from, slip.from + slip.length).join(""),
    after: runes.slice(slip.from + slip.length, end).join(""),
  };
}

/** Where a slip lies in the text as the browser counts. */
export function rangeOf(text: string, slip: api.Slip): [number, number] {
  const runes = [...text];
  return [runes.slice(0, slip.from).join("").length, runes.slice(0, slip.from + slip.length).join("").length];
}
