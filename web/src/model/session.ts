// What this window knows of the wall: the state the program has confirmed, and
// the maker's own acts that are still on their way to it. The screen shows both
// together; nothing the maker did is ever dropped without a word.

import { build, type Intent } from "./acts";
import { apply, type Change, type Statement } from "./change";
import { unwritten, written, type Kept } from "./kept";
import { done, readSequence, refused, sameSequence, type LooseSequence, type Outcome, type Refusal, type Sequence } from "./sequence";

/** The wall as the program keeps it, with the acts undo and redo would touch. */
export interface Wall {
  readonly sequence: Sequence;
  readonly undo: string;
  readonly redo: string;
}

export interface LooseWall {
  sequence: LooseSequence;
  undo?: string;
  redo?: string;
}

export function readWall(w: LooseWall): Wall {
  return { sequence: readSequence(w.sequence), undo: w.undo ?? "", redo: w.redo ?? "" };
}

/** What the program answered to a change. */
export type Answer =
  | { readonly is: "done"; readonly wall: Wall; readonly act: string }
  | { readonly is: "refused"; readonly refusal: Refusal; readonly wall?: Wall }
  | { readonly is: "unreachable" };

/** The way to the program. */
export interface Carrier {
  change(c: Change): Promise<Answer>;
  undo(revision: number): Promise<Answer>;
  redo(revision: number): Promise<Answer>;
}

/** An act that could not be done on the wall as it had become, kept so that it can be done again. */
export interface Held {
  readonly key: number;
  readonly act: string;
  readonly why: Refusal;
  readonly again: Intent;
}

/** What happened, for whoever draws and speaks. */
export type News =
  | { readonly is: "acted"; readonly act: string; readonly intent: Intent; readonly from: Sequence; readonly to: Sequence }
  | { readonly is: "undone" | "redone"; readonly act: string }
  | { readonly is: "elsewhere"; readonly act: string } // another window changed the wall
  | { readonly is: "refused"; readonly why: Refusal; readonly act: string }
  | { readonly is: "settled" } // an own act was acknowledged
  | { readonly is: "revived"; readonly sent: number; readonly held: number } // what a closed window left was taken up
  | { readonly is: "waiting" | "replaced" };

type Pending =
  | { readonly kind: "act"; readonly intent: Intent; readonly change: Change; readonly after: Sequence }
  | { readonly kind: "undo" | "redo"; readonly act: string };

export class Session {
  private queue: Pending[] = [];
  private deferred: Intent[] = []; // acts made while an undo is on its way: built when its outcome is known
  private newer: Wall | undefined; // another window's wall, heard while own acts were on their way
  private sending = false;
  private keys = 0;
  held: Held[] = [];
  reachable = true;

  constructor(private confirmed: Wall, private carrier: Carrier, private tell: (news: News) => void) {}

  /** The wall as the maker sees it: confirmed, with what is on its way already done. */
  get sequence(): Sequence {
    const last = this.queue.findLast((p) => p.kind === "act");
    return last?.kind === "act" ? last.after : this.confirmed.sequence;
  }

  /** What the maker has stated in acts that are still on their way. */
  get says(): readonly Statement[] {
    return this.queue.flatMap((p) => (p.kind === "act" ? (p.change.says ?? []) : []));
  }

  /** Acts that have not been acknowledged yet. */
  get waiting(): number {
    return this.queue.length + this.deferred.length;
  }

  /** What undo would take back, in words; "" for nothing. */
  get undoWords(): string {
    const last = this.queue.at(-1);
    return last?.kind === "act" ? last.change.act : last ? "" : this.confirmed.undo;
  }

  get redoWords(): string {
    return this.queue.length > 0 ? "" : this.confirmed.redo;
  }

  /** Does what the maker wants, at once on the screen and then with the program. */
  act(intent: Intent): Outcome<string> {
    if (this.queue.some((p) => p.kind !== "act")) {
      this.deferred.push(intent);
      return done("");
    }
    const before = this.sequence;
    const built = build(before, intent);
    const after = built.ok ? apply(before, built.value) : built;
    if (!built.ok || !after.ok) {
      const why = (built.ok ? after : built) as { ok: false; refusal: Refusal };
      this.tell({ is: "refused", why: why.refusal, act: "" });
      return why;
    }
    this.queue.push({ kind: "act", intent, change: built.value, after: after.value });
    this.tell({ is: "acted", act: built.value.act, intent, from: before, to: after.value });
    void this.send();
    return done(built.value.act);
  }

  undo(): Outcome<string> {
    return this.back("undo", this.undoWords, "There is nothing to undo.");
  }

  redo(): Outcome<string> {
    return this.back("redo", this.redoWords, "There is nothing to do again.");
  }

  /**
   * Undo and redo are the program's to resolve: it keeps the journal. While one
   * is on its way another may follow without our knowing what it will touch.
   */
  private back(kind: "undo" | "redo", act: string, nothing: string): Outcome<string> {
    const unsure = this.queue.some((p) => p.kind !== "act");
    if (act === "" && !unsure) return refused(nothing);
    this.queue.push({ kind, act });
    void this.send();
    return done(act);
  }

  /** A change another window or the program itself made, with the wall after it. */
  heard(act: string, wall: Wall): void {
    const revision = wall.sequence.revision;
    if (revision <= this.confirmed.sequence.revision) return;
    if (this.queue.length > 0) {
      if (!this.newer || this.newer.sequence.revision < revision) this.newer = wall;
      return;
    }
    this.confirmed = wall;
    this.tell({ is: "elsewhere", act });
  }

  /** The whole state, fetched anew. Own acts that wait are kept and tried on it. */
  replace(wall: Wall): void {
    if (wall.sequence.revision < this.confirmed.sequence.revision) return;
    if (this.queue.length > 0) {
      this.newer = wall;
      void this.send();
      return;
    }
    this.confirmed = wall;
    this.tell({ is: "replaced" });
  }

  /** The program answers again: what waits is sent. */
  reached(): void {
    const was = this.reachable;
    this.reachable = true;
    if (!was) this.tell({ is: "waiting" });
    void this.send();
  }

  lost(): void {
    if (!this.reachable) return;
    this.reachable = false;
    this.tell({ is: "waiting" });
  }

  /** All that would be lost with this window. */
  get kept(): Kept[] {
    const first = this.queue[0];
    return [
      ...this.held.map((h) => ({ kind: "held", intent: written(h.again), act: h.act, why: h.why }) as const),
      ...this.queue.map((p): Kept => (p.kind !== "act" ? p : { kind: "act", intent: written(p.intent), change: p.change, ...(p === first ? { after: p.after } : {}) })),
      ...this.deferred.map((intent) => ({ kind: "later", intent: written(intent) }) as const),
    ];
  }

  /**
   * Takes up what another window left. While the wall is as those acts left it
   * they are sent; otherwise they are held, to be done again by the maker.
   */
  revive(kept: readonly Kept[]): void {
    let stale = false;
    for (const k of kept) {
      if (k.kind === "held") this.hold(k.act, unwritten(k.intent), k.why);
      else if (k.kind === "later") this.act(unwritten(k.intent));
      else if (k.kind !== "act") {
        if (!stale) this.queue.push(k);
      } else if (!this.arrived(k)) {
        const after: Outcome<Sequence> | undefined = stale ? undefined : apply(this.sequence, k.change);
        if (after?.ok) this.queue.push({ kind: "act", intent: unwritten(k.intent), change: k.change, after: after.value });
        else this.hold(k.change.act, unwritten(k.intent), stale || !after || after.ok ? follower : after.refusal);
        stale ||= !after?.ok;
      }
    }
    if (kept.length > 0) this.tell({ is: "revived", sent: this.waiting, held: this.held.length });
    void this.send();
  }

  /** Whether an act had reached the program, and only its answer was lost. */
  private arrived(k: Kept & { kind: "act" }): boolean {
    const says = k.change.says && this.confirmed.undo !== k.change.act;
    return k.after !== undefined && this.queue.length === 0 && !says && sameSequence(k.after, this.confirmed.sequence);
  }

  /** Does a held act again on the wall as it is now. */
  again(key: number): Outcome<string> {
    const held = this.held.find((h) => h.key === key);
    if (!held) return refused("This act cannot be done again.");
    const outcome = this.act(held.again);
    if (outcome.ok) this.forget(key);
    return outcome;
  }

  forget(key: number): void {
    this.held = this.held.filter((h) => h.key !== key);
    this.tell({ is: "settled" });
  }

  private async send(): Promise<void> {
    if (this.sending) return;
    this.sending = true;
    try {
      while (this.queue.length > 0) {
        const head = this.queue[0]!;
        const answer = await this.ask(head);
        if (answer.is === "unreachable") {
          this.lost();
          return;
        }
        this.reachable = true;
        this.take(head, answer);
      }
    } finally {
      this.sending = false;
    }
  }

  private ask(head: Pending): Promise<Answer> {
    if (head.kind === "act") return this.carrier.change(head.change);
    return this.carrier[head.kind](this.confirmed.sequence.revision);
  }

  private take(head: Pending, answer: Exclude<Answer, { is: "unreachable" }>): void {
    if (answer.is === "done" || this.arrivedAlready(head, answer)) {
      this.queue.shift();
      this.confirmed = answer.wall ?? this.confirmed;
      const act = answer.is === "done" ? answer.act : "";
      if (head.kind !== "act") this.tell({ is: head.kind === "undo" ? "undone" : "redone", act });
      this.settle();
      return;
    }
    const fallen = this.queue;
    this.queue = [];
    this.confirmed = answer.wall ?? this.confirmed;
    this.catchUp();
    if (head.kind === "act") this.hold(head.change.act, head.intent, answer.refusal);
    for (const p of fallen.slice(1)) if (p.kind === "act") this.hold(p.change.act, p.intent, follower);
    for (const intent of this.deferred.splice(0)) this.hold("an act made just after", intent, follower);
    this.tell({ is: "refused", why: answer.refusal, act: head.kind === "act" ? head.change.act : "" });
  }

  /**
   * An answer lost on the way makes us send a change twice. The second is
   * refused as stale, but the wall that comes with it is the one we wanted.
   */
  private arrivedAlready(head: Pending, answer: { wall?: Wall; refusal: Refusal }): boolean {
    if (head.kind !== "act" || (head.change.says && answer.wall?.undo !== head.change.act)) return false; // what is said of photos leaves the wall as it is
    return answer.refusal.code === "stale" && answer.wall !== undefined &&
      sameSequence(answer.wall.sequence, head.after);
  }

  /** After an acknowledgement: news heard meanwhile is taken, acts that waited for an undo are built. */
  private settle(): void {
    if (this.queue.length === 0) this.catchUp();
    this.tell({ is: "settled" });
    if (this.queue.length === 0) for (const intent of this.deferred.splice(0)) this.act(intent);
  }

  private catchUp(): void {
    const newer = this.newer;
    this.newer = undefined;
    if (newer && newer.sequence.revision > this.confirmed.sequence.revision) {
      this.confirmed = newer;
      this.tell({ is: "replaced" });
    }
  }

  private hold(act: string, again: Intent, why: Refusal): void {
    this.held.push({ key: ++this.keys, act, why, again });
  }
}

const follower: Refusal = { code: "stale", message: "It was made after an act that could not be done.", hint: "" };
