import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { combine, colours, colourWords, groupsBy, ofColour, type Way } from "./choosing";
import { actWords, feelingsUsed, feelingsWith, frameFrom, held, metresBetween, nearestFirst, readFeelings, readPosition, stated, statements, takenNote, valueOf, whereNote, zoneWords, type Fact, type Photo } from "./facts";
import type * as api from "../net/api";

const scanned: api.When = { precision: "instant", from: "2026-05-21T10:42:00", to: "2026-05-21T10:42:00", source: "scanner" };
const may7: api.When = { precision: "day", from: "2026-05-07T00:00:00", to: "2026-05-07T23:59:59", source: "maker" };
const senj: api.Where = { lat: 44.99, lng: 14.9, radius: 2000, source: "maker" };

/** A photo with what a test needs of it. */
function photo(number: number, known: Partial<Photo> = {}): Photo {
  return {
    number, name: `${number}.jpg`, path: `/x/${number}.jpg`, hash: String(number), bytes: 1, stamp: "", came: "", format: "jpeg", width: 3, height: 2, profile: "",
    camera: "", scan: false, roll: "", frame: "", taken: { precision: "unknown", source: "" }, caption: "", palette: [],
    tone: { chroma: 0, dark: 0, deviation: 0, light: 0, mean: 50, monochrome: false },
    form: { depth: 0, detail: 0, fingerprint: "", horizon: 0, horizonLeft: 0, horizonRight: 0, lines: [0, 0, 0, 0], measured: 0, sharpness: 0, weightX: 0, weightY: 0 },
    ...known,
  } as Photo;
}

describe("a fact that is stated is held, and can be stated back", () => {
  const before = photo(3, { taken: scanned, roll: "7", caption: "Wind" });
  const cases: [Fact, api.Value][] = [
    ["taken", { taken: may7 }], ["taken", {}], ["where", { where: senj }], ["roll", { text: "8" }], ["roll", {}],
    ["frame", { text: "13A" }], ["caption", { text: "Bora — бура" }], ["caption", {}], ["feeling", { words: ["cold", "loud"] }],
  ];
  for (const [fact, now] of cases) {
    test(`${fact} ${JSON.stringify(now)}`, () => {
      const [said] = statements([before], fact, () => now);
      assert.deepEqual(said, { photo: 3, fact, was: valueOf(before, fact), now });
      const after = stated(before, fact, now);
      assert.deepEqual(valueOf(after, fact), now);
      assert.deepEqual({ ...stated(after, fact, said!.was as api.Value), label: undefined }, { ...before, label: undefined });
    });
  }
});

test("what is so already is not stated again", () => {
  const photos = [photo(1, { roll: "7" }), photo(2)];
  assert.deepEqual(statements(photos, "roll", () => ({ text: "7" })).map((s) => s.photo), [2]);
  assert.deepEqual(statements([photo(1, { where: senj })], "where", () => ({ where: { source: "maker", radius: 2000, lng: 14.9, lat: 44.99 } })), []);
});

test("mixed values are told one by one, the most frequent first", () => {
  const found = held([photo(1), photo(2, { taken: may7 }), photo(3, { taken: may7 })], "taken");
  assert.deepEqual(found, [{ value: { taken: may7 }, photos: [2, 3] }, { value: {}, photos: [1] }]);
});

test("feelings are words between commas, in the program's order", () => {
  assert.deepEqual(readFeelings(" loud,cold ; very  cold,, loud\nËver,\u{1F300},\uFF21"), ["cold", "loud", "very cold", "Ëver", "\uFF21", "\u{1F300}"]);
  assert.deepEqual(feelingsWith(photo(1, { feeling: ["b"] }), ["c", "a"]), { words: ["a", "b", "c"] });
  assert.deepEqual(feelingsWith(photo(1, { feeling: ["b"] }), [], ["b"]), {});
  assert.deepEqual(feelingsUsed([photo(1, { feeling: ["b"] }), photo(2, { feeling: ["a", "b"] })]), [{ word: "b", photos: [1, 2] }, { word: "a", photos: [2] }]);
});

test("frames are numbered on from the first, either way", () => {
  assert.deepEqual([0, 1, 2].map((i) => frameFrom("7", i, false)), ["7", "8", "9"]);
  assert.deepEqual([0, 1, 2].map((i) => frameFrom("13A", i, true)), ["13A", "12A", "11A"]);
  assert.equal(frameFrom("1", 2, true), undefined);
  assert.equal(frameFrom("x", 0, false), undefined);
});

test("a position can be typed in degrees", () => {
  const cases: [string, ReturnType<typeof readPosition>][] = [
    ["45.528, 13.568", { lat: 45.528, lng: 13.568 }], ["45.528N 13.568 E", { lat: 45.528, lng: 13.568 }], ["33.5 south; 70 west", { lat: -33.5, lng: -70 }],
    ["-33.5 -70", { lat: -33.5, lng: -70 }], ["91, 3", undefined], ["0,0", undefined], ["Piran", undefined], ["12", undefined],
  ];
  for (const [typed, want] of cases) assert.deepEqual(readPosition(typed), want, typed);
});

test("of towns with one name, that in the region of the title comes first", () => {
  const towns = [{ name: "Novi (far)", lat: 50, lng: 80 }, { name: "Novi (near)", lat: 45.13, lng: 14.79 }, { name: "Novi (far too)", lat: -3, lng: 80 }];
  assert.deepEqual(nearestFirst(towns, [{ lat: 45.5, lng: 13.6 }]).map((t) => t.name), ["Novi (near)", "Novi (far)", "Novi (far too)"]);
  assert.ok(Math.abs(metresBetween({ lat: 45, lng: 14 }, { lat: 46, lng: 14 }) - 111_195) < 1); // a degree of the mean sphere: 2πR/360
});

test("every act is told in words", () => {
  const twelve = Array.from({ length: 12 }, (_, i) => i + 1);
  assert.equal(actWords(twelve, "taken", { taken: may7 }), "say that 12 photos were taken 7 May 2026");
  assert.equal(actWords([4], "taken", {}), "say that nobody knows when photo 4 was taken");
  assert.equal(actWords([4, 7], "where", { where: senj }, "Senj, Croatia"), "say that photos 4 and 7 were taken at Senj, Croatia");
  assert.equal(actWords([4], "where", { where: senj }), "say that photo 4 was taken at 44.9900° north, 14.9000° east");
  assert.equal(actWords(twelve, "roll", { text: "00041873" }), "say that 12 photos are of roll 00041873");
  assert.equal(actWords([4], "frame", { text: "13A" }), "say that photo 4 is frame 13A");
});

test("source and precision stand beside each value in words", () => {
  assert.equal(takenNote(may7), "to the day; you said");
  assert.equal(takenNote({ precision: "instant", from: "x", to: "x", offset: 120, source: "camera" }), "to the second, UTC+2; says the camera");
  assert.equal(takenNote({ precision: "instant", from: "x", to: "x", source: "phone" }), "to the second, no time zone known; says the phone");
  assert.equal(takenNote(scanned), ""); // "scanned 21 May 2026; taking date unknown" says it already
  assert.equal(whereNote(senj), "within 2 km; you said");
  assert.equal(whereNote({ ...senj, radius: 0, source: "notes" }), "from notes in the file");
  assert.equal(whereNote({ ...senj, radius: 0, source: "sidecar" }), "from the sidecar file");
  assert.equal(whereNote({ ...senj, radius: 35, source: "track" }), "within 35 m; from the track");
  assert.deepEqual([0, 120, -210].map(zoneWords), ["UTC", "UTC+2", "UTC−3:30"]);
});

const blue: api.Lab = { l: 40, a: 5, b: -45 };
const red: api.Lab = { l: 50, a: 60, b: 40 };
const title = [
  photo(1, { scan: true, roll: "9", taken: scanned, palette: [{ lab: blue, weight: 0.9 }] }),
  photo(2, { roll: "10", taken: may7, where: senj, label: "Senj, Croatia", palette: [{ lab: red, weight: 0.7 }, { lab: { l: 44, a: 5, b: -42 }, weight: 0.2 }] }),
  photo(3, { taken: { ...may7, to: "2026-05-09T23:59:59", precision: "span" }, where: senj, label: "Senj, Croatia", tone: { ...photo(0).tone, monochrome: true }, palette: [{ lab: red, weight: 0.98 }, { lab: blue, weight: 0.02 }] }),
  photo(4, { taken: { precision: "instant", from: "2026-05-07T10:00:00", to: "2026-05-07T10:00:00", source: "camera" }, feeling: ["cold"] }),
];

describe("photos are grouped by what they share", () => {
  const told = (by: Parameters<typeof groupsBy>[1]) => groupsBy(title, by, { wall: new Set([1]), hung: new Set([1, 2]) }).map((g) => `${g.words}: ${g.photos.join(" ")}`);
  const cases: [Parameters<typeof groupsBy>[1], string[]][] = [
    ["roll", ["Roll 9: 1", "Roll 10: 2"]],
    ["day", ["7 May 2026: 2 4", "Some time in 7–9 May 2026: 3"]],
    ["place", ["Senj, Croatia: 2 3"]],
    ["tone", ["Middle tones: 1 2 3 4", "Soft contrast: 1 2 3 4"]],
    ["feeling", ["cold: 4", "Without a feeling: 1 2 3"]],
    ["use", ["Not yet used: 3 4", "Once on the wall: 2", "On the wall now: 1"]],
    ["kind", ["Film scans: 1", "No film: 2 3 4", "In colour: 1 2 4", "Black and white: 3"]],
    ["missing", ["Without a date of taking: 1", "Without a place: 1 4", "Film without roll or frame: 1", "Without a feeling: 1 2 3", "Without a caption: 1 2 3 4"]],
  ];
  for (const [by, want] of cases) test(by, () => assert.deepEqual(told(by), want));
});

test("a colour finds the photos it covers a part of, the most of it first", () => {
  assert.deepEqual(colours(title).map((c) => colourWords(c.lab)).sort(), ["blue", "red"]);
  assert.deepEqual(ofColour(title, blue, 10), [1, 2]);
  assert.deepEqual(ofColour(title, red, 10), [3, 2]);
});

test("colours are called what one would call them", () => {
  // L*a*b* of D65 from memory, rounded: sRGB black, white, grey, navy, pure red, pure green, straw, chocolate.
  const cases: [number, number, number, string][] = [
    [0, 0, 0, "black"], [100, 0, 0, "white"], [53, 0, 0, "grey"], [13, 47, -64, "dark blue"], [53, 80, 67, "red"], [88, -86, 83, "pale green"], [85, 3, 25, "cream"], [30, 20, 28, "brown"],
  ];
  for (const [l, a, b, words] of cases) assert.equal(colourWords({ l, a, b }), words);
});

describe("pressing a group", () => {
  const cases: [Way, number[], number[], number[]][] = [
    ["only", [1, 2], [3, 4], [3, 4]], ["only", [3, 4], [3, 4], []],
    ["add", [1, 2], [2, 3], [1, 2, 3]], ["add", [1, 2, 3], [2, 3], [1]],
    ["among", [1, 2, 3], [2, 3, 4], [2, 3]], ["among", [], [1], []],
  ];
  for (const [way, chosen, group, want] of cases) test(`${way}: ${chosen} and ${group}`, () => assert.deepEqual(combine(chosen, group, way), want));
});
