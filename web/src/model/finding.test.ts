import assert from "node:assert/strict";
import { test } from "node:test";
import type { Photo } from "./facts";
import { answers, readQuery } from "./finding";

const photo = (number: number, what: Partial<Photo>) => ({ number, name: `IMG_${String(number).padStart(4, "0")}.jpg`, caption: "", roll: "", frame: "", label: "", ...what }) as Photo;
const title = [
  photo(1, { caption: "The first ferry, empty" }),
  photo(2, { name: "R1-00046-0012A.JPG", caption: "Šibenik, Straße zum Fluß" }),
  photo(3, { caption: "渡船在港口", feeling: ["quiet"] }),
  photo(4, { caption: "Порт ночью", label: "Ploče, Croatia" }),
  photo(12, { name: "quay 2012.tif", roll: "7" }),
  photo(47, { caption: "שער העיר", name: "الميناء.jpg" }),
];
const notes: Record<number, string> = { 4: "why these two: the same Ćilim" };
const found = (typed: string) => {
  const query = readQuery(typed);
  return query && title.filter((p) => answers(p, query, notes[p.number])).map((p) => p.number).join(" ");
};

test("a photo is found by its number, its name, its caption, its roll, its place, its feeling and its note", () => {
  const cases: [string, string][] = [
    ["ferry", "1"], ["FERRY first", "1"], ["ferry night", ""], ["quay", "12"], ["roll 7", "12"], ["ploce", "4"], ["quiet", "3"], ["these two", "4"], ["cilim", "4"],
  ];
  for (const [typed, numbers] of cases) assert.equal(found(typed), numbers, typed);
});

test("case, accents and the ways of writing one letter do not count, in any script", () => {
  const cases: [string, string][] = [
    ["sibenik", "2"], ["S\u030cibenik", "2"], ["strasse fluss", "2"], ["港口", "3"], ["порт", "4"], ["НОЧЬЮ", "4"], ["העיר", "47"], ["الميناء", "47"], ["ｆｅｒｒｙ", "1"],
  ];
  for (const [typed, numbers] of cases) assert.equal(found(typed), numbers, typed);
});

test("a number finds the photo of that number and names that hold it alone; lists and ranges mean photos", () => {
  const cases: [string, string][] = [["12", "2 12"], ["0012", "2 12"], ["2012", "12"], ["46", "2"], ["3, 47", "3 47"], ["2-4", "2 3 4"], ["4–2, 47", "2 3 4 47"], ["3,", "3"]];
  for (const [typed, numbers] of cases) assert.equal(found(typed), numbers, typed);
});

test("an empty field asks for nothing", () => {
  assert.equal(found(""), undefined);
  assert.equal(found("  \t"), undefined);
});
