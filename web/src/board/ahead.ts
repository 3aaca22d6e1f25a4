// Spreads far from sight are not laid out, so that they cost nothing. But a line
// of them that comes in sight would then be laid out and painted in one frame. So
// in quiet moments they are laid out ahead, a few a frame: one who scrolls or steps
// back then only moves what is there.

import type { Bell } from "../model/bell";

const quiet = 400; // ms in which nothing was drawn or scrolled; no source
const eachFrame = 3; // spreads; no source
const most = 250; // spreads that are laid out ahead; of more, those nearest to sight: each adds to every frame. No source

export class Ahead {
  private timer = 0;
  private frame = 0;
  private readonly onScroll = () => this.look();

  constructor(private readonly wall: HTMLElement, private readonly bell: Bell) {
    addEventListener("scroll", this.onScroll, { passive: true });
  }

  close(): void {
    removeEventListener("scroll", this.onScroll);
    this.stop();
  }

  /** Something has changed: once it has been quiet for a moment, lays out what is not. */
  look(): void {
    this.stop();
    this.timer = window.setTimeout(() => this.begin(), quiet);
  }

  private stop(): void {
    clearTimeout(this.timer);
    cancelAnimationFrame(this.frame);
  }

  private begin(): void {
    const all = [...this.wall.querySelectorAll<HTMLElement>(":scope > .spread:not([hidden])")];
    const near = new Set(nearest(all).slice(0, most));
    this.go([...near].filter((row) => row.dataset.ahead === undefined), all.filter((row) => row.dataset.ahead !== undefined && !near.has(row)));
  }

  private go(layOut: readonly HTMLElement[], letGo: readonly HTMLElement[]): void {
    if (layOut.length + letGo.length === 0) return;
    this.frame = requestAnimationFrame(() => {
      if (this.bell.held) return this.go(layOut, letGo);
      for (const row of layOut.slice(0, eachFrame)) row.dataset.ahead = "";
      for (const row of letGo.slice(0, eachFrame)) delete row.dataset.ahead;
      this.go(layOut.slice(eachFrame), letGo.slice(eachFrame));
    });
  }
}

/** In the order in which scrolling would bring them in sight. */
function nearest(rows: readonly HTMLElement[]): HTMLElement[] {
  const away = new Map(rows.map((row) => {
    const { top, bottom } = row.getBoundingClientRect();
    return [row, Math.max(0, -bottom, top - innerHeight)];
  }));
  return [...rows].sort((a, b) => away.get(a)! - away.get(b)!);
}
