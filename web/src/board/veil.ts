// After much was laid anew its places are known at once, and what is in sight is
// drawn; the rest follows within a second, a few a frame.

export class Veil {
  private veiled: HTMLElement[] = []; // places whose content is not drawn yet
  private frame = 0;

  constructor(private readonly eachFrame: number) {}

  /** Draws nothing of these until they are lifted, in this order; of others what was to be drawn is drawn. */
  over(places: readonly HTMLElement[]): void {
    this.lift(this.veiled);
    for (const el of places) el.dataset.veiled = "";
    this.veiled = [...places];
  }

  /** Those that are not drawn yet. */
  get under(): readonly HTMLElement[] {
    return this.veiled;
  }

  /** Draws these now, and goes on with the rest. */
  lift(near: readonly HTMLElement[]): void {
    cancelAnimationFrame(this.frame);
    this.draw(near);
    const next = () => {
      this.draw(this.veiled.slice(0, this.eachFrame));
      if (this.veiled.length > 0) this.frame = requestAnimationFrame(next);
    };
    if (this.veiled.length > 0) this.frame = requestAnimationFrame(next);
  }

  private draw(places: readonly HTMLElement[]): void {
    const now = new Set(places);
    for (const el of now) delete el.dataset.veiled;
    this.veiled = this.veiled.filter((el) => !now.has(el));
  }
}
