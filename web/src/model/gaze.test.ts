import assert from "node:assert/strict";
import { test } from "node:test";
import type { Photo } from "./facts";
import { lookWords, mark, spotIn, stepped } from "./gaze";

const box = { left: 100, top: 50, width: 400, height: 200 };

test("a click is a fraction of the picture, never off it", () => {
  assert.deepEqual(spotIn(box, 300, 100), { x: 0.5, y: 0.25 });
  assert.deepEqual(spotIn(box, 90, 400), { x: 0, y: 1 });
});

test("arrows step, and stop at the rim", () => {
  assert.deepEqual(stepped({ x: 0.5, y: 0.5 }, "ArrowLeft", false), { x: 0.49, y: 0.5 });
  assert.deepEqual(stepped({ x: 0.5, y: 0.95 }, "ArrowDown", true), { x: 0.5, y: 1 });
  assert.equal(stepped({ x: 0, y: 0 }, "Enter", false), undefined);
});

test("a mark states what was and what is, and nothing when it is so already", () => {
  const was = { x: 0.2, y: 0.3, towards: "left" as const };
  const photo = { number: 7, gaze: was } as Photo; // nothing else is read
  const away = mark(photo, undefined);
  assert.ok(away && away.want === "say");
  assert.deepEqual(away.says(), [{ photo: 7, fact: "gaze", was: { gaze: was }, now: {} }]);
  assert.equal(mark(photo, { ...was }), undefined);
  const right = mark(photo, { ...was, towards: "right" });
  assert.ok(right && right.want === "say" && right.act.endsWith("looks to the right"));
});

test("where a face looks is told in every case", () => {
  const told = [undefined, "left", "right", "out", ""].map((t) => lookWords(t === undefined ? undefined : { x: 0, y: 0, towards: t as "" }));
  assert.equal(new Set(told).size, 5);
});
