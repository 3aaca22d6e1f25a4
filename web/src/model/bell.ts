const soonest = 120; // ms; no source: news that come together are told together
const seldom = 500; // ms between two rings for a flood of news: each draws a good part of the page anew

/**
 * Tells listeners that something changed, once for everything that changed
 * within the same turn.
 */
export class Bell {
  private listeners = new Set<() => void>();
  private ringing = false;
  private later: ReturnType<typeof setTimeout> | undefined;
  private held = false;
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

  /** Lets news wait while the hand is full, so that nothing stutters under it. */
  hold(on: boolean): void {
    this.held = on;
    if (on || !this.wanted) return;
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
