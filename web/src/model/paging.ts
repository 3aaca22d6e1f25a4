// Format and page plan in the maker's hand: acts are shown at once, sent one
// after the other, and the book is laid out anew when all are kept.

import type * as api from "../net/api";
import { Bell } from "./bell";

/** What the program does for it. Each fails with an error that may carry the present pages. */
export interface PagesCarrier {
  pages(): Promise<api.Pages>;
  save(wanted: api.PagesWanted): Promise<api.Pages>;
  undo(revision: number): Promise<api.Pages>;
  redo(revision: number): Promise<api.Pages>;
  book(): Promise<api.BookShown>;
}

export interface Refused {
  readonly message: string;
  readonly hint: string;
  readonly pages?: api.Pages | undefined; // as they are, when the act was made on others
}

export type Repaged = Pick<api.Pages, "format" | "plan">;
type Job = { readonly act: string; readonly next: (now: Repaged) => Repaged } | "undo" | "redo";

export class Paging {
  readonly bell = new Bell();
  kept: api.Pages | undefined; // as the program has them
  book: api.BookShown | undefined;
  trouble: Refused | undefined;
  private jobs: Job[] = [];
  private sending = false;
  private asked = 0; // counts the books asked for: a later answer wins

  constructor(private readonly carrier: PagesCarrier, private readonly refused: (err: unknown) => Refused, private readonly heardKept: (now: api.Pages) => void = () => {}) {}

  async open(): Promise<void> {
    try {
      this.take(await this.carrier.pages());
    } catch (err) {
      this.fail(err);
    }
    await this.lay();
  }

  /** The pages with all that was done, kept or not yet. */
  get now(): api.Pages | undefined {
    if (!this.kept) return undefined;
    return this.jobs.reduce<api.Pages>((now, job) => (typeof job === "string" ? now : { ...now, ...job.next(now) }), this.kept);
  }

  get waiting(): number {
    return this.jobs.length;
  }

  /** Does something to the pages. next must be able to act on pages others have changed. */
  edit(act: string, next: (now: Repaged) => Repaged): Promise<void> {
    return this.queue({ act, next });
  }

  undo(): Promise<void> {
    return this.queue("undo");
  }

  redo(): Promise<void> {
    return this.queue("redo");
  }

  /** The pages are others now, by another window perhaps. */
  heard(pages: api.Pages): void {
    if (this.sending || !this.kept || pages.revision <= this.kept.revision) return;
    this.take(pages);
    void this.lay();
  }

  /** Asks for the book anew: the wall or a caption is another. */
  async lay(): Promise<void> {
    const mine = ++this.asked;
    try {
      const book = await this.carrier.book();
      if (mine !== this.asked || this.jobs.length > 0) return;
      this.book = book;
      this.bell.ring();
    } catch (err) {
      if (mine === this.asked) this.fail(err);
    }
  }

  private async queue(job: Job): Promise<void> {
    this.jobs.push(job);
    this.bell.ring();
    if (this.sending) return;
    this.sending = true;
    this.trouble = undefined;
    while (this.jobs.length > 0) {
      try {
        const now = await this.send(this.jobs[0]!);
        this.jobs.shift();
        if (now) this.take(now);
      } catch (err) {
        this.jobs = []; // what was done after it may have stood on it
        this.fail(err);
      }
    }
    this.sending = false;
    await this.lay();
  }

  private send(job: Job): Promise<api.Pages | undefined> {
    const { kept } = this;
    if (!kept) return Promise.resolve(undefined);
    if (job === "undo") return kept.undo === "" ? Promise.resolve(undefined) : this.carrier.undo(kept.revision);
    if (job === "redo") return kept.redo === "" ? Promise.resolve(undefined) : this.carrier.redo(kept.revision);
    const { format, plan } = job.next(kept);
    if (JSON.stringify([format, plan]) === JSON.stringify([kept.format, kept.plan])) return Promise.resolve(undefined);
    return this.carrier.save({ revision: kept.revision, act: job.act, format, plan });
  }

  private take(pages: api.Pages): void {
    this.kept = pages;
    this.heardKept(pages);
    this.bell.ring();
  }

  private fail(err: unknown): void {
    this.trouble = this.refused(err);
    if (this.trouble.pages) this.take(this.trouble.pages);
    this.bell.ring();
  }
}
