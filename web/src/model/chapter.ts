// Chapters as package sequence of the program has them: named, unbroken runs of
// spreads. Which spreads a chapter holds is said by the spreads.

import { refused, type Chapter, type ChapterID, type Refusal, type Sequence, type Spread, type SpreadID } from "./sequence";

export const longestName = 120; // characters; as the program has it
export const longestNote = 2000;

export function chapterOf(q: Sequence, id: ChapterID): Chapter | undefined {
  return q.chapters.find((c) => c.id === id);
}

/** The positions of a chapter's first and last spread in reading order; undefined when it holds none. */
export function runOf(q: Sequence, id: ChapterID): { first: number; last: number } | undefined {
  if (id === 0) return undefined;
  const first = q.spreads.findIndex((s) => s.chapter === id);
  return first < 0 ? undefined : { first, last: q.spreads.findLastIndex((s) => s.chapter === id) };
}

/** The chapters in the order they are read. */
export function inReadingOrder(q: Sequence): Chapter[] {
  const ids = new Set(q.spreads.map((s) => s.chapter));
  return [...ids].flatMap((id) => chapterOf(q, id) ?? []);
}

/** The unbroken parts of a chapter: one, while the rules hold. */
export function parts(q: Sequence, id: ChapterID): Spread[][] {
  const list: Spread[][] = [];
  q.spreads.forEach((s, i) => {
    if (s.chapter !== id) return;
    if (q.spreads[i - 1]?.chapter === id) list.at(-1)!.push(s);
    else list.push([s]);
  });
  return list;
}

/**
 * The chapter of a spread that came to where it is: the one it lies within;
 * else its own, if that goes on beside it or came along whole; else none.
 */
export function homeOf(q: Sequence, id: SpreadID, shifted: ReadonlySet<SpreadID>): ChapterID {
  const index = q.spreads.findIndex((s) => s.id === id);
  const fast = (s: Spread) => !shifted.has(s.id);
  const before = q.spreads.slice(0, index).findLast(fast)?.chapter ?? 0;
  const after = q.spreads.slice(index + 1).find(fast)?.chapter ?? 0;
  if (before !== 0 && before === after) return before;
  const own = q.spreads[index]!.chapter;
  const goesOn = own === before || own === after || !q.spreads.some((s) => fast(s) && s.chapter === own);
  return goesOn ? own : 0;
}

/** The first rule of chapters and notes that q breaks. */
export function checkChapters(q: Sequence): Refusal | undefined {
  for (const [i, c] of q.chapters.entries()) {
    if (c.id <= 0 || c.id > q.lastChapter || (i > 0 && q.chapters[i - 1]!.id >= c.id)) return refused(`Chapter number ${c.id} cannot be used here.`).refusal;
    const bad = checkName(c.name);
    if (bad) return bad;
  }
  const begun = new Set<ChapterID>();
  for (const [i, s] of q.spreads.entries()) {
    if ([...s.note].length > longestNote) return refused(`That note is longer than ${longestNote} characters.`, "Shorten it.").refusal;
    if (s.chapter === 0 || s.chapter === q.spreads[i - 1]?.chapter) continue;
    const c = chapterOf(q, s.chapter);
    if (!c) return refused(`There is no chapter ${s.chapter}.`).refusal;
    if (begun.has(c.id)) return refused(`Chapter “${c.name}” would lie in two places.`, "The spreads of a chapter follow each other. Take those between out first.").refusal;
    begun.add(c.id);
  }
  const bare = q.chapters.find((c) => !begun.has(c.id));
  return bare && refused(`Chapter “${bare.name}” would hold no spread.`, "End the chapter.").refusal;
}

function checkName(name: string): Refusal | undefined {
  if (/^\p{White_Space}*$/u.test(name)) return refused("A chapter needs a name.", "Type a few words.").refusal;
  if ([...name].length > longestName) return refused(`A chapter's name has at most ${longestName} characters.`, "Shorten it.").refusal;
  return /\p{Cc}/u.test(name) ? refused("A chapter's name is one line of text.").refusal : undefined;
}
