// What the program tells, in its order. The whole of a title, which is fetched at
// the beginning and after news were lost, may be older than news that come while
// it is on its way: those are taken in after it.

export class News<To> {
  private to: To | undefined;
  private waiting: ((to: To) => void)[] = [];
  private fetches = 0;
  private last: Promise<void> = Promise.resolve();

  /** Takes news in, now or when what is being fetched is there. */
  tell(what: (to: To) => void): void {
    if (this.to !== undefined && this.fetches === 0) what(this.to);
    else this.waiting.push(what);
  }

  /** From now on news are for this; those that waited are told it at once. */
  begin(to: To): void {
    this.to = to;
    this.release();
  }

  /** Has news wait while fetch, which never fails, fetches the whole anew; one fetch after the other. */
  fetching(fetch: (to: To) => Promise<void>): void {
    const { to } = this;
    if (to === undefined) return; // it is being fetched for the first time
    this.fetches++;
    this.last = this.last.then(async () => {
      await fetch(to);
      this.fetches--;
      this.release();
    });
  }

  private release(): void {
    const { to } = this;
    while (to !== undefined && this.fetches === 0 && this.waiting.length > 0) this.waiting.shift()!(to); // what is told may be that all must be fetched
  }
}
