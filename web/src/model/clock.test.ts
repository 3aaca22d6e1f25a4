import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { asDuration, lengthOfTime, readLength, typedLength } from "./clock";

describe("a length of time is read as a person types it", () => {
  const cases: [string, number | undefined][] = [
    ["-2:00:07", -7207], ["−2:00:07", -7207], ["+1:30", 5400], ["1 h 7 min", 4020], ["-2h0m7s", -7207], ["90 s", 90], ["30 minutes", 1800], ["1 day 2 hours", 93600],
    ["0s", 0], ["-0", undefined], ["2:75", undefined], ["soon", undefined], ["", undefined], ["-", undefined], ["12", undefined],
  ];
  for (const [typed, want] of cases) test(typed || "nothing", () => assert.equal(readLength(typed), want));
});

test("what is read goes to the program and back to the screen", () => {
  for (const seconds of [-7207, 0, 59, 3600, 100_000]) {
    assert.equal(readLength(asDuration(seconds)), seconds);
    assert.equal(readLength(typedLength(seconds)), seconds);
  }
  assert.deepEqual([-7207, 1800, 0].map(lengthOfTime), ["2 h 7 s", "30 min", "none"]);
});
