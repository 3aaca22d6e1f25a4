import { take, type Change, type Step } from "./change";
import {
  at, check, done, empty, indexOf, lying,
  type Outcome, type Page, type PhotoID, type Sequence, type Spread, type SpreadID,
} from "./sequence";

/**
 * A change being written. Every step is taken on a working copy at once, so
 * that its indices and what it says was before are those of its moment.
 */
export class Draft {
  private steps: Step[] = [];

  constructor(public now: Sequence) {}

  step(s: Step): void {
    const taken = take(this.now, s);
    if (!taken.ok) throw new Error("an act made a step that does not fit: " + taken.refusal.message);
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

  add(index: number, left: PhotoID, right: PhotoID): void {
    const spread: Spread = { id: this.now.last + 1, left, right, across: false, pinned: false };
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

  change(from: Sequence, act: string): Outcome<Change> {
    const broken = check(this.now);
    if (broken) return { ok: false, refusal: broken };
    return done({ revision: from.revision, act, steps: this.steps });
  }
}
