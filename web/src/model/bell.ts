/**
 * Tells listeners that something changed, once for everything that changed
 * within the same turn.
 */
export class Bell {
  private listeners = new Set<() => void>();
  private ringing = false;
  private later: ReturnType<typeof setTimeout> | undefined;

  /** The returned function takes the listener away again. */
  on(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Rings a little later, once for a whole flood of news: photographs come in by the dozen. */
  soon(): void {
    this.later ??= setTimeout(() => {
      this.later = undefined;
      this.ring();
    }, 120);
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
