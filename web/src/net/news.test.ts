import assert from "node:assert/strict";
import { test } from "node:test";
import { News } from "./news";

/** A fetch that is answered by hand. */
function asked(heard: string[], whole: string): { fetch: () => Promise<void>; answer: () => Promise<void> } {
  let answer: () => void = () => {};
  const answered = new Promise<void>((resolve) => (answer = resolve));
  return {
    fetch: () => answered.then(() => void heard.push(whole)),
    answer: async () => {
      answer();
      await new Promise((done) => setTimeout(done));
    },
  };
}

test("News before the beginning are told at the beginning, in their order", () => {
  const news = new News<string[]>();
  const heard: string[] = [];
  for (const word of ["a", "b"]) news.tell((to) => to.push(word));
  news.fetching(() => assert.fail("nobody is there for whom to fetch"));
  news.begin(heard);
  news.tell((to) => to.push("c"));
  assert.deepEqual(heard, ["a", "b", "c"]);
});

test("The whole is older than news that come while it is fetched", async () => {
  const news = new News<string[]>();
  const heard: string[] = [];
  news.begin(heard);
  const [first, second] = [asked(heard, "running"), asked(heard, "running still")];
  news.fetching(first.fetch);
  news.tell((to) => to.push("stopped"));
  news.fetching(second.fetch);
  await second.answer();
  assert.deepEqual(heard, [], "one fetch after the other");
  await first.answer();
  assert.deepEqual(heard, ["running", "running still", "stopped"]);
});

test("What is told may be that all must be fetched; what follows waits for it", async () => {
  const news = new News<string[]>();
  const heard: string[] = [];
  const all = asked(heard, "all");
  news.tell(() => news.fetching(all.fetch));
  news.tell((to) => to.push("after"));
  news.begin(heard);
  assert.deepEqual(heard, []);
  await all.answer();
  assert.deepEqual(heard, ["all", "after"]);
});
