import assert from "node:assert/strict";
import { describe, test } from "node:test";
import type * as api from "../net/api";
import { readWhen, typedWhen, wholeDays, whenWords } from "./when";

const today = { y: 2026, m: 11, d: 25 };

function read(text: string): string {
  const typed = readWhen(text, today);
  if (!typed.ok) return "refused: " + typed.refusal.message;
  if (typed.value.is === "unknown") return "unknown";
  const { precision, from, to, offset } = typed.value.when;
  const until = from === to ? "" : ` to ${to}`;
  return `${precision} ${from}${until}${offset === undefined ? "" : ` at ${offset}`}`;
}

describe("a date is read as precisely as it was typed", () => {
  const may7 = "day 2026-05-07T00:00:00 to 2026-05-07T23:59:59";
  const days = "span 2026-05-03T00:00:00 to 2026-05-09T23:59:59";
  const cases: [string, string][] = [
    ["7 May 2026", may7], ["7 may 2026", may7], ["May 7, 2026", may7], ["7th of May 2026", may7], ["Thursday, 7 May 2026", may7],
    ["2026-05-07", may7], ["2026-5-7", may7], ["7.5.2026", may7], ["07.05.2026", may7], ["on 7 Sept 2026", may7.replaceAll("-05-", "-09-")],
    ["13/5/2026", may7.replaceAll("-07T", "-13T")], ["5/13/2026", may7.replaceAll("-07T", "-13T")],
    ["2026-05-07 16:40", "instant 2026-05-07T16:40:00"], ["2026-05-07T16:40:09", "instant 2026-05-07T16:40:09"],
    ["7 May 2026, 16:40", "instant 2026-05-07T16:40:00"], ["7 May 2026 at 4:40 pm", "instant 2026-05-07T16:40:00"],
    ["7 May 2026 12am", "instant 2026-05-07T00:00:00"], ["2026-05-07T16:40:09.25+02:00", "instant 2026-05-07T16:40:09 at 120"],
    ["2026-05-07 16:40 Z", "instant 2026-05-07T16:40:00 at 0"], ["7 May 2026 16:40 -0330", "instant 2026-05-07T16:40:00 at -210"],
    ["3–9 May 2026", days], ["3-9 May 2026", days], ["3 to 9 May 2026", days], ["3 May - 9 May 2026", days], ["between 3 and 9 May 2026", days],
    ["2026-05-03 – 2026-05-09", days], ["2026-05-03/2026-05-09", days], ["3.5.2026-9.5.2026", days], ["from 3 May to 9 May 2026", days],
    ["28 December 2025 – 3 January 2026", "span 2025-12-28T00:00:00 to 2026-01-03T23:59:59"],
    ["February 2024", "span 2024-02-01T00:00:00 to 2024-02-29T23:59:59"], ["May–June 2026", "span 2026-05-01T00:00:00 to 2026-06-30T23:59:59"],
    ["1998", "span 1998-01-01T00:00:00 to 1998-12-31T23:59:59"], ["1998-1999", "span 1998-01-01T00:00:00 to 1999-12-31T23:59:59"],
    ["unknown", "unknown"], [" Nobody knows ", "unknown"], ["?", "unknown"],
  ];
  for (const [text, want] of cases) test(text, () => assert.equal(read(text), want));
});

describe("what is no date, or two, is refused with a reason", () => {
  const cases: [string, RegExp][] = [
    ["", /Nothing is written/], ["31 February 2026", /There is no 31 February 2026/], ["2026-13-01", /There is no 1 \(month 13\)/],
    ["5/7/2026", /cannot be read/], ["7 May", /cannot be read/], ["7 May 26", /cannot be read/], ["last summer", /cannot be read/],
    ["9–3 May 2026", /ends before it begins/], ["3 May – June 2026", /cannot be read/], ["1–2–3 May 2026", /cannot be read/],
    ["7 May 2026 25:00", /no such time/], ["7 May 2026 13 pm", /no such time/], ["3–9 May 2026 16:40", /goes with one day/],
    ["7 May 1520", /No photograph/], ["26 November 2026", /has not come yet/], ["7 May 2026 16:40 +19:00", /no such time/],
  ];
  for (const [text, why] of cases) test(text || "nothing", () => assert.match(read(text), why));
});

test("what is told back can be typed again and means the same", () => {
  for (const text of ["7 May 2026", "7 May 2026, 16:40", "3–9 May 2026", "30 April – 2 May 2026", "28 December 2025 – 3 January 2026", "May 2026", "May–June 2026", "December 2025 – January 2026", "1998", "1998–1999"]) {
    const typed = readWhen(text, today);
    assert.ok(typed.ok && typed.value.is === "time", text);
    assert.equal(whenWords(typed.value.when), text);
  }
});

test("a scanner's date is told as what it is and never offered as the day of taking", () => {
  const scanned: api.When = { ...wholeDays({ y: 2026, m: 5, d: 21 }, { y: 2026, m: 5, d: 21 }), source: "scanner" };
  assert.equal(whenWords(scanned), "scanned 21 May 2026; taking date unknown");
  assert.equal(typedWhen(scanned), "");
  assert.equal(whenWords({ precision: "unknown", source: "" }), "date unknown");
});
