import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { labColour, momentWords, placeWords, takenWords } from "./photo";

function photo(what: Partial<api.Photo>): api.Photo {
  const known: Partial<api.Photo> = {
    number: 1, taken: { precision: "unknown", source: "" },
    tone: { mean: 50, deviation: 0, dark: 0, light: 0, chroma: 0, monochrome: false }, ...what,
  };
  return known as api.Photo; // the words under test read nothing else
}

test("white, black and grey come out neutral", () => {
  assert.equal(labColour({ l: 100, a: 0, b: 0 }), "color(xyz-d65 0.95046 1.00000 1.08906)");
  assert.equal(labColour({ l: 0, a: 0, b: 0 }), "color(xyz-d65 0.00000 0.00000 0.00000)");
});

test("the red of sRGB comes out as the standard's red", () => {
  // Red's column of the sRGB matrix, IEC 61966-2-1: 0.4124, 0.2126, 0.0193. Its Lab under D65 is 53.24, 80.09, 67.20 (common practice).
  const [x, y, z] = /xyz-d65 (.*)\)/.exec(labColour({ l: 53.24, a: 80.09, b: 67.2 }))![1]!.split(" ").map(Number);
  assert.ok(Math.abs(x! - 0.4124) < 0.001 && Math.abs(y! - 0.2126) < 0.001 && Math.abs(z! - 0.0193) < 0.001);
});

test("a time is told no more precisely than it is known", () => {
  const cases: [api.When, string][] = [
    [{ precision: "unknown", source: "" }, "Nobody knows when."],
    [{ precision: "instant", from: "2024-05-03T17:04:05", to: "2024-05-03T17:04:05", source: "camera" }, "3 May 2024, 17:04, says the camera"],
    [{ precision: "instant", from: "2024-05-03T17:04:05", to: "2024-05-03T17:04:05", source: "notes" }, "3 May 2024, 17:04, from notes in the file"],
    [{ precision: "instant", from: "2024-05-03T17:04:05", to: "2024-05-03T17:04:05", source: "sidecar" }, "3 May 2024, 17:04, from the sidecar file"],
    [{ precision: "day", from: "2024-05-03T00:00:00", to: "2024-05-03T23:59:59", source: "maker" }, "3 May 2024, you said"],
    [{ precision: "span", from: "2024-05-03T00:00:00", to: "2024-05-13T23:59:59", source: "maker" }, "Between 3 May 2024 and 13 May 2024, you said"],
    [{ precision: "instant", from: "2024-06-01T10:00:00", to: "2024-06-01T10:00:00", source: "scanner" }, "Scanned 1 June 2024; taking date unknown."],
  ];
  for (const [taken, words] of cases) assert.equal(takenWords(photo({ taken })), words);
});

test("a place is told with its winds", () => {
  assert.equal(placeWords(photo({})), "Nobody knows where.");
  assert.equal(placeWords(photo({ where: { lat: 45.6495, lng: 13.7768, radius: 20, source: "phone" } })), "45.6495° north, 13.7768° east, within 20 m, says the phone");
  assert.equal(placeWords(photo({ where: { lat: -1.5, lng: -2, radius: 0, source: "camera" } })), "1.5000° south, 2.0000° west, says the camera");
});

test("a moment is told as seen from today", () => {
  const now = new Date(2026, 10, 25, 18, 0);
  const told = (d: Date) => momentWords(d.toISOString(), now);
  assert.equal(told(new Date(2026, 10, 25, 9, 5)), "today at 9:05");
  assert.equal(told(new Date(2026, 10, 24, 23, 59)), "yesterday at 23:59");
  assert.equal(told(new Date(2026, 10, 2, 9, 30)), "2 November at 9:30");
  assert.equal(told(new Date(2025, 11, 31, 9, 30)), "31 December 2025");
});
