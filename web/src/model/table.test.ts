import assert from "node:assert/strict";
import { describe, test } from "node:test";
import type * as api from "../net/api";
import type { Photo } from "./facts";
import { inGroups, lay, showingAll, showingWords, showsAll, sieved, turn, type Only, type Showing, type TableOrder } from "./table";

const grey: api.Lab = { l: 50, a: 1, b: 1 };
const blue: api.Lab = { l: 40, a: 5, b: -45 };
const red: api.Lab = { l: 50, a: 60, b: 40 };
const tone = { mean: 50, deviation: 20, dark: 0, light: 0, chroma: 0, monochrome: false };
const unknown: api.When = { precision: "unknown", source: "" };
const at = (from: string, source: api.When["source"] = "camera"): api.When => ({ precision: "instant", from, to: from, source });
const senj = { lat: 44.99, lng: 14.9, radius: 0, source: "camera" as const };

function photo(number: number, what: Partial<Photo>): Photo {
  const p: Partial<Photo> = { number, name: `f${number}.jpg`, caption: "", roll: "", frame: "", label: "", scan: false, taken: unknown, tone, palette: [], ...what };
  return p as Photo; // what is tested reads nothing else
}

const title: Photo[] = [
  photo(1, { taken: at("2026-05-08T09:00:00"), where: senj, label: "Senj, Croatia", palette: [{ lab: grey, weight: 0.8 }, { lab: blue, weight: 0.2 }], tone: { ...tone, mean: 20 }, feeling: ["cold", "quiet"] }),
  photo(2, { scan: true, roll: "10", frame: "12A", taken: at("2026-11-02T09:00:00", "scanner"), palette: [{ lab: red, weight: 0.5 }], tone: { ...tone, mean: 80 }, feeling: ["quiet"] }),
  photo(3, { scan: true, roll: "10", frame: "9", palette: [{ lab: red, weight: 0.5 }], tone: { ...tone, monochrome: true } }),
  photo(4, { scan: true, roll: "9", frame: "30", note: "the gate", where: { ...senj, lat: 45 }, label: "" }),
  photo(5, { taken: at("2026-05-07T22:00:00"), where: senj, label: "Ancona, Italy", palette: [{ lab: blue, weight: 0.9 }] }),
  photo(6, { taken: { precision: "span", from: "2026-05-07T00:00:00", to: "2026-05-09T23:59:59", source: "maker" }, where: senj, label: "Senj, Croatia" }),
];

describe("prints lie in groups, and what nobody knows lies behind", () => {
  const cases: [TableOrder, string[]][] = [
    ["came", [": 1 2 3 4 5 6"]],
    ["taken", ["7–9 May 2026: 6", "7 May 2026: 5", "8 May 2026: 1", "Nobody knows when: 2 3 4"]], // a scanner's date is none
    ["roll", ["Roll 9: 4", "Roll 10: 3 2", "Of no known roll: 1 5 6"]], // frame 9 before 12A
    ["place", ["Senj: 6 1", "Ancona: 5", "Far from any known town: 4", "Nobody knows where: 2 3"]], // in the order they were come to
    ["colour", ["Red: 2", "Blue: 5 1", "Greys: 3", "Not measured: 4 6"]], // a little blue among greys is what one sees
    ["light", ["Light pictures: 2", "Middle tones: 3 4 5 6", "Dark pictures: 1"]],
    ["feeling", ["quiet: 1 2", "Without a feeling: 3 4 5 6"]], // 1 lies with the word that most share
    ["kind", ["Film, in colour: 2 4", "Film, black and white: 3", "No film, in colour: 1 5 6"]],
  ];
  for (const [order, want] of cases) {
    test(order, () => {
      const groups = inGroups(title, order);
      assert.deepEqual(groups.map((g) => `${g.words}: ${g.photos.join(" ")}`), want);
      assert.deepEqual(groups.flatMap((g) => g.photos).sort(), [1, 2, 3, 4, 5, 6], "every print lies there once");
    });
  }
  test("no photo makes no group", () => assert.deepEqual(inGroups([], "came"), []));
});

const use = { wall: new Set([1]), hung: new Set([1, 2]) };
const only = (by: Only["by"], key: string, words: string): Only => ({ by, key, words });
const shown = (s: Showing) => sieved(title, s, use).map((p) => p.number).join(" ");

test("of one kind any will do, of different kinds all are wanted", () => {
  let s = turn(showingAll, only("roll", "9", "Roll 9"));
  assert.equal(shown(s), "4");
  s = turn(s, only("roll", "10", "Roll 10"));
  assert.equal(shown(s), "2 3 4");
  s = turn(s, only("kind", "grey", "Black and white"));
  assert.equal(shown(s), "3");
  assert.equal(showingWords({ ...s, text: " f3 " }), "“f3”; Roll 9 or Roll 10; Black and white");
  assert.equal(shown(turn(turn(s, only("roll", "9", "")), only("roll", "10", ""))), "3"); // taken back
});

test("not yet used and once on the wall exclude each other", () => {
  const fresh = turn(showingAll, only("use", "new", "Not yet used"));
  assert.equal(shown(fresh), "3 4 5 6");
  const once = turn(fresh, only("use", "once", "Once on the wall"));
  assert.equal(shown(once), "2");
  assert.equal(shown(turn(once, only("use", "once", ""))), "1 2 3 4 5 6");
});

test("a colour that is pointed at, words and notes sieve as well, and an empty field does not", () => {
  assert.equal(shown({ text: "", only: [{ ...only("colour", "c", "blue"), colour: { lab: blue, within: 10 } }] }), "1 5");
  assert.equal(shown({ text: "gate", only: [] }), "4");
  assert.equal(shown({ text: "nowhere", only: [] }), "");
  assert.ok(showsAll({ text: "  ", only: [] }));
  assert.ok(!showsAll({ text: "x", only: [] }));
});

test("a group's words stand before its first print, and piles stay within their group", () => {
  const piles = [{ photos: [2, 3, 1], words: "three alike" }];
  const laid = lay(title, "roll", piles, new Set());
  assert.deepEqual(laid.map((l) => `${l.head ? `${l.head.words} (${l.head.photos.length}) ` : ""}${l.photo}${l.pile ? ` of ${l.pile.of.length}` : ""}`),
    ["Roll 9 (1) 4", "Roll 10 (2) 2 of 2", "Of no known roll (3) 1", "5", "6"]);
  assert.deepEqual(lay(title, "came", undefined, new Set()).map((l) => l.photo), [1, 2, 3, 4, 5, 6]);
  assert.ok(lay(title, "came", piles, new Set()).every((l) => !l.head));
});
