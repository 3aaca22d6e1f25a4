// What can be opened and done for the title as a whole: the groups of words in
// the bar and the keys that work anywhere are two ways to this one table. What
// can be done with what is chosen stands in commands.ts.

import type { Sheet, Side } from "./beside";
import type { Desk } from "./desk";
import type { Standpoint } from "./steps";

export type GroupName = "photographs" | "pairs" | "look" | "time" | "paper" | "pages" | "printers" | "copies" | "keys";

/** The groups in the order of the job. A group without rows is not shown; one with a single row of its own name is that row. */
export const groups: readonly (readonly [GroupName, words: string])[] = [
  ["photographs", "Photographs"],
  ["pairs", "Pairs"],
  ["look", "Look"],
  ["time", "Time"],
  ["paper", "Paper"],
  ["pages", "Pages"],
  ["printers", "Printers"],
  ["copies", "Copies"],
  ["keys", "Keys"],
];

export interface Row {
  readonly group: GroupName;
  readonly act: string; // its data-act
  readonly words: string; // on its button
  readonly key?: string; // works anywhere but while writing or in a dialog; none of the keys a chosen card knows
  readonly does?: string; // what the key does, for the sheet of keys
  /** Whether it is there at all now; always, when left out. */
  when?(desk: Desk): boolean;
  /** For what is on or off: whether it is on. */
  on?(desk: Desk): boolean;
  run(desk: Desk): void;
}

/** Adding a command is adding a row. */
export const rows: readonly Row[] = [
  sheet("photographs", "bring", "Bring photographs", "bring"),
  side("photographs", "choose-by", "Choose by", "choose"),
  side("photographs", "known", "What is known", "facts"),
  { group: "photographs", act: "find", words: "Find on the table", key: "d", does: "find on the table, by number, name, caption or note", run: (desk) => desk.table.find() },
  sheet("photographs", "map", "Map", "map"),
  sheet("photographs", "borrow", "Borrow places", "borrow"),
  sheet("photographs", "originals", "Find originals again", "originals"),

  side("pairs", "partners", "Who faces whom", "partners"),
  sheet("pairs", "arrange", "Propose an order", "arrange"),
  side("pairs", "loss", "What would be lost", "loss"),

  stands("step-in", "Step in", "+", "step in to the wall", (at) => at.line - 1),
  stands("step-back", "Step back", "-", "step back from the wall", (at) => at.line + 1),
  stands("whole", "The whole sequence", "0", "step back until the whole sequence is in sight", (at) => at.farthest),
  stands("one-spread", "One spread", "1", "step in until one spread fills the sight", (at) => at.nearest),
  {
    group: "look", act: "ribbon", words: "Ribbon of colours", key: "r", does: "the ribbon of colours along the sequence, or put it away",
    on: (desk) => desk.view.ribbon, run: (desk) => desk.setView({ ribbon: !desk.view.ribbon }),
  },
  { group: "look", act: "squint", words: "Squint", key: "q", does: "squint: weights and light only, or open the eyes again", on: (desk) => desk.squinting, run: (desk) => desk.squint() },
  { ...sheet("look", "in-hand", "In the hand", "in-hand"), key: "i", does: "in the hand: a spread as it will lie there" },
  { ...sheet("look", "leafing", "Leaf through", "leafing"), key: "v", does: "leaf through, forwards, as a reader will" },

  side("time", "versions", "Versions", "versions"),
  sheet("time", "weeks", "All the weeks", "weeks"),
  sheet("time", "compare", "Compare two walls", "compare"),
  sheet("time", "settled", "Settled and restless", "settled"),
  sheet("time", "fresh", "Fresh eyes", "fresh"),

  sheet("paper", "prints", "Small prints", "prints"),
  sheet("paper", "paper-wall", "Read the paper wall", "paper-wall"),
  sheet("paper", "pack", "Pack and take along", "pack"),

  sheet("pages", "format", "Format", "format"),
  sheet("pages", "pages", "Pages", "pages"),
  sheet("pages", "cover", "Cover", "cover"),
  sheet("pages", "checks", "Check before print", "checks"),
  sheet("pages", "print", "Print", "print"),

  sheet("printers", "quotes", "Specification and quotes", "quotes"),
  sheet("printers", "proofs", "Proofs", "proofs"),

  sheet("copies", "edition", "Edition", "edition"),
  sheet("copies", "orders", "Orders", "orders"),
  sheet("copies", "postage", "Packing shelf and postage", "postage"),
  sheet("copies", "labels", "Labels and lists", "labels"),
  sheet("copies", "packing", "Packing table", "packing"),
  sheet("copies", "money", "Money at the end", "money"),

  { ...sheet("keys", "keys", "Keys", "keys"), key: "?", does: "this sheet" },
];

/** A row that changes where one stands before the wall, as spreads to a line. */
function stands(act: string, words: string, key: string, does: string, line: (at: Standpoint) => number): Row {
  const run = (desk: Desk) => {
    if (desk.standpoint) desk.stand(line(desk.standpoint));
  };
  return { group: "look", act, words, key, does, run };
}

/** A row that opens a dialog above the wall. */
export function sheet(group: GroupName, act: string, words: string, opens: Sheet): Row {
  return { group, act, words, run: (desk) => desk.show({ sheet: opens }) };
}

/** A row that opens what lies beside the wall, or closes it again. */
export function side(group: GroupName, act: string, words: string, opens: Side): Row {
  const on = (desk: Desk) => desk.side === opens;
  return { group, act, words, on, run: (desk) => desk.show({ side: on(desk) ? undefined : opens }) };
}

/** The rows of a group that are there now. */
export function rowsOf(desk: Desk, group: GroupName): Row[] {
  return rows.filter((row) => row.group === group && (row.when?.(desk) ?? true));
}

/** The row a key stands for anywhere on the page. */
export function rowForKey(desk: Desk, key: string): Row | undefined {
  return rows.find((row) => row.key === key && (row.when?.(desk) ?? true));
}
