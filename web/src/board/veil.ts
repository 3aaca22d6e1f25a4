// After much was laid anew its places are known at once. What is most looked at
// is laid out at once, too; the rest follows within a second, a few a frame. Until
// then nothing is drawn of what is out of sight; what is in sight is drawn as it
// was laid out before, stretched to its new place.

import { mark } from "./order";

export class Veil {
  private waiting: HTMLElement[] = []; // in the order in which they are laid out
  private frame = 0;

  /** Of what is stretched and so laid out already, twice as many go into a frame; laidOut is told of each. */
  constructor(private readonly eachFrame: number, private readonly laidOut: (el: HTMLElement) => void = () => {}) {}

  /** Has these wait, those that are stretched before those that are veiled, each in this order; what waited before is laid out. */
  over(veiled: readonly HTMLElement[], stretched: readonly HTMLElement[] = []): void {
    const waiting = [...stretched, ...veiled];
    const wait = new Set(waiting);
    this.layOut(this.waiting.filter((el) => !wait.has(el)));
    // Only what differs is written: what is taken away and put back is styled anew.
    for (const [els, has, hasNot] of [[veiled, "data-veiled", "data-stretched"], [stretched, "data-stretched", "data-veiled"]] as const) {
      for (const el of els) {
        mark(el, has, "");
        mark(el, hasNot, undefined);
      }
    }
    this.waiting = waiting;
    this.lift([]);
  }

  /** Those that are drawn as they were. */
  get stretched(): readonly HTMLElement[] {
    return this.waiting.filter((el) => el.dataset.stretched !== undefined);
  }

  /** Those that are not drawn yet. */
  get veiled(): readonly HTMLElement[] {
    return this.waiting.filter((el) => el.dataset.stretched === undefined);
  }

  /** Lays these out now, and goes on with the rest in the frames after the next, which has enough to do. */
  lift(now: readonly HTMLElement[]): void {
    cancelAnimationFrame(this.frame);
    this.layOut(now);
    let begun = false;
    const next = () => {
      if (!begun) {
        begun = true;
        this.frame = requestAnimationFrame(next);
        return;
      }
      this.layOut(this.waiting.slice(0, this.waiting[0]?.dataset.stretched === undefined ? this.eachFrame : 2 * this.eachFrame));
      if (this.waiting.length > 0) this.frame = requestAnimationFrame(next);
    };
    if (this.waiting.length > 0) this.frame = requestAnimationFrame(next);
  }

  private layOut(places: readonly HTMLElement[]): void {
    const now = new Set(places);
    for (const el of now) {
      delete el.dataset.veiled;
      delete el.dataset.stretched;
      this.laidOut(el);
    }
    this.waiting = this.waiting.filter((el) => !now.has(el));
  }
}
