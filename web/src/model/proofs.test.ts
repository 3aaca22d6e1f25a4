import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { cardWords, dayOf, mapFields, outline, proofWords, roundWords, rowsOf, signed } from "./proofs";

const lab = (l: number, a: number, b: number) => ({ l, a, b });

test("a round is called by its number, its day, who made it and the verdict", () => {
  const round: api.Round = { date: "2026-06-01", printer: "Tipografia del Molo", kind: "wet", came: "", changes: "", looks: [], verdict: "", sent: { file: "", hash: "", version: 0 } };
  assert.equal(roundWords(2, round), "Round 2, 2026-06-01, Tipografia del Molo");
  assert.equal(roundWords(2, { ...round, printer: "", verdict: "again" }), "Round 2, 2026-06-01, another proof");
});

test("beside its printer a round is called by what became of it", () => {
  assert.equal(proofWords({ round: 2, date: "2026-06-01", verdict: "go with changes" }), "Proof 2: print, once it is changed");
  assert.equal(proofWords({ round: 1, date: "2026-06-01", verdict: "" }), "Proof 1: undecided");
});

test("a day is the maker's own", () => assert.equal(dayOf(new Date(2026, 4, 3, 23, 30)), "2026-05-03"));

test("a figure that rounds to nothing has no sign", () => {
  assert.deepEqual([signed(0.04), signed(-0.04), signed(3.14), signed(-2)], ["0.0", "0.0", "+3.1", "−2.0"]);
});

test("zones that were not measured are no rows, fields without patches no fields, a card that was seen is only proposed", () => {
  const zone = (name: string, share: number): api.Tones => ({ name, share, wanted: lab(50, 0, 0), shift: lab(-1, 3.1, 0.6), deltaE: 4.2, unsure: { l: 0.2, ab: 0.3 }, light: "clean", colour: "shifted" });
  const map: api.Map = { columns: 2, rows: 2, cells: [0, 1, 5, 20].map((deltaE, i) => ({ deltaE, patches: i, shift: lab(0, 1, -2) })) };
  const m: api.Measurement = { bare: 9, base: "paper", clipped: 0, corners: [], like: 1, map, rest: 0, uneven: 0, zones: [zone("midtones", 0.426), zone("lights", 0)] };
  assert.deepEqual(rowsOf(m), [{ name: "midtones", figures: ["−1.0", "+3.1", "+0.6", "4.2", "0.2 L*, 0.3 a* b*", "43 %"] }]);
  assert.deepEqual([m, { ...m, card: { x: 0.1, y: 0.4 } }, { ...m, base: "card" as const }].map(cardWords), ["There is a grey card in it", "There may be a grey card in it", "The grey card lies elsewhere"]);
  const fields = mapFields(map);
  assert.deepEqual(fields.map((f) => [f.x, f.y]), [[1, 0], [0, 1], [1, 1]]);
  assert.equal(fields[2]!.shade, "hsl(0 0% 30%)");
  assert.equal(fields[2]!.ink, "#fff");
  assert.equal(fields[0]!.ink, "#000");
});

test("corners become an outline in hundredths", () => assert.equal(outline([{ x: 0.1, y: 0.2 }, { x: 1, y: 0.255 }]), "10.00,20.00 100.00,25.50"));
