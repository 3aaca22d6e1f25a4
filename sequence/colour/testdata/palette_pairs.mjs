// Draws 60 seeded pairs of palettes and works out their ground distances with
// culori's CIEDE2000, for palette_pairs.py to solve. See README.md.
import { differenceCiede2000 } from "culori";

const difference = differenceCiede2000();
let state = 2011;
const draw = () => {
  state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
  return state / 4294967296;
};
const swatch = () => ({
  lab: { l: +(100 * draw()).toFixed(2), a: +(160 * draw() - 80).toFixed(2), b: +(160 * draw() - 80).toFixed(2) },
  weight: 1 + Math.floor(99 * draw()),
});
const palette = () => Array.from({ length: 1 + Math.floor(8 * draw()) }, swatch);
const colour = (s) => ({ mode: "lab65", ...s.lab });

const pairs = Array.from({ length: 60 }, () => {
  const [p, q] = [palette(), palette()];
  return { p, q, cost: p.map((x) => q.map((y) => difference(colour(x), colour(y)))) };
});
console.log(JSON.stringify(pairs));
