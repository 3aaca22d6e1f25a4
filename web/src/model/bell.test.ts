import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { Bell } from "./bell";

test("a flood of news rings now and then, and not at all while the hand is full", async () => {
  let now = 0;
  mock.timers.enable({ apis: ["setTimeout"] });
  mock.method(performance, "now", () => now);
  const pass = async (ms: number) => {
    now += ms;
    mock.timers.tick(ms);
    await Promise.resolve();
  };
  const bell = new Bell();
  let rung = 0;
  bell.on(() => rung++);

  for (let i = 0; i < 100; i++) {
    bell.soon();
    await pass(20);
  }
  assert.ok(rung >= 3 && rung <= 5, `${rung} rings in two seconds`);

  bell.soon();
  bell.hold("hand", true);
  const before = rung;
  for (let i = 0; i < 100; i++) {
    bell.soon();
    await pass(20);
  }
  assert.equal(rung, before);
  bell.ring(); // what the hand itself does is shown at once
  await pass(0);
  assert.equal(rung, before + 1);
  bell.hold("scroll", true);
  bell.hold("hand", false);
  await pass(600);
  assert.equal(rung, before + 1, "the page still moves");
  bell.hold("scroll", false);
  await pass(600);
  assert.equal(rung, before + 2);
  mock.timers.reset();
  mock.restoreAll();
});
