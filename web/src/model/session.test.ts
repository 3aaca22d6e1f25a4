import assert from "node:assert/strict";
import { test } from "node:test";
import { apply, type Change } from "./change";
import { readKept } from "./kept";
import { lying, readSequence, type Sequence } from "./sequence";
import { Session, type Answer, type Carrier, type News, type Wall } from "./session";

/** A program in memory that rules as the real one does; answers wait until they are let go. */
class Program implements Carrier {
  wall: Wall;
  down = false;
  swallow = false; // does the work and loses the answer
  asked: string[] = [];
  private gates: (() => void)[] = [];
  private past: Wall[] = [];

  constructor(start: Sequence) {
    this.wall = { sequence: start, undo: "", redo: "" };
  }

  async change(c: Change): Promise<Answer> {
    return this.answer(c.act, () => {
      const next = apply(this.wall.sequence, c);
      if (!next.ok) return { is: "refused", refusal: next.refusal, wall: this.wall };
      this.past.push(this.wall);
      this.wall = { sequence: next.value, undo: c.act, redo: "" };
      return { is: "done", wall: this.wall, act: c.act };
    });
  }

  async undo(revision: number): Promise<Answer> {
    return this.answer("undo", () => {
      const before = this.past.pop();
      if (!before) return { is: "refused", refusal: { code: "not-found", message: "There is nothing to undo.", hint: "" } };
      if (revision !== this.wall.sequence.revision) return { is: "refused", refusal: { code: "stale", message: "stale", hint: "" }, wall: this.wall };
      const act = this.wall.undo;
      this.wall = { ...before, sequence: { ...before.sequence, revision: revision + 1, last: this.wall.sequence.last }, redo: act };
      return { is: "done", wall: this.wall, act };
    });
  }

  async redo(): Promise<Answer> {
    return { is: "refused", refusal: { code: "not-found", message: "There is nothing to do again.", hint: "" } };
  }

  private async answer(what: string, work: () => Answer): Promise<Answer> {
    this.asked.push(what);
    await new Promise<void>((go) => this.gates.push(go));
    if (this.down) return { is: "unreachable" };
    const answer = work();
    return this.swallow ? { is: "unreachable" } : answer;
  }

  async letGo(): Promise<void> {
    this.gates.splice(0).forEach((go) => go());
    await settled();
  }
}

async function settled(): Promise<void> {
  for (let i = 0; i < 20; i++) await Promise.resolve();
}

function begin(spreads: Sequence["spreads"] = []) {
  const program = new Program(readSequence({ revision: 0, spreads, last: spreads.length }));
  const news: News[] = [];
  const session = new Session(program.wall, program, (n) => news.push(n));
  return { program, session, news, heard: () => news.map((n) => n.is) };
}

const opening = { spread: 0, side: "opening" } as const;
const closing = { spread: 0, side: "closing" } as const;
const put = (photo: number, page: typeof opening | typeof closing = opening) => ({ want: "place", photo, page }) as const;

test("an act is seen at once and confirmed later", async () => {
  const { program, session, heard } = begin();
  session.act(put(7));
  assert.equal(session.sequence.opening, 7);
  assert.equal(session.waiting, 1);
  assert.equal(session.undoWords, "put 7 on page 1");
  await program.letGo();
  assert.equal(session.waiting, 0);
  assert.equal(session.sequence.revision, 1);
  assert.deepEqual(heard(), ["acted", "settled"]);
});

test("acts made faster than the program answers are sent in order, one at a time", async () => {
  const { program, session } = begin();
  session.act(put(7));
  session.act(put(8, closing));
  session.act({ want: "openSpread", photo: 9, index: 0 });
  assert.deepEqual(program.asked, ["put 7 on page 1"]);
  await program.letGo();
  await program.letGo();
  await program.letGo();
  assert.equal(program.wall.sequence.revision, 3);
  assert.deepEqual(session.sequence, program.wall.sequence);
});

test("what cannot be done is refused at once, in words, and nothing is sent", () => {
  const { program, session, heard } = begin();
  const outcome = session.act({ want: "toTable", photos: [3] });
  assert.equal(outcome.ok, false);
  assert.deepEqual(program.asked, []);
  assert.deepEqual(heard(), ["refused"]);
});

test("another window's change is taken over while nothing of our own is on its way", async () => {
  const { session, heard } = begin();
  session.heard("put 3 on page 1", { sequence: readSequence({ revision: 1, opening: 3 }), undo: "put 3 on page 1", redo: "" });
  assert.equal(session.sequence.opening, 3);
  assert.equal(session.undoWords, "put 3 on page 1");
  assert.deepEqual(heard(), ["elsewhere"]);
});

test("the echo of an own act is not news", async () => {
  const { program, session, heard } = begin();
  session.act(put(7));
  await program.letGo();
  session.heard("put 7 on page 1", program.wall);
  assert.deepEqual(heard(), ["acted", "settled"]);
});

test("a stale act gives way to the wall as it is, is kept, and can be done again there", async () => {
  const { program, session, heard } = begin();
  void program.change({ revision: 0, act: "put 3 on page 1", steps: [{ do: "put", page: opening, was: 0, now: 3 }] });
  await program.letGo(); // the other window was faster
  session.act(put(7));
  await program.letGo();
  assert.equal(session.sequence.opening, 3);
  assert.equal(session.held.length, 1);
  assert.equal(session.held[0]!.act, "put 7 on page 1");
  assert.equal(session.held[0]!.why.code, "stale");
  assert.ok(heard().includes("refused"));
  session.again(session.held[0]!.key);
  assert.equal(session.sequence.opening, 7); // 3 went to the table: rebuilt on the new wall, not replayed
  assert.deepEqual(session.held, []);
  await program.letGo();
  assert.equal(program.wall.sequence.opening, 7);
});

test("acts made on top of a refused one are kept too", async () => {
  const { program, session } = begin();
  void program.change({ revision: 0, act: "put 3 on page 1", steps: [{ do: "put", page: opening, was: 0, now: 3 }] });
  await program.letGo();
  session.act(put(7));
  session.act(put(8, closing));
  await program.letGo();
  assert.deepEqual(session.held.map((h) => h.act), ["put 7 on page 1", "put 8 on page 2"]);
  assert.equal(session.sequence.closing, 0);
});

test("with the program out of reach acts wait, are shown, and are sent when it is back", async () => {
  const { program, session } = begin();
  program.down = true;
  session.act(put(7));
  await program.letGo();
  assert.equal(session.reachable, false);
  session.act(put(8, closing));
  assert.equal(session.sequence.opening, 7);
  assert.equal(session.waiting, 2);
  await program.letGo(); // the act just made is tried, too
  program.down = false;
  session.reached();
  await program.letGo();
  await program.letGo();
  assert.equal(session.waiting, 0);
  assert.equal(program.wall.sequence.closing, 8);
});

test("an act whose answer was lost is not done twice", async () => {
  const { program, session } = begin();
  program.swallow = true;
  session.act(put(7));
  await program.letGo();
  assert.equal(session.waiting, 1);
  program.swallow = false;
  session.reached();
  await program.letGo();
  assert.equal(session.waiting, 0);
  assert.deepEqual(session.held, []);
  assert.equal(program.wall.sequence.revision, 1);
});

test("undo goes through the program; acts made meanwhile are built on what it leads to", async () => {
  const { program, session } = begin();
  session.act(put(7));
  await program.letGo();
  session.undo();
  session.act(put(9, closing));
  assert.equal(session.sequence.closing, 0);
  await program.letGo();
  assert.equal(session.sequence.opening, 0);
  assert.equal(session.sequence.closing, 9);
  await program.letGo();
  assert.equal(program.wall.sequence.closing, 9);
});

test("undo with nothing to take back is refused in words", () => {
  const { session } = begin();
  const outcome = session.undo();
  assert.equal(!outcome.ok && outcome.refusal.message, "There is nothing to undo.");
});

test("news heard while acts were on their way is taken once they are settled", async () => {
  const { program, session } = begin();
  session.act(put(7));
  const theirs = apply({ ...session.sequence }, { revision: 1, act: "put 3 on page 2", steps: [{ do: "put", page: closing, was: 0, now: 3 }] });
  assert.ok(theirs.ok);
  session.heard("put 3 on page 2", { sequence: theirs.value, undo: "", redo: "" });
  assert.equal(session.sequence.closing, 0);
  await program.letGo();
  assert.equal(session.sequence.closing, 3);
});

test("a state fetched anew replaces everything but what is on its way", async () => {
  const { program, session } = begin();
  session.act(put(7));
  session.replace({ sequence: readSequence({ revision: 0 }), undo: "", redo: "" });
  assert.equal(session.sequence.opening, 7);
  await program.letGo();
  assert.deepEqual(lying(session.sequence, 7), { on: "page", page: opening });
});

/** What a window left that was closed while the program was away, as another reads it. */
async function leftBehind(...acts: Parameters<Session["act"]>[0][]) {
  const { program, session } = begin();
  program.down = true;
  for (const act of acts) session.act(act);
  await program.letGo();
  program.down = false;
  return { program, kept: readKept(JSON.stringify(session.kept)) };
}

function reopened(program: Program) {
  const news: News[] = [];
  return { news, session: new Session(program.wall, program, (n) => news.push(n)) };
}

test("acts of a window that was closed while the program was away are sent by the next", async () => {
  const { program, kept } = await leftBehind(put(7), put(8, closing), { want: "say", act: "say 7", says: () => [{ photo: 7, fact: "roll", was: null, now: "A" }] });
  const { session, news } = reopened(program);
  session.revive(kept);
  assert.deepEqual(news.map((n) => n.is), ["revived"]);
  for (let i = 0; i < 3; i++) await program.letGo();
  assert.equal(program.wall.sequence.opening, 7);
  assert.equal(program.wall.sequence.closing, 8);
  assert.equal(session.waiting, 0);
  assert.deepEqual(session.held, []);
});

test("on a wall that has changed they are held, and can be done again", async () => {
  const { program, kept } = await leftBehind(put(7), put(8, closing));
  void program.change({ revision: 0, act: "put 3 on page 1", steps: [{ do: "put", page: opening, was: 0, now: 3 }] });
  await program.letGo();
  const { session } = reopened(program);
  session.revive(kept);
  assert.deepEqual(session.held.map((h) => h.act), ["put 7 on page 1", "put 8 on page 2"]);
  const again = readKept(JSON.stringify(session.kept));
  assert.equal(again.length, 2, "held acts are kept as well");
  session.again(session.held[1]!.key);
  await program.letGo();
  assert.equal(program.wall.sequence.closing, 8);
});

test("an act that had arrived before the window was closed is not done twice", async () => {
  const { program, session } = begin();
  program.swallow = true;
  session.act(put(7));
  await program.letGo();
  program.swallow = false;
  const next = reopened(program);
  next.session.revive(readKept(JSON.stringify(session.kept)));
  await program.letGo();
  assert.equal(next.session.waiting, 0);
  assert.deepEqual(next.session.held, []);
  assert.equal(program.wall.sequence.revision, 1);
});

test("an undo that waits is kept with what was done before and after it", async () => {
  const { program, session } = begin();
  program.down = true;
  session.act(put(7));
  session.undo();
  session.act(put(9, closing));
  await program.letGo();
  program.down = false;
  const next = reopened(program);
  next.session.revive(readKept(JSON.stringify(session.kept)));
  for (let i = 0; i < 4; i++) await program.letGo();
  assert.equal(program.wall.sequence.opening, 0);
  assert.equal(program.wall.sequence.closing, 9);
});

test("what makes no sense is nothing", () => assert.deepEqual([readKept(null), readKept("{"), readKept("7")], [[], [], []]));
