import assert from "node:assert/strict";
import { test } from "node:test";
import { about, build, type Intent } from "./acts";
import { apply, invert } from "./change";
import { empty, lying, onWall, pages, readSequence, type LooseSpread, type Sequence } from "./sequence";
import { consequence } from "./words";

/**
 * A wall in a tiny notation: "7 | 1:3-4 2:5-. 3:6== 4:8-9! | 2 [10 11]" is 7 on
 * the opening page, spread 1 with 3 and 4, spread 2 with 5 and a blank, spread 3
 * with 6 across, spread 4 pinned, 2 on the closing page, 10 and 11 in the box.
 */
function wall(text: string): Sequence {
  const [, head, middle, tail, box] = /^(.*?)\|(.*?)\|([^[]*)(?:\[(.*)\])?$/.exec(text)!;
  const id = (s: string) => (s.trim() === "." || s.trim() === "" ? 0 : Number(s));
  const spreads: LooseSpread[] = middle!.trim().split(/\s+/).filter(Boolean).map((s) => {
    const [, n, left, rest, pin] = /^(\d+):(\d+|\.)(==|-\d+|-\.)(!?)$/.exec(s)!;
    return { id: Number(n), left: id(left!), right: rest === "==" ? 0 : id(rest!.slice(1)), across: rest === "==", pinned: pin === "!" };
  });
  return readSequence({
    revision: 5, opening: id(head!), spreads, closing: id(tail!),
    box: (box ?? "").split(/\s+/).filter(Boolean).map(Number), last: Math.max(0, ...spreads.map((s) => s.id)),
  });
}

function show(q: Sequence): string {
  const name = (id: number) => (id === 0 ? "." : String(id));
  const spreads = q.spreads.map((s) => `${s.id}:${name(s.left)}${s.across ? "==" : "-" + name(s.right)}${s.pinned ? "!" : ""}`);
  const box = q.box.length ? ` [${q.box.join(" ")}]` : "";
  return `${name(q.opening)} | ${spreads.join(" ")} | ${name(q.closing)}${box}`;
}

const left = (spread: number) => ({ spread, side: "left" }) as const;
const right = (spread: number) => ({ spread, side: "right" }) as const;
const opening = { spread: 0, side: "opening" } as const;
const closing = { spread: 0, side: "closing" } as const;

const promises: [string, string, Intent, string, string?][] = [
  // place
  ["a photo from the table lies on the blank page it was put on", ". | 1:3-. | .", { want: "place", photo: 9, page: right(1) }, ". | 1:3-9 | .", "put 9 on page 3"],
  ["a photo from the table sends the one that lay there to the table", ". | 1:3-4 | .", { want: "place", photo: 9, page: right(1) }, ". | 1:3-9 | ."],
  ["a photo from the box leaves the box", ". | 1:3-4 | . [9]", { want: "place", photo: 9, page: left(1) }, ". | 1:9-4 | ."],
  ["photos of two pages exchange", ". | 1:3-4 2:5-6 | .", { want: "place", photo: 4, page: left(2) }, ". | 1:3-5 2:4-6 | .", "exchange 4 and 5"],
  ["photos of one spread exchange", ". | 1:3-4 | .", { want: "place", photo: 4, page: left(1) }, ". | 1:4-3 | ."],
  ["the opening page exchanges like any other", "7 | 1:3-4 | .", { want: "place", photo: 4, page: opening }, "4 | 1:3-7 | ."],
  ["a spread whose last photo leaves goes with it", ". | 1:3-. 2:5-. | .", { want: "place", photo: 5, page: right(1) }, ". | 1:3-5 | ."],
  ["a photo alone on its spread may change sides", ". | 1:3-. | .", { want: "place", photo: 3, page: right(1) }, ". | 1:.-3 | ."],
  ["a spread left with one photo stays", ". | 1:3-4 | .", { want: "place", photo: 3, page: closing }, ". | 1:.-4 | 3"],
  ["a blank spread made on purpose stays when its neighbour's photo goes", ". | 1:.-. 2:5-. | .", { want: "place", photo: 5, page: opening }, "5 | 1:.-. | ."],
  ["a photo beside one that crossed takes the page it was put on", ". | 1:3== | .", { want: "place", photo: 9, page: right(1) }, ". | 1:3-9 | .", "put 9 beside 3"],
  ["the one that crossed moves over when the left page is wanted", ". | 1:3== | .", { want: "place", photo: 9, page: left(1) }, ". | 1:9-3 | ."],
  ["a photo across two pages comes back to one when it is put elsewhere", ". | 1:3== 2:5-. | .", { want: "place", photo: 3, page: right(2) }, ". | 2:5-3 | ."],
  ["a photo across two pages exchanges as one", ". | 1:3== 2:5-6 | .", { want: "place", photo: 3, page: right(2) }, ". | 1:6-. 2:5-3 | ."],
  ["a pin holds against arranging, not against the maker", ". | 1:3-4! | .", { want: "place", photo: 9, page: left(1) }, ". | 1:9-4! | ."],
  // openSpread
  ["a photo dropped between two spreads gets one of its own, on the right", ". | 1:3-4 2:5-6 | .", { want: "openSpread", photo: 9, index: 1 }, ". | 1:3-4 3:.-9 2:5-6 | .", "open a spread with 9 between pages 3 and 4"],
  ["it leaves the place it had", ". | 1:3-4 2:5-6 | .", { want: "openSpread", photo: 3, index: 2 }, ". | 1:.-4 2:5-6 3:.-3 | ."],
  ["the place is counted on the wall as it is seen, even when a spread goes", ". | 1:3-. 2:5-6 4:7-8 | .", { want: "openSpread", photo: 3, index: 2 }, ". | 2:5-6 5:.-3 4:7-8 | ."],
  ["and when the one that goes lies behind", ". | 2:5-6 4:7-8 1:3-. | .", { want: "openSpread", photo: 3, index: 1 }, ". | 2:5-6 5:.-3 4:7-8 | ."],
  ["it opens at the very beginning and the very end", "7 | 1:3-4 | .", { want: "openSpread", photo: 7, index: 1 }, ". | 1:3-4 2:.-7 | ."],
  ["out of the box as well", ". |  | . [9]", { want: "openSpread", photo: 9, index: 0 }, ". | 1:.-9 | ."],
  // pairUp
  ["a partner comes to the blank facing page", ". | 1:3-. | .", { want: "pairUp", photo: 3, partner: 9 }, ". | 1:3-9 | .", "pair 3 with 9"],
  ["the facing page may be the left one", ". | 1:.-3 | .", { want: "pairUp", photo: 3, partner: 9 }, ". | 1:9-3 | ."],
  ["whatever faced it goes to the table", ". | 1:3-4 | .", { want: "pairUp", photo: 3, partner: 9 }, ". | 1:3-9 | ."],
  ["a partner from another spread leaves its page blank", ". | 1:3-. 2:5-6 | .", { want: "pairUp", photo: 3, partner: 6 }, ". | 1:3-6 2:5-. | ."],
  ["a partner alone on its spread takes the spread away", ". | 1:3-4 2:5-. | .", { want: "pairUp", photo: 3, partner: 5 }, ". | 1:3-5 | ."],
  ["a photo on the table comes to a partner that hangs already", ". | 1:5-. | .", { want: "pairUp", photo: 3, partner: 5 }, ". | 1:5-3 | ."],
  ["two photos off the wall get a spread at its end", ". | 1:5-6 | . [9]", { want: "pairUp", photo: 3, partner: 9 }, ". | 1:5-6 2:3-9 | ."],
  ["a photo across the gutter makes room", ". | 1:3== | .", { want: "pairUp", photo: 3, partner: 9 }, ". | 1:3-9 | ."],
  ["a partner across the gutter comes as one", ". | 1:3-. 2:9== | .", { want: "pairUp", photo: 3, partner: 9 }, ". | 1:3-9 | ."],
  // spreads
  ["left and right are swapped", ". | 1:3-4! | .", { want: "swap", spread: 1 }, ". | 1:4-3! | .", "swap pages 2–3"],
  ["several hang behind the last spread, two by two", ". | 1:3-4 | . [6]", { want: "hang", photos: [5, 3, 6] }, ". | 1:.-4 2:5-3 3:6-. | .", "hang 5, 3 and 6 at the end"],
  ["a lone photo changes sides", ". | 1:3-. | .", { want: "swap", spread: 1 }, ". | 1:.-3 | ."],
  ["the right photo of a pair gets a spread just after", ". | 1:3-4 2:5-6 | .", { want: "pullApart", spread: 1 }, ". | 1:3-. 3:.-4 2:5-6 | .", "pull 3 and 4 apart"],
  ["a spread moves forward", ". | 1:3-4 2:5-6 3:7-8 | .", { want: "moveSpread", spread: 1, to: 2 }, ". | 2:5-6 3:7-8 1:3-4 | .", "move pages 2–3 to pages 6–7"],
  ["a spread moves back", ". | 1:3-4 2:5-6 3:7-8 | .", { want: "moveSpread", spread: 3, to: 0 }, ". | 3:7-8 1:3-4 2:5-6 | ."],
  ["a spread is pinned", ". | 1:3-4 | .", { want: "pin", spread: 1, on: true }, ". | 1:3-4! | .", "pin pages 2–3"],
  ["a spread is let go", ". | 1:3-4! | .", { want: "pin", spread: 1, on: false }, ". | 1:3-4 | .", "unpin pages 2–3"],
  ["the only photo crosses both pages", ". | 1:.-4 | .", { want: "across", spread: 1, on: true }, ". | 1:4== | .", "lay 4 across pages 2–3"],
  ["it comes back to the left page", ". | 1:4== | .", { want: "across", spread: 1, on: false }, ". | 1:4-. | .", "take 4 back to one page"],
  ["a blank spread is added", ". | 1:3-4 | .", { want: "addBlankSpread", index: 0 }, ". | 2:.-. 1:3-4 | .", "add a blank spread between pages 1 and 2"],
  ["a spread is taken away and its photos lie on the table", ". | 1:3-4 2:5-6 | .", { want: "removeSpread", spread: 1 }, ". | 2:5-6 | .", "take away pages 2–3"],
  // pushing on and laying several
  ["what lies there moves on until a blank page takes the last", ". | 1:3-4 2:5-6 3:7-. | .", { want: "push", photos: [9], page: right(1) }, ". | 1:3-9 2:4-5 3:6-7 | .", "put 9 on page 3 and push 4, 5, 6 and 7 on"],
  ["the page it came from takes the last", ". | 1:3-4 2:5-6 3:7-8 | .", { want: "push", photos: [6], page: left(1) }, ". | 1:6-3 2:4-5 3:7-8 | ."],
  ["where there is no blank page a spread opens before the closing page", ". | 1:3-4 2:5-6 | 7", { want: "push", photos: [9], page: left(2) }, ". | 1:3-4 2:9-5 3:6-. | 7"],
  ["the opening page is pushed on as well", "7 | 1:3-. | .", { want: "push", photos: [9], page: opening }, "9 | 1:7-3 | ."],
  ["a spread of its own goes when its photo is pushed in elsewhere", ". | 1:3-. 2:5-. | .", { want: "push", photos: [5], page: left(1) }, ". | 1:5-3 | ."],
  ["one that crossed its own pages comes as one", ". | 1:3-4 2:5== | .", { want: "push", photos: [5], page: left(1) }, ". | 1:5-3 2:4-. | ."],
  ["a pin behind the blank page does not matter", ". | 1:3-. 2:5-6! | .", { want: "push", photos: [9], page: left(1) }, ". | 1:9-3 2:5-6! | ."],
  ["several push as many on as they are", ". | 1:3-4 2:5-. 3:.-. | . [8]", { want: "push", photos: [8, 9], page: right(1) }, ". | 1:3-8 2:9-4 3:5-. | ."],
  ["several are laid one after the other onto blank pages", ". | 1:3-. 2:.-. | .", { want: "lay", photos: [8, 9, 7], page: right(1) }, ". | 1:3-8 2:9-7 | .", "put 8, 9 and 7 on page 3 and behind it"],
  ["several exchange with those that lay there, as far as they leave pages", ". | 1:3-4 2:5-6 | .", { want: "lay", photos: [5, 9], page: left(1) }, ". | 1:5-9 2:3-6 | ."],
  ["a spread opens for those that find no page", ". | 1:3-. | 7", { want: "lay", photos: [8, 9, 10], page: right(1) }, ". | 1:3-8 2:9-10 | 7"],
  ["a run moves on over itself", ". | 1:3-4 2:5-6 3:.-. | .", { want: "lay", photos: [3, 4, 5], page: left(2) }, ". | 1:6-. 2:3-4 3:5-. | ."],
  ["several hang between two spreads in spreads of their own", ". | 1:3-4 2:5-. 3:7-8 | .", { want: "hang", photos: [5, 9, 7], index: 2 }, ". | 1:3-4 4:5-9 5:7-. 3:.-8 | .", "hang 5, 9 and 7 between pages 5 and 6"],
  // trays
  ["a photo goes back to the table", ". | 1:3-4 | .", { want: "toTable", photos: [4] }, ". | 1:3-. | .", "put 4 back on the table"],
  ["the last one takes its spread along", ". | 1:3-. | .", { want: "toTable", photos: [3] }, ". |  | ."],
  ["a photo comes out of the box", ". |  | . [3 4]", { want: "toTable", photos: [3] }, ". |  | . [4]"],
  ["several go in one act", "7 | 1:3-4 2:5-6 | .", { want: "toTable", photos: [7, 3, 4] }, ". | 2:5-6 | .", "put 7, 3 and 4 back on the table"],
  ["a photo is set aside", ". | 1:3-4 | . [9]", { want: "toBox", photos: [4] }, ". | 1:3-. | . [4 9]", "set 4 aside"],
  ["several are set aside in one act, those there already passed over", ". | 1:3== | . [9]", { want: "toBox", photos: [9, 3, 12] }, ". |  | . [3 9 12]", "set 3 and 12 aside"],
  ["a page is left blank and its spread stays", ". | 1:3-. | .", { want: "blank", page: left(1) }, ". | 1:.-. | .", "leave page 2 blank"],
  ["a page half covered by a photo across is left blank with the other", ". | 1:3== | .", { want: "blank", page: right(1) }, ". | 1:.-. | ."],
];

for (const [name, before, intent, after, act] of promises) {
  test(`${intent.want}: ${name}`, () => {
    const q = wall(before);
    const built = build(q, intent);
    assert.ok(built.ok, !built.ok ? built.refusal.message : "");
    const outcome = apply(q, built.value);
    assert.ok(outcome.ok, !outcome.ok ? outcome.refusal.message : "");
    assert.equal(show(outcome.value), show(wall(after)));
    if (act) assert.equal(built.value.act, act);
  });
}

const refusals: [string, string, Intent, RegExp][] = [
  ["a photo lies there already", ". | 1:3-4 | .", { want: "place", photo: 3, page: left(1) }, /lies there already/],
  ["it lies there across both", ". | 1:3== | .", { want: "place", photo: 3, page: right(1) }, /across both pages/],
  ["the page is gone", ". | 1:3-4 | .", { want: "place", photo: 9, page: left(7) }, /no longer on the wall/],
  ["it has that spread to itself", ". | 1:3-4 2:5-. | .", { want: "openSpread", photo: 5, index: 2 }, /of its own there already/],
  ["the place between is gone", ". |  | .", { want: "openSpread", photo: 5, index: 1 }, /no longer on the wall/],
  ["they face each other", ". | 1:3-4 | .", { want: "pairUp", photo: 4, partner: 3 }, /face each other already/],
  ["the opening page stands alone", "3 |  | .", { want: "pairUp", photo: 3, partner: 9 }, /stands alone/],
  ["nobody faces himself", ". |  | .", { want: "pairUp", photo: 3, partner: 3 }, /face itself/],
  ["one photo crosses both pages", ". | 1:3== | .", { want: "swap", spread: 1 }, /crosses both pages/],
  ["nothing to swap", ". | 1:.-. | .", { want: "swap", spread: 1 }, /nothing to swap/],
  ["no pair to pull apart", ". | 1:3-. | .", { want: "pullApart", spread: 1 }, /No two photos/],
  ["no pair across the gutter", ". | 1:3-4 | .", { want: "across", spread: 1, on: true }, /Two photos/],
  ["nothing to lay across", ". | 1:.-. | .", { want: "across", spread: 1, on: true }, /blank/],
  ["it is there", ". | 1:3-4 | .", { want: "moveSpread", spread: 1, to: 0 }, /there already/],
  ["pinned is pinned", ". | 1:3-4! | .", { want: "pin", spread: 1, on: true }, /pinned already/],
  ["loose is loose", ". | 1:3-4 | .", { want: "pin", spread: 1, on: false }, /not pinned/],
  ["it lies on the table", ". |  | .", { want: "toTable", photos: [3] }, /on the table already/],
  ["it is in the box", ". |  | . [3]", { want: "toBox", photos: [3] }, /in the box already/],
  ["it is blank", ". | 1:3-. | .", { want: "blank", page: right(1) }, /blank already/],
  ["nothing is pushed through a pin", ". | 1:3-4 2:5-6! 3:.-. | .", { want: "push", photos: [9], page: left(1) }, /A pin holds pages 4–5/],
  ["nor through a photo across", ". | 1:3-4 2:5== 3:.-. | .", { want: "push", photos: [9], page: left(1) }, /5 crosses pages 4–5/],
  ["nor from the closing page", ". | 1:3-4 | 7", { want: "push", photos: [9], page: closing }, /follows the closing page/],
  ["they lie there", ". | 1:3-4 | .", { want: "lay", photos: [3, 4], page: left(1) }, /lie there already/],
  ["one crosses where several should lie", ". | 1:3-4 2:5== | .", { want: "lay", photos: [8, 9], page: right(1) }, /5 crosses pages 4–5/],
  ["nobody hangs nowhere", ". |  | .", { want: "hang", photos: [5], index: 3 }, /no longer on the wall/],
  ["an arrangement belongs to its wall", ". |  | .", { want: "take", change: { revision: 4, act: "arrange", steps: [] } }, /earlier wall/],
];

for (const [name, before, intent, words] of refusals) {
  test(`${intent.want} is refused in words: ${name}`, () => {
    const built = build(wall(before), intent);
    assert.ok(!built.ok);
    assert.match(built.refusal.message, words);
  });
}

test("an act tells what it does to photos it does not name", () => {
  const q = wall(". | 1:3-4 | .");
  const built = build(q, { want: "pairUp", photo: 3, partner: 9 });
  const after = built.ok && apply(q, built.value);
  assert.ok(after && after.ok);
  assert.equal(consequence(q, after.value, about(q, { want: "pairUp", photo: 3, partner: 9 })), "4 goes to the table.");
});

/** Numbers that look random and are the same on every run (a linear congruence, "minimal standard", Park and Miller 1988). */
function dice(seed: number): (n: number) => number {
  let state = seed;
  return (n) => (state = (state * 48271) % 2147483647) % n;
}

test("whatever is done in whatever order, the rules hold, nothing is lost and everything can be taken back", () => {
  const roll = dice(20261125);
  const photos = Array.from({ length: 14 }, (_, i) => i + 1);
  let q = wall(". |  | .");
  let done = 0;
  for (let i = 0; i < 4000; i++) {
    const photo = 1 + roll(photos.length);
    const spread = q.spreads[roll(Math.max(1, q.spreads.length))]?.id ?? 1;
    const page = pages(q)[roll(pages(q).length)]!;
    const index = roll(q.spreads.length + 1);
    const on = roll(2) === 1;
    const some = [...new Set([photo, 1 + roll(photos.length), 1 + roll(photos.length)])].slice(0, 1 + roll(3));
    const wishes: Intent[] = [
      { want: "place", photo, page }, { want: "place", photo, page }, { want: "openSpread", photo, index },
      { want: "pairUp", photo, partner: 1 + roll(photos.length) }, { want: "swap", spread }, { want: "pullApart", spread },
      { want: "moveSpread", spread, to: roll(q.spreads.length + 1) }, { want: "pin", spread, on }, { want: "across", spread, on },
      { want: "toTable", photos: [photo] }, { want: "toBox", photos: [photo] }, { want: "blank", page }, { want: "removeSpread", spread },
      { want: "addBlankSpread", index }, { want: "push", photos: some, page }, { want: "lay", photos: some, page }, { want: "hang", photos: some, index },
    ];
    const intent = wishes[roll(wishes.length)]!;
    const built = build(q, intent);
    if (!built.ok) continue;
    const after = apply(q, built.value);
    assert.ok(after.ok, `${JSON.stringify(intent)} on ${show(q)}: ${!after.ok && after.refusal.message}`);
    const back = apply(after.value, invert(built.value));
    assert.ok(back.ok);
    assert.equal(show(back.value), show(q));
    if (intent.want === "place") assert.equal(lying(after.value, photo).on, "page");
    const blanks = (s: Sequence) => s.spreads.filter(empty).length;
    const may = blanks(q) + (intent.want === "addBlankSpread" || intent.want === "blank" ? 1 : 0);
    assert.ok(blanks(after.value) <= may, `${built.value.act} left a blank spread behind`);
    if (intent.want === "push") {
      const came = new Set([...onWall(q), ...some]);
      assert.deepEqual(onWall(after.value).sort(), [...came].sort(), "pushing on takes nothing off the wall");
    }
    const exchanged = intent.want === "place" && lying(q, photo).on === "page";
    if (exchanged) assert.deepEqual(onWall(after.value).sort(), onWall(q).sort());
    q = after.value;
    done++;
  }
  assert.ok(done > 1500, `only ${done} acts could be done`);
});
