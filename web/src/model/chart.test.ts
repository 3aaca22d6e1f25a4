import assert from "node:assert/strict";
import { describe, test } from "node:test";
import { bounded, dots, even, fit, fromPlane, fromScreen, grain, named, panned, radiusOfClick, scaleBar, toPlane, toScreen, within, zoomed, type Frame } from "./chart";
import type { Photo } from "./facts";

const frame: Frame = { width: 800, height: 500 };
const placed = (number: number, lat: number, lng: number, label = "") => ({ number, where: { lat, lng, radius: 0, source: "camera" }, label }) as Photo;
const journey = [placed(1, 45.65, 13.77, "Trieste, Italy"), placed(2, 45.651, 13.766, "Trieste, Italy"), placed(3, 43.51, 16.44, "Split, Croatia"), placed(4, 41.13, 16.87, "Bari, Italy")];

describe("the plane is Mercator's", () => {
  // x and y of web map tiles for these places: floor(2^z x), as in the EPSG 3857 tile scheme (common practice).
  const cases: [string, number, number, number, number, number][] = [
    ["the middle", 0, 0, 1, 1, 1], ["London", 51.5074, -0.1278, 10, 511, 340], ["Sydney", -33.8688, 151.2093, 10, 942, 614], ["Trieste", 45.6495, 13.7768, 12, 2204, 1462],
  ];
  for (const [name, lat, lng, zoom, x, y] of cases) {
    test(name, () => {
      const p = toPlane({ lat, lng });
      assert.deepEqual([Math.floor(p.x * 2 ** zoom), Math.floor(p.y * 2 ** zoom)], [x, y]);
      const back = fromPlane(p);
      assert.ok(Math.abs(back.lat - lat) < 1e-9 && Math.abs(back.lng - lng) < 1e-9);
    });
  }
});

test("all photos are in sight when the map opens, also across the date line", () => {
  for (const photos of [journey, [placed(1, -17, 179.5), placed(2, -18, -179)], [placed(1, 60, 10)], [placed(1, -70, -170), placed(2, 70, 170)]]) {
    const o = fit(photos.map((p) => toPlane(p.where!)), frame);
    assert.deepEqual(within(photos, o, frame, { x: 0, y: 0 }, { x: 800, y: 500 }), photos.map((p) => p.number));
  }
  const o = fit([placed(1, -17, 179.5), placed(2, -18, -179)].map((p) => toPlane(p.where!)), frame);
  assert.ok(o.scale > 50_000, `the short way round, at ${o.scale}`);
});

test("what lies under the hand stays there while the map comes nearer", () => {
  const o = fit(journey.map((p) => toPlane(p.where!)), frame);
  const at = { x: 210, y: 340 };
  const before = fromScreen(o, frame, at);
  const after = fromScreen(zoomed(o, frame, 1.7, at), frame, at);
  assert.ok(Math.abs(before.x - after.x) < 1e-9 && Math.abs(before.y - after.y) < 1e-9);
  const moved = panned(o, frame, 30, -20);
  const p = toPlane(journey[0]!.where!);
  const [was, is] = [toScreen(o, frame, p), toScreen(moved, frame, p)];
  assert.ok(Math.abs(is.x - was.x - 30) < 1e-6 && Math.abs(is.y - was.y + 20) < 1e-6);
});

test("one cannot leave the world, nor come nearer than makes sense", () => {
  const far = bounded({ x: 3.25, y: -4, scale: 1 }, frame);
  assert.deepEqual(far, { x: 0.25, y: 0.3125, scale: 800 });
  const o = zoomed(far, frame, 1e9, { x: 0, y: 0 });
  assert.ok(grain(o) < 6 && Number.isFinite(o.x));
});

test("photos that lie together are one dot with their number, apart when one comes nearer", () => {
  const o = fit(journey.map((p) => toPlane(p.where!)), frame);
  const list = dots(journey, o, frame);
  assert.deepEqual(list.map((d) => [d.photos, d.label]), [[[1, 2], "Trieste"], [[3], "Split"], [[4], "Bari"]]);
  const at = toScreen(o, frame, toPlane(journey[0]!.where!));
  const nearer = dots(journey, zoomed(o, frame, 4000, at), frame);
  assert.deepEqual(nearer.map((d) => d.photos), [[1], [2]]);
  assert.deepEqual([...named(list)].map((d) => d.label), ["Trieste", "Split", "Bari"]);
  assert.equal(named([list[0]!, { ...list[1]!, x: list[0]!.x + 30, y: list[0]!.y + 5 }]).size, 1);
});

test("a click means a place as closely as one can point", () => {
  assert.deepEqual([1, 1.9, 2, 4.9, 5, 99, 1234].map(even), [1, 1, 2, 2, 5, 50, 1000]);
  const o = fit(journey.map((p) => toPlane(p.where!)), frame);
  assert.equal(radiusOfClick(o), 20_000);
  assert.equal(radiusOfClick({ ...o, scale: 2 ** 23 }), 50);
  const { pixels, words } = scaleBar(o);
  assert.equal(words, "100 km");
  assert.ok(pixels > 30 && pixels <= 120);
});
