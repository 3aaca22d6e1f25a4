import assert from "node:assert/strict";
import { test } from "node:test";
import { agoWords, daysBetween, drawnPages, heldWords, inWeeks, laterWords, lookedWords, miniature, versionBefore } from "./weeks";
import type * as api from "../net/api";

const now = new Date(2026, 10, 26, 9, 0); // a Thursday

test("days are counted by midnights, whatever the hour", () => {
  assert.equal(daysBetween(new Date(2026, 10, 25, 23, 59), now), 1);
  assert.equal(daysBetween(new Date(2026, 10, 26, 0, 1), now), 0);
  assert.equal(daysBetween(new Date(2026, 2, 1), new Date(2026, 10, 1)), 245); // over the change of the clocks
  assert.deepEqual([0, 1, 4].map(laterWords), ["the same day", "the day after", "4 days later"]);
  assert.deepEqual([0, 1, 12].map(agoWords), ["today", "yesterday", "12 days ago"]);
});

test("a version says how long one has not looked at it", () => {
  const at = new Date(2026, 10, 14).toISOString();
  assert.equal(lookedWords({ at, looked: new Date(2026, 10, 20).toISOString() }, now), "last looked at 6 days ago");
  assert.equal(lookedWords({ at }, now), "not looked at since it was left 12 days ago");
  assert.equal(lookedWords({ at: now.toISOString() }, now), "");
});

const version = (id: number, day: number, line = 0) => ({ id, at: new Date(2026, 10, day, 20).toISOString(), line }) as api.VersionSummary;

test("versions lie in the weeks they were left in, from Monday to Sunday", () => {
  const list = [version(5, 26), version(4, 23), version(3, 22), version(2, 15), version(1, 9)];
  assert.deepEqual(inWeeks(list, now).map((w) => [w.words, w.versions.map((v) => v.id)]),
    [["This week", [5, 4]], ["Last week", [3]], ["Week of 9 November", [2, 1]]]);
});

test("a version comes after the one before it on its own line of work", () => {
  const list = [version(4, 26, 1), version(3, 24), version(2, 22, 1), version(1, 20)];
  assert.equal(versionBefore(list, list[0]!)?.id, 2);
  assert.equal(versionBefore(list, list[1]!)?.id, 1);
  assert.equal(versionBefore(list, list[2]!), undefined);
});

test("how long a pair has held is told in sittings and days", () => {
  assert.equal(heldWords({ sittings: 5, days: 16, times: 1 }), "held 5 sittings, 16 days");
  assert.equal(heldWords({ sittings: 1, days: 1, times: 2 }), "held 1 sitting, 1 day, hung 2 times");
});

test("a small wall shows every page once, within its room, photos across the gutter wide", () => {
  const pages = drawnPages({ opening: 1, closing: 0, spreads: [{ left: 2, right: 3, across: false }, { left: 4, right: 0, across: true }, { left: 0, right: 5, across: false }] });
  assert.deepEqual(pages, [1, 2, 3, 4, 4, 0, 5, 0]);
  const m = miniature(pages, 300, 90);
  assert.deepEqual(m.tiles.map((t) => [t.photo, t.wide]), [[1, false], [2, false], [3, false], [4, true], [0, false], [5, false], [0, false]]);
  for (const t of m.tiles) assert.ok(t.x >= 0 && t.x + m.page * (t.wide ? 2 : 1) <= 300.01 && t.y + m.page * 1.2 <= m.height + 0.01);
  assert.ok(m.height <= 90.01);
  const places = new Set(m.tiles.map((t) => `${t.x} ${t.y}`));
  assert.equal(places.size, m.tiles.length);
});

test("a small wall of very many pages grows rather than become dust", () => {
  const m = miniature(Array.from({ length: 1002 }, (_, i) => i + 1), 300, 60);
  assert.equal(m.page, 4);
  for (const t of m.tiles) assert.ok(t.x + m.page <= 300.01);
});
