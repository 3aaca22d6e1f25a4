// What a desk shows beside and above the wall, and how the maker likes to look
// at it: the nouns of desk.ts, values without acts.

import type * as api from "../net/api";
import type { SideOf } from "./comparing";
import type { ChapterID, Sequence, SpreadID } from "./sequence";
import type { TableOrder } from "./table";

export type Ground = "paper" | "grey" | "black";

/** How the maker likes to look at it; kept in this browser, not with the title. */
export interface View {
  readonly ground: Ground;
  readonly size: number; // least width of a page, CSS pixels; 0: whatever suits the screen
  readonly ribbon: boolean; // the colours along the sequence are shown
  readonly tray: number; // height of the tray, CSS pixels
  readonly trayOpen: boolean;
  readonly order: TableOrder; // how prints lie on the table
  readonly piled: boolean; // nearly the same pictures lie there in piles
  readonly lines: readonly PageLine[]; // shown on pages
  readonly mm: number; // CSS pixels that make a millimetre on this screen; 0: not measured
  readonly folded: Readonly<Record<number, readonly ChapterID[]>>; // chapters folded to a stack, by title
}

export type PageLine = "trim" | "bleed" | "safe";

export const firstView: View = { ground: "paper", size: 0, ribbon: false, tray: 190, trayOpen: true, order: "came", piled: true, lines: ["trim"], mm: 0, folded: {} };

export type Side = "partners" | "versions" | "facts" | "choose" | "loss" | undefined;
export type Sheet = "bring" | "arrange" | "keys" | "look" | "map" | "borrow" | "originals" | "prints" | "pack" | "quotes" | "paper-wall" | "in-hand" | "leafing" | TimeSheet | PaperSheet | CopiesSheet | undefined;
type PaperSheet = "cover" | "format" | "pages" | "checks" | "print" | "proofs"; // on the way from the wall to paper
type CopiesSheet = "edition" | "orders" | "postage" | "packing" | "labels" | "money"; // what becomes of the copies
type TimeSheet = "weeks" | "compare" | "settled" | "fresh" | "thin"; // about the weeks a wall has hung

/** A chapter getting its name: in place, or a new one over a run of spreads. */
export type Naming = { readonly chapter: ChapterID } | { readonly from: SpreadID; readonly to: SpreadID };

/** Something the maker should read; it stays until put away. */
export interface Notice {
  readonly key: number;
  readonly message: string;
  readonly hint: string;
}

/** A version that is looked at. */
export interface Earlier {
  readonly version: api.VersionDetail;
  readonly sequence: Sequence;
}

/** Two walls that are held against each other. */
export interface Compared {
  readonly earlier: SideOf;
  readonly later: SideOf;
}

export interface Sending {
  readonly files: number;
  readonly part: number; // 0..1
  stop(): void;
}
