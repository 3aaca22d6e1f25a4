import assert from "node:assert/strict";
import { test } from "node:test";
import { pagesIn } from "./printing";

test("pages are chosen as one writes them", () => {
  for (const [typed, want] of [["", []], ["2, 3", [2, 3]], ["8-9 2", [8, 9, 2]], ["3–5,4", [3, 4, 5]], ["0, 99, 7-", [7]], ["10-99", [10, 11, 12]], ["and so on", []]] as const) {
    assert.deepEqual(pagesIn(typed, 12), want, typed);
  }
});
