import assert from "node:assert/strict";
import { test } from "node:test";
import { readFileSync } from "node:fs";
import { allAlike, balanceOf, isOnly, kinds, mannerOf, nameWords, only, relations, slides, turn } from "./weighing";

test("a kind that a title never weighed counts fully, a relation not at all", () => {
  assert.deepEqual(balanceOf({}), allAlike);
  assert.deepEqual(balanceOf({ colour: 0, tone: 0.5 }), { colour: 0, place: 1, time: 1, feeling: 1, form: 1, tone: 0.5 });
});

test("one alone is a kind or a relation, and is known again", () => {
  for (const name of ["place", "accent", "contrast"]) {
    const balance = only(name);
    assert.equal(Object.values(balance).reduce((a, b) => a + b), 1, name);
    assert.equal(isOnly(balance, name), true, name);
    assert.equal(isOnly(balance, "form"), false, name);
  }
  assert.equal(isOnly(allAlike, "colour"), false);
});

test("feeling is turned to contrast and back with the same weight", () => {
  const likeness = { ...allAlike, feeling: 0.4 };
  const contrast = turn(likeness, "contrast");
  assert.equal(mannerOf(contrast), "contrast");
  assert.equal(contrast["contrast"], 0.4);
  assert.equal(contrast["feeling"], 0);
  assert.equal(slides(contrast, "feeling"), "contrast");
  assert.equal(mannerOf({ ...contrast, contrast: 0 }), "contrast", "a slider at nothing keeps its manner");
  assert.deepEqual(turn(contrast, "likeness"), likeness);
  assert.equal(turn(likeness, "likeness"), likeness);
});

test("every name the program weighs can be weighed here, and none besides", () => {
  const description = JSON.parse(readFileSync("../server/openapi.json", "utf8")) as { paths: Record<string, { get: { parameters: { name: string; schema: { type: string } }[] } }> };
  const told = description.paths["/api/titles/{title}/partners"]!.get.parameters.filter((p) => p.schema.type === "number").map((p) => p.name);
  const ours = kinds.flatMap((kind) => [kind, ...relations[kind].map((r) => r.name)]);
  assert.deepEqual([...ours].sort(), [...told].sort());
  for (const name of ours) assert.notEqual(nameWords(name), "");
});
