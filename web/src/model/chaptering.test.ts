import assert from "node:assert/strict";
import { test } from "node:test";
import { besides, build, type Intent } from "./acts";
import { apply, invert } from "./change";
import { inReadingOrder } from "./chapter";
import { choose, tidy } from "./hand";
import { intentFor, pickedUpSpoken, targetsFor, targetWords } from "./targets";
import { check, readSequence, type Sequence } from "./sequence";

const names = ["", "Trieste", "Il traghetto", "Στον σταθμό", "Bari"];

/** One photo a spread: "1 1 . 2" puts spreads 1 and 2 into chapter 1, spread 4 into chapter 2. */
function wall(text: string): Sequence {
  const spreads = text.split(" ").map((c, i) => ({ id: i + 1, left: i + 1, chapter: c === "." ? 0 : Number(c) }));
  const ids = [...new Set(spreads.map((s) => s.chapter))].filter((c) => c > 0).sort();
  return readSequence({ revision: 5, spreads, last: spreads.length, lastChapter: Math.max(0, ...ids), chapters: ids.map((id) => ({ id, name: names[id]! })) });
}

/** The spreads by number with their chapter: "1@1 2@1 3 4@2". */
function show(q: Sequence): string {
  return q.spreads.map((s) => `${s.id}${s.chapter ? `@${s.chapter}` : ""}`).join(" ");
}

function after(q: Sequence, intent: Intent): { q: Sequence; act: string } {
  const built = build(q, intent);
  assert.ok(built.ok, !built.ok ? built.refusal.message : "");
  const outcome = apply(q, built.value);
  assert.ok(outcome.ok, !outcome.ok ? outcome.refusal.message : "");
  const back = apply(outcome.value, invert(built.value));
  assert.ok(back.ok);
  assert.deepEqual({ ...back.value, revision: q.revision, last: q.last, lastChapter: q.lastChapter }, q);
  return { q: outcome.value, act: built.value.act };
}

const promises: [name: string, before: string, intent: Intent, after: string, act?: string][] = [
  ["a run gets a name", ". . . .", { want: "nameRun", from: 2, to: 3, name: "  Am\n Hafen " }, "1 2@1 3@1 4", "name pages 4–7 “Am Hafen”"],
  ["from there to here is the same run", ". . . .", { want: "nameRun", from: 3, to: 2, name: "Am Hafen" }, "1 2@1 3@1 4"],
  ["a run takes the end of one chapter and the beginning of the next", "1 1 2 2", { want: "nameRun", from: 2, to: 3, name: "x" }, "1@1 2@3 3@3 4@2"],
  ["a chapter wholly within ends", ". 1 .", { want: "nameRun", from: 1, to: 3, name: "x" }, "1@2 2@2 3@2"],
  ["the very run of a chapter is renamed", "1 1 .", { want: "nameRun", from: 1, to: 2, name: "Trst" }, "1@1 2@1 3", "rename chapter “Trieste” to “Trst”"],
  ["a chapter is renamed", "1 1 .", { want: "renameChapter", chapter: 1, name: "東京" }, "1@1 2@1 3"],
  ["a chapter ends and its spreads stay", "1 1 .", { want: "endChapter", chapter: 1 }, "1 2 3", "end chapter “Trieste”"],
  ["a chapter moves whole to the end", "1 1 . .", { want: "moveChapter", chapter: 1, index: 4 }, "3 4 1@1 2@1", "move chapter “Trieste” to pages 6–9"],
  ["a chapter moves whole to the front", ". . 1 1 1", { want: "moveChapter", chapter: 1, index: 0 }, "3@1 4@1 5@1 1 2", "move chapter “Trieste” to pages 2–7"],
  ["a chapter moves by less than its own length", ". 1 1 1 .", { want: "moveChapter", chapter: 1, index: 5 }, "1 5 2@1 3@1 4@1"],
  ["a chapter moves between two others", "1 2 3", { want: "moveChapter", chapter: 3, index: 1 }, "1@1 3@3 2@2"],
  ["a spread is taken into the chapter before it, with what lies between", "1 . . .", { want: "intoChapter", spread: 3, chapter: 1 }, "1@1 2@1 3@1 4", "take pages 4–7 into chapter “Trieste”"],
  ["or into the chapter after it", ". 1 1", { want: "intoChapter", spread: 1, chapter: 1 }, "1@1 2@1 3@1"],
  ["a spread goes over from one chapter to the next", "1 1 2", { want: "intoChapter", spread: 2, chapter: 2 }, "1@1 2@2 3@2"],
  ["the last spread of a chapter is taken out of it", "1 1 .", { want: "outOfChapter", spread: 2 }, "1@1 2 3", "take pages 4–5 out of chapter “Trieste”"],
  ["the only one ends it", "1 .", { want: "outOfChapter", spread: 1 }, "1 2"],
  ["a spread that opens within a run joins it", "1 1 .", { want: "openSpread", photo: 9, index: 1 }, "1@1 4@1 2@1 3"],
  ["a blank spread at the edge of a run does not", "1 1 2", { want: "addBlankSpread", index: 2 }, "1@1 2@1 4 3@2"],
  ["a spread moved out of its run leaves the chapter", "1 1 . .", { want: "moveSpread", spread: 1, to: 3 }, "2@1 3 4 1"],
  ["a spread moved within its run stays in it", "1 1 1 .", { want: "moveSpread", spread: 1, to: 2 }, "2@1 3@1 1@1 4"],
  ["a spread moved into a run joins it", ". 1 1", { want: "moveSpread", spread: 1, to: 1 }, "2@1 1@1 3@1"],
  ["the only spread of a chapter takes the chapter along", "1 . .", { want: "moveSpread", spread: 1, to: 2 }, "2 3 1@1"],
  ["the only spread moved into another run joins that one", "2 1 1", { want: "moveSpread", spread: 1, to: 1 }, "2@1 1@1 3@1"],
  ["the last spread taken away ends its chapter", "1 .", { want: "removeSpread", spread: 1 }, "2"],
  ["so does the last photo put on the table", "1 .", { want: "toTable", photos: [1] }, "2"],
];

for (const [name, before, intent, want, act] of promises) {
  test(`${intent.want}: ${name}`, () => {
    const q = wall(before);
    const done = after(q, intent);
    assert.equal(show(done.q), want);
    const held = new Set(done.q.spreads.map((s) => s.chapter).filter((c) => c > 0));
    assert.deepEqual(done.q.chapters.map((c) => c.id), [...held].sort());
    if (act) assert.equal(done.act, act);
  });
}

test("pullApart: a pair of a chapter stays in it, even at its end", () => {
  const q = readSequence({ spreads: [{ id: 1, left: 1, right: 2, chapter: 1 }, { id: 2, left: 3 }], last: 2, lastChapter: 1, chapters: [{ id: 1, name: "Trieste" }] });
  assert.equal(show(after(q, { want: "pullApart", spread: 1 }).q), "1@1 3@1 2");
});

test("note: what is written stays with its spread when it moves, is changed and taken away", () => {
  const written = after(wall(". ."), { want: "note", spread: 1, note: " both wait\nfor a boat " });
  assert.equal(written.act, "write a note on pages 2–3");
  assert.equal(written.q.spreads[0]!.note, "both wait\nfor a boat");
  const moved = after(written.q, { want: "moveSpread", spread: 1, to: 1 });
  assert.equal(moved.q.spreads[1]!.note, "both wait\nfor a boat");
  assert.equal(after(moved.q, { want: "note", spread: 1, note: "x" }).act, "change the note on pages 4–5");
  assert.equal(after(moved.q, { want: "note", spread: 1, note: " " }).act, "take the note from pages 4–5");
});

const refusals: [name: string, before: string, intent: Intent, words: RegExp][] = [
  ["a name is needed", ". .", { want: "nameRun", from: 1, to: 2, name: " " }, /needs a name|would hold no spread|no chapter/],
  ["no chapter is cut in two", "1 1 1", { want: "nameRun", from: 2, to: 2, name: "x" }, /cut chapter “Trieste” in two/],
  ["no chapter lies within another", ". 1 1 2", { want: "moveChapter", chapter: 2, index: 2 }, /inside “Trieste”/],
  ["it is there", ". 1 1", { want: "moveChapter", chapter: 1, index: 1 }, /there already/],
  ["it is there, behind itself", ". 1 1", { want: "moveChapter", chapter: 1, index: 3 }, /there already/],
  ["it lies in the middle", "1 1 1", { want: "outOfChapter", spread: 2 }, /in the middle of chapter “Trieste”/],
  ["it is in none", ".", { want: "outOfChapter", spread: 1 }, /in no chapter/],
  ["it is in it", "1", { want: "intoChapter", spread: 1, chapter: 1 }, /already/],
  ["it is called so", "1", { want: "renameChapter", chapter: 1, name: "Trieste " }, /called so already/],
  ["a chapter keeps a name", "1", { want: "renameChapter", chapter: 1, name: "" }, /needs a name/],
  ["the chapter has ended", ".", { want: "endChapter", chapter: 1 }, /no longer/],
  ["nothing new is noted", ".", { want: "note", spread: 1, note: "  " }, /noted already/],
  ["a name is not a page of text", ".", { want: "nameRun", from: 1, to: 1, name: "x".repeat(121) }, /at most 120/],
];

for (const [name, before, intent, words] of refusals) {
  test(`${intent.want} is refused in words: ${name}`, () => {
    const built = build(wall(before), intent);
    assert.ok(!built.ok);
    assert.match(built.refusal.message, words);
  });
}

test("an act tells what it does to chapters it is not about", () => {
  const told = (before: string, intent: Intent) => besides(wall(before), after(wall(before), intent).q, intent);
  assert.equal(told("1 . .", { want: "removeSpread", spread: 1 }), "Chapter “Trieste” ends.");
  assert.equal(told("1 1 . .", { want: "moveSpread", spread: 1, to: 3 }), "Pages 8–9 leave chapter “Trieste”.");
  assert.equal(told(". 1 1", { want: "moveSpread", spread: 1, to: 1 }), "Pages 4–5 join chapter “Trieste”.");
  assert.equal(told("1 1", { want: "endChapter", chapter: 1 }), "");
});

/** A linear congruence, "minimal standard" (Park and Miller 1988): the same on every run. */
function dice(seed: number): (n: number) => number {
  let state = seed;
  return (n) => (state = (state * 48271) % 2147483647) % n;
}

test("whatever is done in whatever order, chapters stay unbroken runs and everything can be taken back", () => {
  const roll = dice(20261126);
  let q = wall(". . . . . . . .");
  const done = new Map<string, number>();
  for (let i = 0; i < 3000; i++) {
    const spread = q.spreads[roll(Math.max(1, q.spreads.length))]?.id ?? 1;
    const to = q.spreads[roll(Math.max(1, q.spreads.length))]?.id ?? 1;
    const chapter = q.chapters[roll(Math.max(1, q.chapters.length))]?.id ?? 1;
    const index = roll(q.spreads.length + 1);
    const photo = 1 + roll(14);
    const wishes: Intent[] = [
      { want: "nameRun", from: spread, to, name: names[1 + roll(4)]! }, { want: "renameChapter", chapter, name: names[1 + roll(4)]! },
      { want: "endChapter", chapter }, { want: "moveChapter", chapter, index }, { want: "moveChapter", chapter, index },
      { want: "intoChapter", spread, chapter }, { want: "outOfChapter", spread }, { want: "note", spread, note: ["", "why"][roll(2)]! },
      { want: "moveSpread", spread, to: index }, { want: "openSpread", photo, index }, { want: "toTable", photos: [photo] },
      { want: "pullApart", spread }, { want: "pairUp", photo, partner: 1 + roll(14) }, { want: "hang", photos: [photo, 1 + roll(14)] },
    ];
    const intent = wishes[roll(wishes.length)]!;
    if (intent.want === "hang" && intent.photos[0] === intent.photos[1]) continue;
    if (!build(q, intent).ok) continue;
    q = after(q, intent).q;
    assert.equal(check(q), undefined);
    done.set(intent.want, (done.get(intent.want) ?? 0) + 1);
  }
  assert.equal(done.size, 13, [...done].join("; "));
});

test("a chapter in the hand goes between others, never into another nor onto a page", () => {
  const q = wall("1 1 . 2 2 2 .");
  const hand = { kind: "chapter", chapter: 1 } as const;
  assert.deepEqual(targetsFor(q, hand).map((t) => t.kind === "between" && t.index), [0, 3, 6, 7]);
  assert.deepEqual(intentFor(q, hand, { kind: "between", index: 4 }), { want: "moveChapter", chapter: 1, index: 3 });
  assert.deepEqual(intentFor(q, hand, { kind: "between", index: 5 }), { want: "moveChapter", chapter: 1, index: 6 });
  assert.equal(intentFor(q, hand, { kind: "between", index: 1 }), undefined);
  assert.equal(intentFor(q, hand, { kind: "page", page: { spread: 3, side: "right" } }), undefined);
  assert.equal(intentFor(q, hand, { kind: "table" }), undefined);
  assert.equal(targetWords(q, hand, { kind: "between", index: 7 }), "move the chapter here");
  assert.equal(pickedUpSpoken(q, hand), "Chapter “Trieste” picked up.");
});

test("of a chapter in the hand that has ended nothing is left in the hand", () => {
  const hand = choose({ kind: "chapter", chapter: 1 });
  assert.equal(tidy(wall("1"), hand, () => true), hand);
  assert.equal(tidy(wall("."), hand, () => true).chosen, undefined);
});

test("chapters are listed in the order they are read", () => {
  assert.deepEqual(inReadingOrder(wall(". 2 1 1")).map((c) => c.name), ["Il traghetto", "Trieste"]);
});
