// How a chapter is drawn on the wall: its name above its first spread with a
// rule along the run, or, folded, a stack of paper in the run's place.

import { chapterOf, longestName, runOf } from "../model/chapter";
import type { Desk } from "../model/desk";
import type { ChapterID, Sequence } from "../model/sequence";
import { plural, runText, sentence, betweenText } from "../model/words";
import { cardAddress } from "../net/program";
import { mark, write } from "./order";

/** The strip above a spread, with the chapter's name where it begins. */
export class Heading {
  readonly el = make("div", "heading");
  private readonly name = make("div", "chapter-name");
  private readonly fold = document.createElement("button");
  private field: HTMLInputElement | undefined;
  private desk: Desk | undefined;

  constructor() {
    this.el.setAttribute("role", "gridcell");
    this.name.setAttribute("role", "button");
    this.name.tabIndex = -1;
    this.name.title = "Drag to move the whole chapter; click to choose it; double click to give it another name";
    this.fold.type = "button";
    this.fold.className = "word fold";
    this.fold.dataset.act = "fold-here";
    this.fold.tabIndex = -1; // the key y does it
    this.fold.addEventListener("click", () => this.desk?.fold(this.chapter));
    this.name.addEventListener("dblclick", (e) => {
      e.stopPropagation();
      if (!this.desk?.readOnly) this.desk?.show({ naming: { chapter: this.chapter } });
    });
  }

  private get chapter(): ChapterID {
    return Number(this.name.dataset.chapter);
  }

  /** Shows the name where a chapter begins; folded says that it lies in a stack. */
  draw(desk: Desk, q: Sequence, chapter: ChapterID, begins: boolean, folded: boolean): void {
    this.desk = desk;
    const known = chapterOf(q, chapter);
    mark(this.el, "aria-hidden", known && begins ? undefined : "true");
    if (!known || !begins) {
      this.field = undefined;
      if (this.el.firstChild) this.el.replaceChildren();
      return;
    }
    if (!this.name.isConnected && !this.field) this.el.replaceChildren(this.name, this.fold);
    const run = runOf(q, chapter)!;
    mark(this.name, "data-chapter", String(chapter));
    write(this.name, known.name);
    this.name.setAttribute("aria-label", `Chapter ${known.name}, ${runText(run)}, ${plural(run.last - run.first + 1, "spread")}${folded ? ", folded" : ""}`);
    write(this.fold, folded ? "Unfold" : "Fold");
    this.fold.setAttribute("aria-label", `${folded ? "Unfold" : "Fold"} chapter ${known.name}`);
    this.fold.setAttribute("aria-expanded", folded ? "false" : "true");
  }

  /** Shows whether the chapter is chosen, and a field where it is being named. */
  hand(desk: Desk): void {
    if (!this.el.firstChild) return;
    const chosen = isChosen(desk, this.chapter);
    mark(this.name, "data-chosen", chosen ? "" : undefined);
    mark(this.name, "aria-pressed", chosen ? "true" : "false");
    const naming = desk.naming && "chapter" in desk.naming && desk.naming.chapter === this.chapter;
    if (naming && !this.field) this.write(desk, this.name.textContent ?? "");
  }

  /** The name becomes a field: Enter or leaving it writes the name, Escape leaves it as it was. */
  private write(desk: Desk, was: string): void {
    const field = document.createElement("input");
    const { chapter } = this;
    field.type = "text";
    field.value = was;
    field.maxLength = longestName;
    field.dataset.say = "chapter";
    field.setAttribute("aria-label", "The chapter's name");
    let done = false;
    const end = (write: boolean, refocus: boolean) => {
      if (done) return;
      done = true;
      this.field = undefined;
      this.el.replaceChildren(this.name, this.fold);
      desk.show({ naming: undefined });
      if (write && field.value.trim() !== was && field.value.trim() !== "") desk.act({ want: "renameChapter", chapter, name: field.value });
      if (refocus) this.name.focus({ preventScroll: true });
    };
    field.addEventListener("keydown", (e) => {
      if (e.key !== "Enter" && e.key !== "Escape") return;
      e.preventDefault();
      e.stopPropagation();
      end(e.key === "Enter", true);
    });
    field.addEventListener("blur", () => end(true, false));
    this.field = field;
    this.el.replaceChildren(field);
    queueMicrotask(() => field.isConnected && field.select());
  }
}

/** A folded chapter: one row with its topmost picture and how much lies below. */
export class Stack {
  readonly el = make("div", "spread stack");
  readonly between = make("div", "between");
  private readonly place = make("span", "unseen");
  private readonly heading = new Heading();
  private readonly paper = make("div", "page recto");
  private readonly img = document.createElement("img");
  private readonly foot = make("div", "foot");

  constructor(readonly chapter: ChapterID) {
    this.el.setAttribute("role", "row");
    this.el.dataset.stack = String(chapter);
    for (const cell of [this.between, this.paper, this.foot]) cell.setAttribute("role", "gridcell");
    this.between.tabIndex = -1;
    this.between.append(this.place);
    this.img.alt = "";
    this.img.draggable = false;
    this.paper.append(this.img);
    this.paper.dataset.chapter = String(chapter);
    this.foot.dataset.chapter = String(chapter);
    this.el.append(this.between, this.heading.el, this.paper, this.foot);
  }

  draw(desk: Desk, q: Sequence): void {
    const { first, last } = runOf(q, this.chapter)!;
    this.between.dataset.between = String(first);
    write(this.place, sentence(betweenText(first)).slice(0, -1));
    this.heading.draw(desk, q, this.chapter, true, true);
    const top = q.spreads.slice(first, last + 1).flatMap((s) => [s.left, s.right]).find((id) => id !== 0) ?? 0;
    const photo = desk.photos.get(top);
    this.img.hidden = !photo;
    const source = photo ? cardAddress(desk.title.id, top, 400) : "";
    if (photo && this.img.getAttribute("src") !== source) {
      this.img.src = source;
      this.img.style.setProperty("--r", String(photo.width / photo.height));
    }
    write(this.foot, `${plural(last - first + 1, "spread")}, ${runText({ first, last })}`);
  }

  hand(desk: Desk): void {
    this.heading.hand(desk);
    mark(this.el, "data-chosen", isChosen(desk, this.chapter) ? "" : undefined);
    mark(this.between, "aria-hidden", desk.hand.where ? undefined : "true");
  }
}

function isChosen({ hand }: Desk, chapter: ChapterID): boolean {
  return hand.chosen?.kind === "chapter" && hand.chosen.chapter === chapter;
}

function make(kind: string, name: string): HTMLElement {
  const el = document.createElement(kind);
  el.className = name;
  return el;
}
