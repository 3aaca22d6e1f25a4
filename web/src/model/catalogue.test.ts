import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { Catalogue } from "./catalogue";
import { statements, type Photo } from "./facts";
import { readSequence } from "./sequence";
import { Session, type Answer, type News } from "./session";

const photo = (number: number, known: Partial<Photo> = {}) => ({ number, roll: "", frame: "", caption: "", taken: { precision: "unknown", source: "" }, label: "", ...known }) as Photo;
const senj: api.Where = { lat: 44.99, lng: 14.9, radius: 2000, source: "maker" };

test("what is on its way is shown at once, and gone again when it was refused", () => {
  const c = new Catalogue([photo(1), photo(2)]);
  const says = statements([c.photos.get(1)!], "roll", () => ({ text: "7" }));
  c.show(says);
  assert.equal(c.photos.get(1)!.roll, "7");
  c.show([]);
  assert.equal(c.photos.get(1)!.roll, "");
});

test("a confirmed place comes with its words, and an older statement never undoes a newer one", () => {
  const c = new Catalogue([photo(1)]);
  const first = statements([photo(1)], "where", () => ({ where: senj }));
  const second = statements([photo(1, { where: senj })], "where", () => ({}));
  c.learn(second, { 1: "" }, 6);
  c.learn(first, { 1: "Senj, Croatia" }, 5); // its event came late
  c.show([]);
  assert.equal(c.photos.get(1)!.where, undefined);
  c.learn(first, { 1: "Senj, Croatia" }, 7); // done again
  c.show([]);
  assert.equal(c.photos.get(1)!.label, "Senj, Croatia");
});

test("the map of photos is another one only when something is known anew", () => {
  const c = new Catalogue([photo(1)]);
  const before = c.photos;
  c.show([]);
  c.learn([], {}, 3);
  c.show([]);
  assert.equal(c.photos, before);
  c.arrived(photo(2));
  assert.notEqual(c.photos, before);
  assert.equal(c.photos.size, 2);
});

test("saying waits in the queue as any act does, and is looked up when it is sent again", async () => {
  const answers: Answer[] = [];
  const asked: string[] = [];
  const news: News[] = [];
  const wall = (revision: number) => ({ sequence: { ...readSequence({}), revision }, undo: "", redo: "" });
  const carrier = { change: async (c: { act: string }) => { asked.push(c.act); return answers.shift()!; }, undo: async () => answers.shift()!, redo: async () => answers.shift()! };
  const session = new Session(wall(3), carrier, (n) => news.push(n));
  let roll = "";
  const says = () => statements([photo(1, { roll })], "roll", () => ({ text: "7" }));
  answers.push({ is: "refused", refusal: { code: "stale", message: "The wall has changed since.", hint: "" }, wall: wall(4) });
  session.act({ want: "say", act: "say that photo 1 is of roll 7", says });
  assert.deepEqual(session.says.map((s) => [s.photo, s.fact, s.now]), [[1, "roll", { text: "7" }]]);
  await new Promise((resolve) => setTimeout(resolve));
  assert.equal(session.says.length, 0);
  assert.equal(session.held.length, 1);
  roll = "6"; // another window said so meanwhile
  answers.push({ is: "done", wall: wall(5), act: "" });
  assert.ok(session.again(session.held[0]!.key).ok);
  assert.deepEqual(session.says.map((one) => one.was), [{ text: "6" }]);
  await new Promise((resolve) => setTimeout(resolve));
  assert.equal(asked.length, 2);
  roll = "7";
  assert.ok(!session.act({ want: "say", act: "", says }).ok, "what is known already makes no change");
});
