import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { apply, invert, readChange, type LooseChange } from "./change";
import { readSequence, type LooseSequence } from "./sequence";

interface Case {
  name: string;
  before: LooseSequence;
  change: LooseChange;
  after?: LooseSequence;
  inverse?: LooseChange;
  refused?: boolean;
  code?: string;
}

// The program runs the same file; what it holds was written by hand.
const cases = JSON.parse(readFileSync("../testdata/changes.json", "utf8")) as Case[];

for (const c of cases) {
  test(c.name, () => {
    const before = readSequence(c.before);
    const change = readChange(c.change);
    const outcome = apply(before, change);
    assert.deepEqual(before, readSequence(c.before), "the sequence itself must stay as it was");
    if (c.refused) {
      assert.equal(outcome.ok, false);
      assert.equal(!outcome.ok && outcome.refusal.code, c.code);
      return;
    }
    assert.ok(outcome.ok, !outcome.ok ? outcome.refusal.message : "");
    assert.deepEqual(outcome.value, readSequence(c.after!));
    assert.deepEqual(invert(change), readChange(c.inverse!));
    const back = apply(outcome.value, invert(change));
    assert.ok(back.ok, !back.ok ? back.refusal.message : "");
    assert.deepEqual({ ...back.value, revision: before.revision, last: before.last, lastChapter: before.lastChapter }, before);
    assert.deepEqual(invert(invert(change)), { ...change, revision: change.revision + 2 });
  });
}

test("what is stated of photos is taken back with the act, last first", () => {
  const says = [{ photo: 1, fact: "caption", was: {}, now: { text: "a" } }, { photo: 1, fact: "caption", was: { text: "a" }, now: { text: "b" } }];
  const change = readChange({ revision: 4, act: "call it b", steps: null, says });
  assert.deepEqual(invert(change).says, [
    { photo: 1, fact: "caption", was: { text: "b" }, now: { text: "a" } }, { photo: 1, fact: "caption", was: { text: "a" }, now: {} },
  ]);
});

test("every kind of step is among the cases, accepted and refused", () => {
  const kinds = (refused: boolean) => new Set(cases.filter((c) => Boolean(c.refused) === refused).flatMap((c) => (c.change.steps ?? []).map((s) => s.do)));
  for (const kind of ["put", "add", "remove", "move", "pin", "across", "box", "name", "join", "note"]) {
    assert.ok(kinds(false).has(kind), `${kind} accepted`);
    assert.ok(kinds(true).has(kind), `${kind} refused`);
  }
});
