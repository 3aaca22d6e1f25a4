import assert from "node:assert/strict";
import { test } from "node:test";
import { keyWords } from "./commands";
import { groups, rows } from "./groups";

test("no key stands for two things", () => {
  const keys = [...keyWords.map(([key]) => key), ...rows.flatMap((row) => row.key ?? [])];
  assert.deepEqual(keys, [...new Set(keys)]);
});

test("every command of the bar has a name of its own and a group that is shown", () => {
  const acts = rows.map((row) => row.act);
  assert.deepEqual(acts, [...new Set(acts)]);
  const known = groups.map(([group]) => group);
  for (const row of rows) assert.ok(known.includes(row.group), row.act);
});

test("every command of the bar can be said in a test as a person finds it", () => {
  for (const row of rows) assert.match(row.act, /^[a-z-]+$/);
});
