import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { lacks, type Binding, type Lack } from "./binding";

// The program runs the same file; what it holds was written by hand.
const { cases } = JSON.parse(readFileSync("../testdata/bindings.json", "utf8")) as { cases: (Lack & { binding: Binding; pages: number; caliper: number })[] };

for (const { binding, pages, caliper, ...lack } of cases) {
  test(`${binding || "no binding"}, ${pages} pages${caliper ? `, leaves of ${caliper} mm` : ""}`, () => assert.deepEqual(lacks(binding, pages, caliper), lack));
}
