import { homeOf, parts } from "./chapter";
import { take, type Change, type Step } from "./change";
import {
  at, check, done, empty, indexOf, lying,
  type ChapterID, type Outcome, type Page, type PhotoID, type Sequence, type Spread, type SpreadID,
} from "./sequence";

/**
 * A change being written. Every step is taken on a working copy at once, so
 * that its indices and what it says was before are those of its moment.
 */
export class Draft {
  private steps: Step[] = [];
  private shifted = new Set<SpreadID>(); // spreads that are new or came to another place

  constructor(public now: Sequence) {}

  step(s: Step): void {
    const taken = take(this.now, s);
    if (!taken.ok) throw new Error("an act made a step that does not fit: " + taken.refusal.message);
    if (s.do === "add") this.shifted.add(s.spread.id);
    if (s.do === "move") this.shifted.add(this.now.spreads[s.index]!.id);
    this.now = taken.value;
    this.steps.push(s);
  }

  set(page: Page, photo: PhotoID): void {
    const was = at(this.now, page) ?? 0;
    if (was !== photo) this.step({ do: "put", page, was, now: photo });
  }

  spread(id: SpreadID): Spread | undefined {
    return this.now.spreads[indexOf(this.now, id)];
  }

  /** Takes a photo back to one page before its pages change, so that each step reads sensibly by itself. */
  narrow(id: SpreadID): void {
    if (this.spread(id)?.across) this.step({ do: "across", spread: { id }, on: false });
  }

  add(index: number, left: PhotoID, right: PhotoID, chapter: ChapterID = 0): void {
    const spread: Spread = { id: this.now.last + 1, left, right, across: false, pinned: false, chapter, note: "" };
    this.step({ do: "add", index, spread });
  }

  remove(id: SpreadID): void {
    const index = indexOf(this.now, id);
    const spread = this.now.spreads[index];
    if (spread) this.step({ do: "remove", index, spread });
  }

  /**
   * Takes a photo from where it lies, so that it can be put somewhere else. A
   * spread whose last photo leaves goes too, unless it is the one to stay.
   */
  lift(photo: PhotoID, stays: SpreadID = 0): void {
    const lies = lying(this.now, photo);
    if (lies.on === "box") this.step({ do: "box", now: photo, on: false });
    if (lies.on !== "page") return;
    this.narrow(lies.page.spread);
    this.set(lies.page, 0);
    const left = this.spread(lies.page.spread);
    if (left && empty(left) && left.id !== stays) this.remove(left.id);
  }

  /** Puts a spread into a chapter, or out of one. */
  join(id: SpreadID, chapter: ChapterID): void {
    const was = this.spread(id)?.chapter;
    if (was !== undefined && was !== chapter) this.step({ do: "join", spread: { id }, wasChapter: was, nowChapter: chapter });
  }

  /** Begins, renames or, with an empty name, ends a chapter. */
  name(chapter: ChapterID, nowText: string): void {
    const wasText = this.now.chapters.find((c) => c.id === chapter)?.name ?? "";
    if (wasText !== nowText) this.step({ do: "name", chapter, wasText, nowText });
  }

  /**
   * Lets chapters follow what was done: a spread put inside a run joins it, one
   * taken out of its run leaves it, and a chapter whose last spread has gone ends.
   */
  private settle(): void {
    const moved = this.now;
    for (const id of this.shifted) if (this.spread(id)) this.join(id, homeOf(moved, id, this.shifted));
    for (const { id } of this.now.chapters) {
      const [longest, ...rest] = parts(this.now, id).sort((a, b) => b.length - a.length);
      for (const spread of rest.flat()) this.join(spread.id, 0);
      if (!longest) this.name(id, "");
    }
  }

  change(from: Sequence, act: string): Outcome<Change> {
    this.settle();
    const broken = check(this.now);
    if (broken) return { ok: false, refusal: broken };
    return done({ revision: from.revision, act, steps: this.steps });
  }
}
