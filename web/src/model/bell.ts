const soonest = 120; // ms; no source: news that come together are told together
const seldom = 500; // ms between two rings for a flood of news: each draws a good part of the page anew

/** Why news wait. */
export type Reason = "hand" | "scroll";

/**
 * Tells listeners that something changed, once for everything that changed
 * within the same turn.
 */
export class Bell {
  private listeners = new Set<() => void>();
  private ringing = false;
  private later: ReturnType<typeof setTimeout> | undefined;
  private readonly reasons = new Set<Reason>(); // to hold it
  private wanted = false; // while held
  private last = -Infinity; // when it rang for news, ms

  /** The returned function takes the listener away again. */
  on(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Rings a little later, once for a whole flood of news: photographs come in by the dozen. */
  soon(): void {
    this.later ??= setTimeout(() => {
      this.later = undefined;
      if (this.held) {
        this.wanted = true;
        return;
      }
      this.last = performance.now();
      this.ring();
    }, Math.max(soonest, this.last + seldom - performance.now()));
  }

  /** Whether what is not asked for has to wait. */
  get held(): boolean {
    return this.reasons.size > 0;
  }

  /** Lets news wait while the hand is full or the page moves, so that nothing stutters. */
  hold(reason: Reason, on: boolean): void {
    if (on) this.reasons.add(reason);
    else this.reasons.delete(reason);
    if (this.held || !this.wanted) return;
    this.wanted = false;
    this.soon();
  }

  ring(): void {
    if (this.ringing) return;
    this.ringing = true;
    queueMicrotask(() => {
      this.ringing = false;
      for (const listener of [...this.listeners]) listener();
    });
  }
}
