import assert from "node:assert/strict";
import { test } from "node:test";
import { Arrivals } from "./arriving";
import type * as api from "../net/api";

const one = (place: number): api.Arriving => ({ place, name: `${place}.jpg`, width: 3, height: 2, sketch: true });
const bring = (id: number, state: string, read: number, refused = 0) => ({ id, state, read, known: 0, refused }) as api.Bring;
const places = (a: Arrivals) => a.list.map((p) => `${p.bring}/${p.place}`).join(" ");

test("what is on its way is shown in the order it will come in, until each is in", () => {
  const a = new Arrivals();
  a.told({ bring: 4, photos: [one(5), one(1)] });
  a.told({ bring: 4, photos: [one(3), one(1)] });
  assert.equal(places(a), "4/1 4/3 4/5");
  a.heard(bring(4, "running", 1, 1));
  assert.equal(places(a), "4/3 4/5");
  a.heard(bring(3, "done", 9));
  assert.equal(places(a), "4/3 4/5");
});

test("nothing is on its way when bringing in ends, however it ends", () => {
  for (const state of ["done", "cancelled", "failed", "brokenoff"]) {
    const a = new Arrivals();
    a.replace([{ bring: 4, photos: [one(7)] }]);
    a.heard(bring(4, state, 2));
    assert.equal(places(a), "");
  }
});
