// What the maker can do with chapters and with notes on spreads.

import { chapterOf, runOf } from "./chapter";
import type { Change } from "./change";
import { Draft } from "./draft";
import { indexOf, refused, type ChapterID, type Outcome, type Sequence, type SpreadID } from "./sequence";
import { pagesText, runText } from "./words";

/** Names typed in a hurry: without the spaces around and with single ones within. */
function tidyName(typed: string): string {
  return typed.normalize("NFC").replace(/[\p{White_Space}\p{Cc}]+/gu, " ").trim();
}

/**
 * Names the spreads from one to another, whichever comes first. What belonged to
 * another chapter leaves it; one that lies wholly within ends. The very run of a
 * chapter is named anew.
 */
export function nameRun(q: Sequence, from: SpreadID, to: SpreadID, typed: string): Outcome<Change> {
  const [first, last] = [indexOf(q, from), indexOf(q, to)].sort((a, b) => a - b) as [number, number];
  const name = tidyName(typed);
  if (first < 0) return gone();
  const there = q.spreads[first]!.chapter;
  const run = runOf(q, there);
  if (run?.first === first && run.last === last) return renameChapter(q, there, name);
  const draft = new Draft(q);
  const id = q.lastChapter + 1;
  draft.name(id, name);
  const cut = take(draft, q, first, last, id);
  return cut ?? draft.change(q, `name ${runText({ first, last })} “${name}”`);
}

/** Takes a spread into a chapter, with those that lie between. */
export function intoChapter(q: Sequence, id: SpreadID, chapter: ChapterID): Outcome<Change> {
  const [index, run, named] = [indexOf(q, id), runOf(q, chapter), chapterOf(q, chapter)];
  if (index < 0 || !run || !named) return gone();
  if (q.spreads[index]!.chapter === chapter) return refused(`It is in chapter “${named.name}” already.`);
  const draft = new Draft(q);
  const [first, last] = index < run.first ? [index, run.first - 1] : [run.last + 1, index];
  return take(draft, q, first, last, chapter) ?? draft.change(q, `take ${runText({ first, last })} into chapter “${named.name}”`);
}

/** Puts the spreads from first to last into a chapter; refused where that would cut another one in two. */
function take(draft: Draft, q: Sequence, first: number, last: number, chapter: ChapterID): Outcome<Change> | undefined {
  for (const c of q.chapters) {
    const run = runOf(q, c.id);
    if (run && c.id !== chapter && run.first < first && run.last > last) {
      return refused(`That would cut chapter “${c.name}” in two.`, "Take the run to its beginning or its end, or end that chapter first.");
    }
  }
  for (const s of q.spreads.slice(first, last + 1)) draft.join(s.id, chapter);
  return undefined;
}

/** Takes the first or the last spread of a chapter out of it. */
export function outOfChapter(q: Sequence, id: SpreadID): Outcome<Change> {
  const index = indexOf(q, id);
  const spread = q.spreads[index];
  if (!spread) return gone();
  const run = runOf(q, spread.chapter);
  const named = chapterOf(q, spread.chapter);
  if (!run || !named) return refused("It is in no chapter.");
  if (index > run.first && index < run.last) {
    return refused(`It lies in the middle of chapter “${named.name}”.`, "Move it out of the run, or take out its neighbours first.");
  }
  const draft = new Draft(q);
  draft.join(id, 0);
  return draft.change(q, `take ${pagesText(q, id)} out of chapter “${named.name}”`);
}

export function renameChapter(q: Sequence, id: ChapterID, typed: string): Outcome<Change> {
  const was = chapterOf(q, id);
  const name = tidyName(typed);
  if (!was) return gone();
  if (was.name === name) return refused("It is called so already.");
  if (name === "") return refused("A chapter needs a name.", "Type a few words, or end the chapter.");
  const draft = new Draft(q);
  draft.name(id, name);
  return draft.change(q, `rename chapter “${was.name}” to “${name}”`);
}

/** Its spreads stay where they are, in no chapter. */
export function endChapter(q: Sequence, id: ChapterID): Outcome<Change> {
  const was = chapterOf(q, id);
  if (!was) return gone();
  const draft = new Draft(q);
  for (const s of q.spreads) if (s.chapter === id) draft.join(s.id, 0);
  draft.name(id, "");
  return draft.change(q, `end chapter “${was.name}”`);
}

/** Moves a chapter whole to the place before the spread that is at index now. */
export function moveChapter(q: Sequence, id: ChapterID, index: number): Outcome<Change> {
  const [run, named] = [runOf(q, id), chapterOf(q, id)];
  if (!run || !named || index < 0 || index > q.spreads.length) return gone();
  if (index >= run.first && index <= run.last + 1) return refused("It is there already.");
  const host = hostAt(q, index);
  if (host) return refused(`A chapter cannot lie within another: that place is inside “${host.name}”.`, "Put it before or behind that chapter.");
  const draft = new Draft(q);
  const length = run.last - run.first + 1;
  for (let k = 0; k < length; k++) {
    draft.step(index > run.last ? { do: "move", index: run.first, to: index - 1 } : { do: "move", index: run.first + k, to: index + k });
  }
  const first = indexOf(draft.now, q.spreads[run.first]!.id);
  return draft.change(q, `move chapter “${named.name}” to ${runText({ first, last: first + length - 1 })}`);
}

/** The chapter that the place before the spread at index lies within. */
export function hostAt(q: Sequence, index: number) {
  const before = q.spreads[index - 1]?.chapter ?? 0;
  return before !== 0 && before === q.spreads[index]?.chapter ? chapterOf(q, before) : undefined;
}

/** Writes why these two face each other; nothing written takes the note away. */
export function writeNote(q: Sequence, id: SpreadID, typed: string): Outcome<Change> {
  const spread = q.spreads[indexOf(q, id)];
  if (!spread) return gone();
  const note = typed.trim();
  if (note === spread.note) return refused("That is noted already.");
  const draft = new Draft(q);
  draft.step({ do: "note", spread: { id }, wasText: spread.note, nowText: note });
  const verb = note === "" ? "take the note from" : spread.note === "" ? "write a note on" : "change the note on";
  return draft.change(q, `${verb} ${pagesText(q, id)}`);
}

function gone() {
  return refused("That place is no longer on the wall.", "Look at the wall as it is now.");
}
