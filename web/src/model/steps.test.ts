import assert from "node:assert/strict";
import { test } from "node:test";
import { gestured, lineFor, measures, pageFor, sizeAt, standpoint, type Room } from "./steps";

const rooms: Room[] = [
  { width: 328, height: 330, finger: true }, { width: 592, height: 240, finger: false },
  { width: 1224, height: 540, finger: false }, { width: 2504, height: 940, finger: false }, { width: 2504, height: 300, finger: false },
];

/** How wide a line of spreads is, added up. */
function added(line: number, page: number): number {
  return line * 2 * page + (line - 1) * measures(page).gap;
}

test("a line of spreads fills its width at every step, and one more would not go in", () => {
  for (const { width } of rooms) {
    for (let line = 1; line < 30; line++) {
      const page = pageFor(line, width);
      if (page <= 8) continue;
      assert.ok(added(line, page) <= width, `${line} in ${width}`);
      assert.ok(added(line, page) > width - 1, `${line} in ${width}: ${added(line, page)}`);
      assert.equal(lineFor(page, width), line, `${line} in ${width}`);
    }
  }
});

test("from farthest away the whole sequence is in sight, from nearest one spread is", () => {
  for (const room of rooms) {
    for (const rows of [2, 5, 24, 122, 252, 752]) {
      const here = standpoint(0, room, rows);
      const away = standpoint(1, room, rows);
      const lines = Math.ceil(rows / away.line);
      assert.equal(away.line, here.farthest);
      assert.ok(lines * (1.2 * away.page + away.foot) + (lines - 1) * away.apart <= room.height || away.line === away.nearest, `${rows} rows in ${room.width}`);
      const near = standpoint(1e4, room, rows);
      assert.equal(near.line, here.nearest);
      assert.ok(near.page * 1.2 + near.foot <= room.height, `one of ${rows} in ${room.width} × ${room.height}: ${near.page}`);
      assert.ok(near.page >= away.page);
    }
  }
});

test("every step has a size that leads back to it", () => {
  for (const room of rooms) {
    const here = standpoint(0, room, 122);
    for (let line = here.nearest; line <= here.farthest; line++) {
      assert.equal(standpoint(sizeAt(line, here, room), room, 122).line, line);
    }
  }
});

test("the first size suits the screen", () => {
  const lines = rooms.map((room) => standpoint(0, room, 24).line);
  assert.deepEqual(lines.slice(0, 1), [1]);
  assert.equal(lines[2], 4);
  assert.equal(lines[3], 5);
});

test("a gesture steps in its own direction, at least once, and not beyond either end", () => {
  const room = rooms[2]!;
  const here = standpoint(0, room, 252);
  assert.equal(gestured(1.01, here, room), here.line);
  assert.equal(gestured(1.08, here, room), here.line - 1);
  assert.equal(gestured(0.93, here, room), here.line + 1);
  assert.equal(gestured(0.5, here, room), lineFor(here.page / 2, room.width) + (added(8, here.page / 2) > room.width ? 1 : 0));
  assert.equal(gestured(0.01, here, room), here.farthest);
  assert.equal(gestured(100, here, room), here.nearest);
});

test("a few photographs, or none, are not blown up", () => {
  assert.equal(standpoint(0, rooms[2]!, 2).line, 4);
  assert.equal(standpoint(1, rooms[2]!, 2).line, 4);
});
