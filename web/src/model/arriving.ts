// Photographs on their way in: shown by the small picture their files carry,
// until each is read and lies on the table as a card.

import type * as api from "../net/api";

export interface Arriving extends api.Arriving {
  readonly bring: number;
}

export class Arrivals {
  private all: readonly Arriving[] = [];

  /** In the order they will come in. */
  get list(): readonly Arriving[] {
    return this.all;
  }

  /** All there are, fetched anew. */
  replace(events: readonly api.ArrivingEvent[]): void {
    this.all = [];
    for (const e of events) this.told(e);
  }

  told({ bring, photos }: api.ArrivingEvent): void {
    const before = this.all.filter((a) => a.bring !== bring || !photos.some((p) => p.place === a.place));
    this.all = [...before, ...photos.map((p) => ({ ...p, bring }))].sort((a, b) => a.bring - b.bring || a.place - b.place);
  }

  /** Files come in, are known or are refused one after the other; when it ends, nothing is on its way any more. */
  heard({ id, state, read, known, refused }: api.Bring): void {
    const done = state === "running" ? read + known + refused : Infinity;
    if (this.all.some((a) => a.bring === id && a.place <= done)) this.all = this.all.filter((a) => a.bring !== id || a.place > done);
  }
}
