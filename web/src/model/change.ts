// Changes as values: each applies to the sequence of its revision, inverts, and
// is refused where the program would refuse it. Both sides are held to the same
// cases by testdata/changes.json.

import {
  at, check, done, indexOf, readSpread, refused, sameSpread,
  type ChapterID, type LooseSpread, type Outcome, type Page, type PhotoID, type Refusal, type Sequence, type Spread, type SpreadID,
} from "./sequence";

/**
 * The smallest part of a change. Each carries what was before as well as what
 * is now, so that it inverts without the state it was made on.
 */
export type Step =
  | { readonly do: "put"; readonly page: Page; readonly was: PhotoID; readonly now: PhotoID }
  | { readonly do: "add" | "remove"; readonly index: number; readonly spread: Spread }
  | { readonly do: "move"; readonly index: number; readonly to: number } // to is counted after it was taken out
  | { readonly do: "pin" | "across"; readonly spread: { readonly id: SpreadID }; readonly on: boolean }
  | { readonly do: "box"; readonly now: PhotoID; readonly on: boolean }
  | { readonly do: "over"; readonly index: number; readonly to: number } // from one line of work to another
  | { readonly do: "name"; readonly chapter: ChapterID; readonly wasText: string; readonly nowText: string } // "" is no chapter
  | { readonly do: "join"; readonly spread: { readonly id: SpreadID }; readonly wasChapter: ChapterID; readonly nowChapter: ChapterID }
  | { readonly do: "note"; readonly spread: { readonly id: SpreadID }; readonly wasText: string; readonly nowText: string };

/** One act of the maker on the wall. */
export interface Change {
  readonly revision: number; // of the sequence it was made on
  readonly act: string; // what the maker did, in a few words
  readonly steps: readonly Step[];
  readonly says?: readonly Statement[]; // what the maker states of photos in the same act; no part of the sequence
}

/** One fact of one photo, as it was and as it is stated now. */
export interface Statement {
  readonly photo: PhotoID;
  readonly fact: string;
  readonly was: unknown;
  readonly now: unknown;
}

/** The sequence after the change; q itself is left as it was. */
export function apply(q: Sequence, c: Change): Outcome<Sequence> {
  if (c.revision !== q.revision) {
    return refused(
      `The wall has changed since: this act was made on state ${c.revision}, the wall is at ${q.revision}.`,
      "Look at the wall as it is now and do it again if you still want it.", "stale");
  }
  let next = q;
  for (const step of c.steps) {
    const taken = take(next, step);
    if (!taken.ok) return taken;
    next = taken.value;
  }
  const broken = check(next);
  if (broken) return { ok: false, refusal: broken };
  return done({ ...next, revision: q.revision + 1 });
}

/**
 * Carries out one step. The rules of the wall are checked after the last step
 * only: a swap passes through a state that breaks them.
 */
export function take(q: Sequence, s: Step): Outcome<Sequence> {
  switch (s.do) {
    case "put": return put(q, s);
    case "add": return add(q, s);
    case "remove": return remove(q, s);
    case "move": return move(q, s);
    case "pin": return replace(q, s, "pinned", !s.on, s.on);
    case "across": return replace(q, s, "across", !s.on, s.on);
    case "box": return box(q, s);
    case "over": return over(q, s);
    case "name": return name(q, s);
    case "join": return replace(q, s, "chapter", s.wasChapter, s.nowChapter);
    case "note": return replace(q, s, "note", s.wasText, s.nowText);
    default: return misfit(s, "there is no such step");
  }
}

type Of<D extends Step["do"]> = Extract<Step, { do: D }>;

function put(q: Sequence, s: Of<"put">): Outcome<Sequence> {
  if ((s.page.side as string) === "") return misfit(s, "it names no page");
  const was = at(q, s.page);
  if (was === undefined) return misfit(s, `there is no ${pageText(s.page)}`);
  if (was !== s.was) return misfit(s, `${pageText(s.page)} holds ${was}, not ${s.was}`);
  const { side, spread } = s.page;
  if (side === "opening") return done({ ...q, opening: s.now });
  if (side === "closing") return done({ ...q, closing: s.now });
  const i = indexOf(q, spread);
  return done({ ...q, spreads: q.spreads.with(i, { ...q.spreads[i]!, [side]: s.now }) });
}

function add(q: Sequence, s: Of<"add" | "remove">): Outcome<Sequence> {
  if (!within(s.index, q.spreads.length + 1)) return misfit(s, "there is no such place between the spreads");
  return done({ ...q, spreads: q.spreads.toSpliced(s.index, 0, s.spread), last: Math.max(q.last, s.spread.id) });
}

function remove(q: Sequence, s: Of<"add" | "remove">): Outcome<Sequence> {
  const there = q.spreads[s.index];
  if (!there || !sameSpread(there, s.spread)) return misfit(s, "the spread to take away is not as it was");
  return done({ ...q, spreads: q.spreads.toSpliced(s.index, 1) });
}

function move(q: Sequence, s: Of<"move">): Outcome<Sequence> {
  const moving = q.spreads[s.index];
  if (!moving || !within(s.to, q.spreads.length)) return misfit(s, "there is no such place in the order");
  return done({ ...q, spreads: q.spreads.toSpliced(s.index, 1).toSpliced(s.to, 0, moving) });
}

/** Sets one thing of a spread, which must be what the step says it was. */
function replace<K extends "pinned" | "across" | "chapter" | "note">(q: Sequence, s: Step & { spread: { id: SpreadID } }, field: K, was: Spread[K], now: Spread[K]): Outcome<Sequence> {
  const there = q.spreads[indexOf(q, s.spread.id)];
  if (!there) return misfit(s, "there is no such spread");
  if (there[field] !== was) return misfit(s, `spread ${there.id} has ${there[field]} there, not ${was}`);
  if (was === now) return misfit(s, "it is so already");
  return done({ ...q, spreads: q.spreads.map((one) => (one === there ? { ...one, [field]: now } : one)) });
}

/** A chapter begins when it had no name and ends when it has none any more. */
function name(q: Sequence, s: Of<"name">): Outcome<Sequence> {
  const was = q.chapters.find((c) => c.id === s.chapter)?.name ?? "";
  if (s.chapter <= 0) return misfit(s, "it names no chapter");
  if (was !== s.wasText) return misfit(s, `chapter ${s.chapter} is called “${was}”, not “${s.wasText}”`);
  if (was === s.nowText) return misfit(s, "it is so already");
  const others = q.chapters.filter((c) => c.id !== s.chapter);
  if (s.nowText === "") return done({ ...q, chapters: others });
  const chapters = [...others, { id: s.chapter, name: s.nowText }].sort((a, b) => a.id - b.id);
  return done({ ...q, chapters, lastChapter: Math.max(q.lastChapter, s.chapter) });
}

function box(q: Sequence, s: Of<"box">): Outcome<Sequence> {
  const held = q.box.includes(s.now);
  if (s.on && held) return misfit(s, `photo ${s.now} is in the box already`);
  if (!s.on && !held) return misfit(s, `photo ${s.now} is not in the box`);
  return done({ ...q, box: s.on ? [...q.box, s.now].sort((a, b) => a - b) : q.box.filter((id) => id !== s.now) });
}

function over(q: Sequence, s: Of<"over">): Outcome<Sequence> {
  if (q.line !== s.index || s.index === s.to) return misfit(s, "the wall is on another line of work");
  return done({ ...q, line: s.to });
}

function within(i: number, end: number): boolean {
  return Number.isInteger(i) && i >= 0 && i < end;
}

function misfit(s: Step, why: string): { ok: false; refusal: Refusal } {
  return refused(`This act does not fit the wall (${s.do}): ${why}.`, "Reload the page to see the wall as it is.");
}

function pageText(p: Page): string {
  return p.spread === 0 ? `${p.side} page` : `${p.side} page of spread ${p.spread}`;
}

/**
 * The change that takes back c: applied after c it leads to the sequence before
 * it, but for the revision, which goes on counting, and last, and the
 * last chapter, because a number is never given again.
 */
export function invert(c: Change): Change {
  const inverse = { revision: c.revision + 1, act: c.act, steps: c.steps.toReversed().map(invertStep) };
  if (!c.says) return inverse;
  return { ...inverse, says: c.says.toReversed().map((s) => ({ ...s, was: s.now, now: s.was })) };
}

function invertStep(s: Step): Step {
  switch (s.do) {
    case "put": return { ...s, was: s.now, now: s.was };
    case "add": return { ...s, do: "remove" };
    case "remove": return { ...s, do: "add" };
    case "move":
    case "over": return { ...s, index: s.to, to: s.index };
    case "name":
    case "note": return { ...s, wasText: s.nowText, nowText: s.wasText };
    case "join": return { ...s, wasChapter: s.nowChapter, nowChapter: s.wasChapter };
    default: return { ...s, on: !s.on };
  }
}

/** A step as JSON carries it. */
export interface LooseStep {
  do: string;
  page?: { spread?: number; side: string };
  was?: number;
  now?: number;
  index?: number;
  to?: number;
  spread?: LooseSpread;
  on?: boolean;
  chapter?: number;
  wasChapter?: number;
  nowChapter?: number;
  wasText?: string;
  nowText?: string;
}
export interface LooseChange {
  revision: number;
  act: string;
  steps: readonly LooseStep[] | null;
  says?: readonly Statement[] | null;
}

/**
 * Reads a change off JSON. What a step needs and does not have is filled with
 * what fits no wall, so that applying it is refused in the same words.
 */
export function readChange(c: LooseChange): Change {
  const change = { revision: c.revision, act: c.act, steps: (c.steps ?? []).map(readStep) };
  return c.says ? { ...change, says: c.says } : change;
}

function readStep(s: LooseStep): Step {
  const nowhere = { id: -1 };
  switch (s.do) {
    case "put":
      return { do: "put", page: { spread: s.page?.spread ?? 0, side: (s.page?.side ?? "") as Page["side"] }, was: s.was ?? 0, now: s.now ?? 0 };
    case "add":
    case "remove":
      return { do: s.do, index: s.spread ? (s.index ?? 0) : -1, spread: readSpread(s.spread ?? nowhere) };
    case "move":
    case "over":
      return { do: s.do, index: s.index ?? 0, to: s.to ?? 0 };
    case "pin":
    case "across":
      return { do: s.do, spread: { id: (s.spread ?? nowhere).id }, on: s.on ?? false };
    case "name":
      return { do: "name", chapter: s.chapter ?? 0, wasText: s.wasText ?? "", nowText: s.nowText ?? "" };
    case "note":
      return { do: "note", spread: { id: (s.spread ?? nowhere).id }, wasText: s.wasText ?? "", nowText: s.nowText ?? "" };
    case "join":
      return { do: "join", spread: { id: (s.spread ?? nowhere).id }, wasChapter: s.wasChapter ?? 0, nowChapter: s.nowChapter ?? 0 };
    default:
      return { do: s.do as "box", now: s.now ?? 0, on: s.on ?? false };
  }
}
