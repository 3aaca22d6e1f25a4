import assert from "node:assert/strict";
import { test } from "node:test";
import { longestRising } from "./order";

test("as many children as possible stay where they are", () => {
  const cases: [number[], number][] = [[[], 0], [[0], 1], [[1, 2, 0], 2], [[2, 0, 1], 2], [[4, 3, 2, 1, 0], 1], [[0, 2, 1, 4, 3, 5], 4]];
  for (const [values, length] of cases) {
    const run = longestRising(values);
    assert.equal(run.length, length, values.join());
    assert.deepEqual([...run].sort((a, b) => a - b), run);
    assert.ok(run.every((v) => values.includes(v)));
  }
});
