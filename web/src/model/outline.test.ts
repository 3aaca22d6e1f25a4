import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { describe, test } from "node:test";
import { toPlane } from "./chart";
import { readOutline, units } from "./outline";

const rings = readOutline(readFileSync("vendor/natural-earth/land.txt", "utf8"));

/** Whether a place is land: a line from it to the edge crosses the outline an odd number of times. */
function land(lat: number, lng: number): boolean {
  const p = toPlane({ lat, lng });
  return [-1, 0, 1].some((world) => within((p.x + world) * units, p.y * units));
}

function within(x: number, y: number): boolean {
  let inside = false;
  for (const ring of rings) {
    for (let i = 0, j = ring.length - 2; i < ring.length; j = i, i += 2) {
      const [ax, ay, bx, by] = [ring[i]!, ring[i + 1]!, ring[j]!, ring[j + 1]!];
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    }
  }
  return inside;
}

test("every ring lies in the square, or goes on over its sides", () => {
  assert.ok(rings.length > 1000, `${rings.length} rings`);
  for (const ring of rings) {
    assert.ok(ring.length >= 6 && ring.length % 2 === 0 && ring.every((v, i) => Number.isInteger(v) && (i % 2 ? v >= 0 && v <= units : v > -units && v < 2 * units)));
  }
});

describe("land is where land is", () => {
  // Positions from memory, each well away from a shore.
  const cases: [string, number, number, boolean][] = [
    ["Bologna", 44.49, 11.34, true], ["inner Istria", 45.24, 13.94, true], ["the middle of the Adriatic", 43.0, 15.3, false], ["Foggia", 41.46, 15.55, true],
    ["Nairobi", -1.29, 36.82, true], ["the Pacific", 0, -150, false], ["Alice Springs", -23.7, 133.88, true], ["the middle of Siberia", 60, 100, true],
    ["the South Pole's plateau", -80, 60, true], ["the north of Greenland", 75, -40, true], ["Iceland", 64.9, -18.5, true], ["the Denmark Strait", 67, -27, false], ["Chukotka, east of the date line", 66.5, -177, true], ["Chukotka, west of it", 67, 177, true],
  ];
  for (const [name, lat, lng, want] of cases) test(name, () => assert.equal(land(lat, lng), want));
});
