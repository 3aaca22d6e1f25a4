// What can be done to what is chosen: the line of words below the wall and the
// single keys are two ways to the same list.

import type { Intent } from "./acts";
import { single } from "./best";
import type { Desk } from "./desk";
import { chapterOf, runOf } from "./chapter";
import type { Fact } from "./facts";
import { carriedIn, chooseAlong, chosenPhoto, chosenPhotos, pickUp, toggle, turnPush } from "./hand";
import { empty, indexOf, lying, onWall, paired, type ChapterID, type PhotoID, type Sequence, type Spread, type SpreadID } from "./sequence";
import { runText } from "./words";
import { pickedUpSpoken, targetSpoken, type Carried, type One } from "./targets";

/** Names a command for the page's tests and styles, as data-act. */
export type Act =
  | "choose-where" | "partners" | "best" | "loss" | "look" | "swap" | "apart" | "across" | "one-page" | "pin" | "unpin"
  | "facts" | "say-when" | "say-where" | "say-roll" | "say-feeling" | "hang" | "along"
  | "note" | "name-chapter" | "rename-chapter" | "fold-chapter" | "end-chapter" | "into-before" | "into-after" | "out-of-chapter"
  | "table" | "box" | "push-on" | "blank" | "pile" | "add-before" | "add-after" | "take-away" | "move-spread";

export interface Command {
  readonly act: Act;
  readonly words: string; // on its button
  readonly key: string; // its single key; "" for none
  run(): void;
}

/** The keys of the wall and its cards, for the sheet that shows them. What each does is said once, here; keys that work anywhere stand in groups.ts. */
export const keyWords: readonly (readonly [key: string, words: string])[] = [
  ["Arrows", "walk over the wall, the table or the box"],
  ["Space or Enter", "pick up; again: put down. While several are chosen, Enter picks all of them up"],
  ["Arrows, carrying", "move the place it would go to"],
  ["p, carrying", "push on: what lies there moves one page on, instead of swapping"],
  ["Escape", "give up carrying, or put away what is open"],
  ["o", "opposite: ask who could face it"],
  ["f", "face: hang the best free partner beside it"],
  ["x", "what would be lost without it"],
  ["l", "look at it closely"],
  ["s", "swap the left and the right page"],
  ["a", "apart: give the right photo a spread of its own"],
  ["w", "wide: lay one photo across both pages, or back on one"],
  ["h", "hold the spread with a pin, or let it go"],
  ["m", "move the whole spread"],
  ["n", "new blank spread behind this one"],
  ["t", "back to the table"],
  ["b", "into the box"],
  ["c", "choose along: add this card to those chosen, or take it away"],
  ["Shift and arrows", "choose all from here to there"],
  ["g", "give a name: to a chapter that begins here, or another one to the chapter"],
  ["y", "fold the chapter to a stack, or lay it out again"],
  ["e", "explain: a note on these two, or on this photo"],
  ["k", "what is known of what is chosen"],
  ["u", "unfold a pile of prints that are nearly the same, or close it"],
  ["Ctrl or ⌘ and Z", "undo; with Shift: redo"],
];

/** The commands for what is chosen, in the order they are shown. */
export function commandsFor(desk: Desk, carried: One | undefined = desk.hand.chosen): Command[] {
  if (!carried) return [];
  if (desk.readOnly) return carried.kind === "photo" ? [look(desk, carried.photo)] : carried.kind === "chapter" ? [folds(desk, carried.chapter)] : [];
  const q = desk.session.sequence;
  if (carried.kind === "spread") return spreadCommands(desk, q, carried);
  if (carried.kind === "chapter") return chapterCommands(desk, carried);
  const several = chosenPhotos(desk.hand);
  if (several.length > 1 && several.includes(carried.photo)) return severalCommands(desk, q, several);
  return photoCommands(desk, q, carried);
}

function photoCommands(desk: Desk, q: Sequence, carried: One & { kind: "photo" }): Command[] {
  const { photo } = carried;
  const lies = lying(q, photo);
  const list = [
    chooseWhere(desk, carried, "Choose where", ""),
    partners(desk, "Who could face it?"),
    ...(single(q, photo) ? [best(desk, photo)] : []),
    look(desk, photo),
    asks(desk, "facts", "What is known", "k"),
    lies.on === "page" && lies.page.spread !== 0 ? asks(desk, "note", "Why these two", "e", "why") : asks(desk, "note", "Note", "e", "note"),
  ];
  if (lies.on === "page") {
    list.push({ act: "loss", words: "What would be lost", key: "x", run: () => desk.show({ side: "loss" }) });
    const spread = q.spreads[indexOf(q, lies.page.spread)];
    if (spread) list.push(...onSpread(desk, spread));
    if (spread && !paired(spread)) list.push(does(desk, "blank", "Leave its page blank", "", { want: "blank", page: lies.page }));
  }
  const pile = lies.on === "table" ? desk.table.laid.find((l) => l.pile?.of.includes(photo))?.pile : undefined;
  if (pile) list.push({ act: "pile", words: pile.open ? "Close the pile" : `See the ${pile.of.length} alike`, key: "u", run: () => desk.table.turnPile(photo) });
  if (lies.on !== "table") list.push(does(desk, "table", "To the table", "t", { want: "toTable", photos: [photo] }));
  if (lies.on !== "box") list.push(does(desk, "box", "Into the box", "b", { want: "toBox", photos: [photo] }));
  return list;
}

function severalCommands(desk: Desk, q: Sequence, photos: readonly PhotoID[]): Command[] {
  const list: Command[] = [
    chooseWhere(desk, { kind: "photos", photos }, "Choose where", ""),
    asks(desk, "say-when", "Say when", "k", "taken"), asks(desk, "say-where", "Say where", "", "where"),
    asks(desk, "say-roll", "Roll and frame", "", "roll"), asks(desk, "say-feeling", "Feelings", "", "feeling"),
    does(desk, "hang", "Hang at the end", "", { want: "hang", photos }),
    ...namesRun(desk, q, photos),
  ];
  if (photos.some((p) => lying(q, p).on !== "table")) list.push(does(desk, "table", "To the table", "t", { want: "toTable", photos }));
  if (photos.some((p) => lying(q, p).on !== "box")) list.push(does(desk, "box", "Into the box", "b", { want: "toBox", photos }));
  return list;
}

function spreadCommands(desk: Desk, q: Sequence, carried: One & { kind: "spread" }): Command[] {
  const index = indexOf(q, carried.spread);
  const spread = q.spreads[index];
  if (!spread) return [];
  return [
    chooseWhere(desk, carried, "Choose where", ""),
    ...(!empty(spread) && !paired(spread) && !spread.across ? [partners(desk, "Who could fill it?"), best(desk, spread.left || spread.right)] : []),
    ...onSpread(desk, spread),
    asks(desk, "note", "Why these two", "e", "why"),
    ...inChapters(desk, q, index),
    does(desk, "add-before", "Blank spread before", "", { want: "addBlankSpread", index }),
    does(desk, "add-after", "Blank spread after", "n", { want: "addBlankSpread", index: index + 1 }),
    does(desk, "take-away", empty(spread) ? "Take away" : "Take away, photos to the table", "", { want: "removeSpread", spread: spread.id }),
  ];
}

function chapterCommands(desk: Desk, carried: One & { kind: "chapter" }): Command[] {
  const { chapter } = carried;
  return [
    chooseWhere(desk, carried, "Choose where", "m"),
    { act: "rename-chapter", words: "Another name", key: "g", run: () => desk.show({ naming: { chapter } }) },
    folds(desk, chapter),
    does(desk, "end-chapter", "End the chapter, its spreads stay", "", { want: "endChapter", chapter }),
  ];
}

function folds(desk: Desk, chapter: ChapterID): Command {
  return { act: "fold-chapter", words: desk.folded.has(chapter) ? "Unfold" : "Fold", key: "y", run: () => desk.fold(chapter) };
}

/** Naming a chapter that begins with a spread, and its way into and out of those beside it. */
function inChapters(desk: Desk, q: Sequence, index: number): Command[] {
  const spread = q.spreads[index]!;
  const list = [names(desk, spread.id, spread.id)];
  const own = chapterOf(q, spread.chapter);
  const before = chapterOf(q, q.spreads[index - 1]?.chapter ?? 0);
  const after = chapterOf(q, q.spreads[index + 1]?.chapter ?? 0);
  if (before && before !== own) list.push(does(desk, "into-before", `Into “${short(before.name)}”`, "", { want: "intoChapter", spread: spread.id, chapter: before.id }));
  if (after && after !== own && after !== before) list.push(does(desk, "into-after", `Into “${short(after.name)}”`, "", { want: "intoChapter", spread: spread.id, chapter: after.id }));
  if (own && (before !== own || after !== own)) list.push(does(desk, "out-of-chapter", `Out of “${short(own.name)}”`, "", { want: "outOfChapter", spread: spread.id }));
  return list;
}

function short(name: string): string {
  const letters = [...name];
  return letters.length > 24 ? letters.slice(0, 22).join("") + "…" : name;
}

function names(desk: Desk, from: SpreadID, to: SpreadID): Command {
  return { act: "name-chapter", words: from === to ? "Name a chapter from here" : "Name them a chapter", key: "g", run: () => desk.show({ naming: { from, to } }) };
}

/** Several photos name the run from the first spread any of them lies on to the last. */
function namesRun(desk: Desk, q: Sequence, photos: readonly PhotoID[]): Command[] {
  const on = q.spreads.filter((s) => photos.includes(s.left) || photos.includes(s.right));
  return on.length === 0 ? [] : [names(desk, on[0]!.id, on.at(-1)!.id)];
}

/** What can be done to the spread that something chosen lies on. */
function onSpread(desk: Desk, spread: Spread): Command[] {
  const list: Command[] = [];
  const id = spread.id;
  if (!spread.across && !empty(spread)) list.push(does(desk, "swap", paired(spread) ? "Swap left and right" : "To the facing page", "s", { want: "swap", spread: id }));
  if (paired(spread)) list.push(does(desk, "apart", "Pull apart", "a", { want: "pullApart", spread: id }));
  if (spread.across) list.push(does(desk, "one-page", "Back to one page", "w", { want: "across", spread: id, on: false }));
  else if (!paired(spread) && !empty(spread)) list.push(does(desk, "across", "Across both pages", "w", { want: "across", spread: id, on: true }));
  list.push(spread.pinned
    ? does(desk, "unpin", "Take out the pin", "h", { want: "pin", spread: id, on: false })
    : does(desk, "pin", "Pin", "h", { want: "pin", spread: id, on: true }));
  return list;
}

/** What single keys do besides, for a photo that has the focus. */
export function keyCommands(desk: Desk, carried: One): Command[] {
  const list = commandsFor(desk, carried);
  const q = desk.session.sequence;
  if (carried.kind === "chapter" || desk.readOnly) return list;
  if (carried.kind === "spread") return [...list, ...ofChapter(desk, q.spreads[indexOf(q, carried.spread)])];
  list.push(along(desk, carried.photo));
  const lies = lying(q, carried.photo);
  const index = lies.on === "page" ? indexOf(q, lies.page.spread) : -1;
  const spread = q.spreads[index];
  if (!spread) return list;
  return [
    ...list,
    chooseWhere(desk, { kind: "spread", spread: spread.id }, "Move the spread", "m"),
    does(desk, "add-after", "Blank spread after", "n", { want: "addBlankSpread", index: index + 1 }),
    ...(list.some((c) => c.act === "name-chapter") ? [] : [names(desk, spread.id, spread.id)]),
    ...ofChapter(desk, spread),
  ];
}

function ofChapter(desk: Desk, spread: Spread | undefined): Command[] {
  return spread && spread.chapter !== 0 ? [folds(desk, spread.chapter)] : [];
}

function partners(desk: Desk, words: string): Command {
  return { act: "partners", words, key: "o", run: () => desk.show({ side: "partners" }) };
}

function best(desk: Desk, photo: PhotoID): Command {
  return { act: "best", words: "Pair with the best", key: "f", run: () => void desk.pairWithBest(photo) };
}

function does(desk: Desk, act: Act, words: string, key: string, intent: Intent): Command {
  return { act, words, key, run: () => void desk.act(intent) };
}

/** Opens what is known of what is chosen, at the fact that is to be said. */
function asks(desk: Desk, act: Act, words: string, key: string, asking?: Fact | "why"): Command {
  return { act, words, key, run: () => desk.show({ side: "facts", asking }) };
}

/** Adds a card to those chosen, and keeps them chosen while one walks on. */
function along(desk: Desk, photo: PhotoID): Command {
  const run = () => {
    const hand = desk.hand.many ? toggle(desk.hand, photo) : chooseAlong(desk.hand, photo);
    desk.setHand(hand);
    desk.say(chosenSpoken(chosenPhotos(hand).length));
  };
  return { act: "along", words: "Choose along", key: "c", run };
}

/** How many are chosen, to be spoken. */
export function chosenSpoken(n: number): string {
  return n === 0 ? "Nothing is chosen." : `${n} ${n === 1 ? "photo" : "photos"} chosen.`;
}

function look(desk: Desk, photo: PhotoID): Command {
  return { act: "look", words: "Look closely", key: "l", run: () => desk.show({ sheet: "look", lookingAt: photo }) };
}

function chooseWhere(desk: Desk, carried: Carried, words: string, key: string): Command {
  return { act: carried.kind === "spread" && key ? "move-spread" : "choose-where", words, key, run: () => take(desk, carried) };
}

/** Takes it up and says so, with the place the walk starts at. */
export function take(desk: Desk, carried: Carried): void {
  const q = desk.session.sequence;
  const hand = pickUp(q, carried);
  desk.setHand(hand);
  desk.say(`${pickedUpSpoken(q, carried)} ${hand.aim ? targetSpoken(q, carried, hand.aim) : ""}`.trim());
}

/** While something is carried: what lies there is pushed on from now on, or swapped again. */
export function turnPushing(desk: Desk): void {
  const q = desk.session.sequence;
  const hand = turnPush(q, desk.hand);
  const carried = carriedIn(hand);
  desk.setHand(hand);
  desk.say(`${hand.push ? "What lies there is pushed on." : "What lies there is swapped."} ${carried && hand.aim ? targetSpoken(q, carried, hand.aim) : ""}`.trim());
}

/** What the chosen line says in front of its commands. */
export function chosenWords(desk: Desk): string {
  const { chosen } = desk.hand;
  const q = desk.shown;
  if (!chosen) return "";
  if (chosen.kind === "spread") {
    const left = 2 * indexOf(q, chosen.spread) + 2;
    return `Pages ${left} and ${left + 1}`;
  }
  if (chosen.kind === "chapter") {
    const run = runOf(q, chosen.chapter);
    return run ? `Chapter “${chapterOf(q, chosen.chapter)?.name}”, ${runText(run)}` : "";
  }
  const photos = chosenPhotos(desk.hand);
  if (photos.length > 1) return `${photos.length} photos`;
  const photo = chosenPhoto(desk.hand);
  return `Photo ${photo}${onWall(q).includes(photo) ? "" : lying(q, photo).on === "box" ? ", in the box" : ", on the table"}`;
}

/** What the maker noted of what is chosen: of the photo, and of the two on its spread. */
export function notesOf(desk: Desk): { readonly act: "why" | "note"; readonly words: string }[] {
  const { chosen, more } = desk.hand;
  if (!chosen || more.length > 0 || chosen.kind === "chapter") return [];
  const why = chosenSpread(desk)?.note ?? "";
  const note = chosen.kind === "photo" ? (desk.photos.get(chosen.photo)?.note ?? "") : "";
  return [{ act: "why" as const, words: why }, { act: "note" as const, words: note }].filter((n) => n.words !== "");
}

/** The spread that is chosen, or that the one chosen photo lies on. */
export function chosenSpread(desk: Desk): Spread | undefined {
  const { chosen, more } = desk.hand;
  const q = desk.shown;
  if (chosen?.kind === "spread") return q.spreads[indexOf(q, chosen.spread)];
  if (chosen?.kind !== "photo" || more.length > 0) return undefined;
  return q.spreads.find((s) => s.left === chosen.photo || s.right === chosen.photo);
}
