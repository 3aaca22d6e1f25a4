import assert from "node:assert/strict";
import { test } from "node:test";
import type * as api from "../net/api";
import { Paging, type PagesCarrier, type Refused, type Repaged } from "./paging";

/** A program of a few lines: it keeps pages and refuses what was made on others. */
class Program implements PagesCarrier {
  now = { revision: 0, undo: "", redo: "", format: { bleed: 3 }, plan: { folios: false } } as api.Pages;
  saved: string[] = [];
  books = 0;
  pages = () => Promise.resolve(this.now);
  save = (w: api.PagesWanted) => this.step(w.revision, () => ({ ...this.now, format: w.format, plan: w.plan, undo: w.act }), w.act);
  undo = (revision: number) => this.step(revision, () => ({ ...this.now, undo: "", redo: this.now.undo }), "undo");
  redo = (revision: number) => this.step(revision, () => ({ ...this.now, undo: this.now.redo, redo: "" }), "redo");
  book = () => Promise.resolve({ book: { format: this.now.format, pages: [] }, lines: [], misfits: [], of: ++this.books } as api.BookShown);
  private async step(revision: number, next: () => api.Pages, what: string): Promise<api.Pages> {
    await Promise.resolve();
    if (revision !== this.now.revision) throw { message: "stale", hint: "", pages: this.now } satisfies Refused;
    this.saved.push(what);
    this.now = { ...next(), revision: revision + 1 };
    return this.now;
  }
}

async function opened() {
  const program = new Program();
  const heard: number[] = [];
  const paging = new Paging(program, (err) => err as Refused, (p) => heard.push(p.revision));
  await paging.open();
  return { program, paging, heard };
}

const bleed = (by: number) => ({ format, plan }: Repaged): Repaged => ({ format: { ...format, bleed: format.bleed + by }, plan });

test("acts are seen at once and sent one after the other", async () => {
  const { program, paging, heard } = await opened();
  const done = [paging.edit("more", bleed(1)), paging.edit("still more", bleed(1))];
  assert.deepEqual([paging.now!.format.bleed, paging.waiting, program.now.format.bleed], [5, 2, 3]);
  await Promise.all(done);
  assert.deepEqual([program.saved, program.now.format.bleed, heard, paging.waiting], [["more", "still more"], 5, [0, 1, 2], 0]);
  assert.equal(paging.book!.book.format.bleed, 5); // laid out when all was kept
  assert.equal(program.books, 2);
});

test("an act that changes nothing is not sent", async () => {
  const { program, paging } = await opened();
  await paging.edit("nothing", bleed(0));
  assert.deepEqual(program.saved, []);
});

test("what was done on other pages is refused, and the present ones are shown", async () => {
  const { program, paging } = await opened();
  program.now = { ...program.now, revision: 7, format: { ...program.now.format, bleed: 9 } };
  await Promise.all([paging.edit("late", bleed(1)), paging.edit("later", bleed(1))]);
  assert.equal(paging.trouble!.message, "stale");
  assert.deepEqual([paging.now!.format.bleed, paging.now!.revision, program.saved], [9, 7, []]);
  await paging.edit("again", bleed(1));
  assert.deepEqual([paging.trouble, program.now.format.bleed], [undefined, 10]);
});

test("undo and redo wait for what is on its way", async () => {
  const { program, paging } = await opened();
  await Promise.all([paging.edit("more", bleed(1)), paging.undo(), paging.redo(), paging.redo()]);
  assert.deepEqual(program.saved, ["more", "undo", "redo"]);
});

test("news of another window is taken, an older state is not", async () => {
  const { paging } = await opened();
  paging.heard({ ...paging.kept!, revision: 4 });
  paging.heard({ ...paging.kept!, revision: 2 });
  assert.equal(paging.kept!.revision, 4);
});
