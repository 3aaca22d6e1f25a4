import type { Desk } from "../model/desk";
import { closing, opening, paired, type ChapterID, type Page, type PhotoID, type Sequence, type Spread, type SpreadID } from "../model/sequence";
import { betweenText, pageLabel, sentence } from "../model/words";
import { Heading, Stack } from "./chapter";
import { arrange, mark, move, sweep, write } from "./order";

/** A row of the wall: a spread, or the opening or closing page alone. */
class Row {
  readonly el = div("spread", "row");
  readonly heading = new Heading();
  readonly between: HTMLElement | undefined;
  readonly cells: HTMLElement[];
  private readonly foot = div("foot", "gridcell");
  private readonly left = span("page-number");
  private readonly note = span("note");
  private readonly right = span("page-number");
  private readonly said = span("unseen"); // not a label: that would have to hold all words that are seen
  private readonly place = span("unseen"); // says where the place before it is

  constructor(readonly id: SpreadID, readonly pages: readonly Page[]) {
    const kind = pages[0]!.side;
    this.el.dataset.spread = String(id);
    if (id === 0) this.el.classList.add(kind);
    this.cells = pages.map((page) => {
      const cell = div(`page ${page.side === "left" || page.side === "closing" ? "verso" : "recto"}`, "gridcell");
      cell.dataset.page = page.side;
      cell.dataset.spread = String(id);
      return cell;
    });
    if (kind !== "opening") {
      this.between = div("between", "gridcell");
      this.between.tabIndex = -1;
      this.between.append(this.place);
      this.el.append(this.between);
    }
    for (const seen of [this.left, this.note, this.right]) seen.setAttribute("aria-hidden", "true");
    this.foot.append(this.said, this.left, this.note, this.right);
    if (id !== 0) this.el.append(this.heading.el);
    this.el.append(...this.cells, this.foot);
    if (id !== 0) {
      this.foot.dataset.handle = String(id);
      this.foot.tabIndex = -1;
    }
  }

  /** Shows whether the row is chosen. */
  choose(chosen: boolean): void {
    mark(this.el, "data-chosen", chosen ? "" : undefined);
  }

  /** While a place is being chosen the one before this row can be heard of. */
  offer(placing: boolean): void {
    if (this.between) mark(this.between, "aria-hidden", placing ? undefined : "true");
  }

  /** Brings the row's own words up to date; cards are laid by the wall. */
  draw(desk: Desk, q: Sequence, index: number): void {
    const spread = this.id === 0 ? undefined : q.spreads[index];
    const folded = spread !== undefined && desk.folded.has(spread.chapter);
    this.el.hidden = folded;
    this.mark(spread, folded ? undefined : index);
    this.words(q, spread, index);
    if (!spread) return;
    const [before, after] = [q.spreads[index - 1]?.chapter === spread.chapter, q.spreads[index + 1]?.chapter === spread.chapter];
    mark(this.el, "data-run", spread.chapter ? String(spread.chapter) : undefined);
    mark(this.el, "data-goes-on", spread.chapter ? [before && "before", after && "after"].filter(Boolean).join(" ") : undefined);
    this.heading.draw(desk, q, folded ? 0 : spread.chapter, !before, false);
  }

  /** place is that before the row, for what is carried; a folded row has none of its own. */
  private mark(spread: Spread | undefined, place: number | undefined): void {
    mark(this.el, "data-pinned", spread?.pinned ? "" : undefined);
    mark(this.el, "data-across", spread?.across ? "" : undefined);
    mark(this.el, "data-noted", spread?.note ? "" : undefined);
    if (!this.between) return;
    mark(this.between, "data-between", place === undefined ? undefined : String(place));
    write(this.place, sentence(betweenText(place ?? 0)).slice(0, -1));
  }

  private words(q: Sequence, spread: Spread | undefined, index: number): void {
    const numbers = this.id === 0 ? [this.pages[0]!.side === "opening" ? 1 : 2 * q.spreads.length + 2] : [2 * index + 2, 2 * index + 3];
    const alone = this.pages[0]!.side;
    write(this.left, alone === "opening" ? "" : String(numbers[0]));
    write(this.right, alone === "closing" ? "" : String(numbers.at(-1)));
    write(this.note, [spread?.pinned && "pinned", spread?.note && "noted"].filter(Boolean).join(", "));
    mark(this.foot, "title", this.id === 0 ? undefined : spread?.note || "Drag to move the whole spread; click to choose it");
    write(this.said, spread ? spreadLabel(spread, numbers) : `Page ${numbers[0]}`);
  }
}

function spreadLabel(s: Spread, numbers: readonly number[]): string {
  const lie = paired(s) ? `photos ${s.left} and ${s.right}` : s.across ? `photo ${s.left} across both` : s.left || s.right ? `photo ${s.left || s.right} alone` : "both blank";
  return `Pages ${numbers[0]} and ${numbers[1]}, ${lie}${s.pinned ? ", pinned" : ""}${s.note ? ", noted" : ""}`;
}

/** The wall: rows of pages in reading order, with the cards that lie on them. */
export class Wall {
  readonly el = div("wall", "grid");
  private rows = new Map<SpreadID, Row>();
  private chosen: SpreadID = 0;
  private placing = false;
  private stacks = new Map<ChapterID, Stack>();
  private readonly first = new Row(0, [opening]);
  private readonly last = new Row(0, [closing]);

  constructor() {
    this.el.dataset.region = "wall";
    this.el.setAttribute("aria-label", "The wall, spreads in reading order");
  }

  /** Elements that glide when they move. */
  get movable(): HTMLElement[] {
    return [...this.el.children] as HTMLElement[];
  }

  /** Takes away the rows of spreads that are gone, once their cards lie elsewhere. */
  sweep(): void {
    sweep(this.el, new Set([this.first, ...this.rows.values(), ...this.stacks.values(), this.last].map((row) => row.el)));
  }

  /** Lays every spread and every card of the sequence where it belongs. */
  draw(desk: Desk, cardOf: (photo: PhotoID) => HTMLElement | undefined): void {
    const q = desk.shown;
    const rows = q.spreads.map((s) => this.row(s.id));
    for (const id of [...this.stacks.keys()]) if (!desk.folded.has(id)) this.stacks.delete(id);
    const between = rows.flatMap((row, i) => {
      const chapter = q.spreads[i]!.chapter;
      return desk.folded.has(chapter) && chapter !== q.spreads[i - 1]?.chapter ? [this.stack(chapter), row] : [row];
    });
    arrange(this.el, [this.first, ...between, this.last].map((row) => row.el));
    mark(this.el, "data-chaptered", q.chapters.length > 0 ? "" : undefined);
    const there = new Set(q.spreads.map((s) => s.id));
    for (const id of [...this.rows.keys()]) if (!there.has(id)) this.rows.delete(id);
    this.first.draw(desk, q, -1);
    rows.forEach((row, i) => row.draw(desk, q, i));
    for (const stack of this.stacks.values()) stack.draw(desk, q);
    this.last.draw(desk, q, q.spreads.length);
    this.lay(q, undefined, this.first, cardOf);
    rows.forEach((row, i) => this.lay(q, q.spreads[i], row, cardOf));
    this.lay(q, undefined, this.last, cardOf);
    this.hand(desk, true);
  }

  /** Shows what is in the hand; anew says that rows may be others now. */
  hand(desk: Desk, anew = false): void {
    const { chosen, where } = desk.hand;
    if (desk.shown.chapters.length > 0) {
      for (const row of this.rows.values()) row.heading.hand(desk);
      for (const stack of this.stacks.values()) stack.hand(desk);
    }
    const now = chosen?.kind === "spread" ? chosen.spread : 0;
    if (anew || now !== this.chosen) for (const row of this.rows.values()) row.choose(row.id === now);
    if (anew || where !== this.placing) for (const row of [this.first, ...this.rows.values(), this.last]) row.offer(where);
    this.chosen = now;
    this.placing = where;
  }

  private lay(q: Sequence, spread: Spread | undefined, row: Row, cardOf: (photo: PhotoID) => HTMLElement | undefined): void {
    row.pages.forEach((page, i) => this.layPage(q, spread, page, row.cells[i]!, cardOf));
  }

  private layPage(q: Sequence, spread: Spread | undefined, page: Page, cell: HTMLElement, cardOf: (photo: PhotoID) => HTMLElement | undefined): void {
    const photo = page.side === "opening" ? q.opening : page.side === "closing" ? q.closing : (spread?.[page.side as "left" | "right"] ?? 0);
    const card = photo === 0 ? undefined : cardOf(photo);
    if (card && card.parentElement !== cell) move(cell, card, cell.firstChild);
    const covered = spread?.across && page.side === "right";
    mark(cell, "data-blank", card || covered ? undefined : "");
    sayBlank(cell, card ? "" : pageLabel(q, page));
    if (card || covered) cell.removeAttribute("tabindex");
    else if (!cell.hasAttribute("tabindex")) cell.tabIndex = -1;
  }

  private stack(chapter: ChapterID): Stack {
    let stack = this.stacks.get(chapter);
    if (!stack) this.stacks.set(chapter, (stack = new Stack(chapter)));
    return stack;
  }

  private row(id: SpreadID): Row {
    let row = this.rows.get(id);
    if (!row) {
      row = new Row(id, [{ spread: id, side: "left" }, { spread: id, side: "right" }]);
      this.rows.set(id, row);
    }
    return row;
  }
}

/** A blank page says what it is; words are content rather than a label, because more may be written on it. */
function sayBlank(cell: HTMLElement, words: string): void {
  let said = cell.querySelector(":scope > .unseen");
  if (words === "") said?.remove();
  else {
    if (!said) cell.append((said = span("unseen")));
    write(said, words);
  }
}

function div(name: string, role: string): HTMLElement {
  const el = document.createElement("div");
  el.className = name;
  el.setAttribute("role", role);
  return el;
}

function span(name: string): HTMLElement {
  const el = document.createElement("span");
  el.className = name;
  return el;
}
