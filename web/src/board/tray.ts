import type { Laid } from "../model/piles";
import type { PhotoID } from "../model/sequence";
import { arrange, mark, move, sweep, write } from "./order";
import { Veil } from "./veil";

const atOnce = 150; // prints laid anew that are drawn in one go; more would be felt. No source
const eachFrame = 30; // of the others

/** Loose prints: the table, or the box. */
export class Tray {
  readonly el = document.createElement("div");
  private readonly row = document.createElement("div");
  private prints = new Map<PhotoID, HTMLElement>();
  private heads = new Map<string, HTMLElement>();
  private readonly veil = new Veil(eachFrame);

  constructor(readonly region: "table" | "box", name: string) {
    this.el.className = `prints ${region}`;
    this.el.dataset.region = region;
    this.el.setAttribute("role", "grid");
    this.el.setAttribute("aria-label", name);
    this.row.className = "print-row";
    this.row.setAttribute("role", "row");
    this.el.append(this.row);
  }

  get movable(): HTMLElement[] {
    return [...this.prints.values()];
  }

  /** Lays prints in this order; turn opens or closes the pile of a photo, choose takes a whole group. */
  draw(laid: readonly Laid[], cardOf: (photo: PhotoID) => HTMLElement | undefined, turn: (photo: PhotoID) => void = () => {}, choose: (photos: readonly PhotoID[]) => void = () => {}): void {
    const photos = laid.map((l) => l.photo);
    const there = new Set(photos);
    for (const photo of [...this.prints.keys()]) if (!there.has(photo)) this.prints.delete(photo);
    const cells = photos.map((photo) => this.print(photo));
    const keys = new Set(laid.map((l) => l.head?.key));
    for (const key of [...this.heads.keys()]) if (!keys.has(key)) this.heads.delete(key);
    const moved = arrange(this.row, laid.flatMap(({ head }, i) => (head ? [this.head(head, choose), cells[i]!] : [cells[i]!])));
    photos.forEach((photo, i) => {
      const card = cardOf(photo);
      if (card && card.parentElement !== cells[i]) {
        move(cells[i]!, card, cells[i]!.firstChild);
        cells[i]!.style.setProperty("--r", card.style.getPropertyValue("--r")); // so that its width is known before it is drawn
      }
      heap(cells[i]!, laid[i]!, turn);
    });
    this.row.hidden = photos.length === 0; // a grid's row must not be empty
    if (moved.length > atOnce) this.veil.over(this.notDrawn(moved));
  }

  /** What is not to be drawn at once after these were laid anew, in the order it lies in. */
  private notDrawn(moved: readonly HTMLElement[]): HTMLElement[] {
    const anew = new Set([...this.veil.veiled, ...moved].filter((el) => el.matches('.print:not(:has([tabindex="0"]))'))); // the focus must find its place
    return [...this.row.children].filter((el): el is HTMLElement => anew.has(el as HTMLElement));
  }

  /** Draws what is in sight, and goes on with the rest. */
  unveil(): void {
    const under = this.veil.veiled;
    if (under.length === 0) return;
    const [top, height] = [this.el.scrollTop, this.el.clientHeight];
    const end = under.findIndex((el) => el.offsetTop > top + 2 * height); // they lie in this order, and asking each costs
    this.veil.lift(under.slice(0, end < 0 ? undefined : end).filter((el) => el.offsetTop + el.offsetHeight > top - height));
  }

  /** Takes away the places of prints that are gone, once they lie elsewhere. */
  sweep(): void {
    sweep(this.row, new Set([...this.prints.values(), ...this.heads.values()]));
  }

  /** The quiet words before a group's first print; pressing them chooses the group. */
  private head({ key, words, photos }: NonNullable<Laid["head"]>, choose: (photos: readonly PhotoID[]) => void): HTMLElement {
    let el = this.heads.get(key);
    if (!el) {
      el = document.createElement("div");
      el.className = "print-head";
      el.setAttribute("role", "rowheader");
      const button = document.createElement("button");
      button.type = "button";
      button.dataset.act = "choose-group";
      button.tabIndex = -1; // the table keeps its one tab stop; "Choose by" does the same from the keyboard
      button.append(document.createElement("span"), document.createElement("b"));
      el.append(button);
      this.heads.set(key, el);
    }
    const button = el.querySelector("button")!;
    const [name, number] = button.children as unknown as [HTMLElement, HTMLElement];
    write(name, words);
    const many = photos.length === 1 ? "" : String(photos.length);
    write(number, many);
    button.title = `${words}: choose ${photos.length === 1 ? "it" : `all ${photos.length}`}`;
    button.onclick = () => choose(photos);
    return el;
  }

  private print(photo: PhotoID): HTMLElement {
    let cell = this.prints.get(photo);
    if (!cell) {
      cell = document.createElement("div");
      cell.className = "print";
      cell.setAttribute("role", "gridcell");
      // Loose prints lie a little askew, each always by the same angle.
      cell.style.setProperty("--askew", `${(((photo * 37) % 17) / 8 - 1).toFixed(2)}deg`);
      this.prints.set(photo, cell);
    }
    return cell;
  }
}

/** Shows a print as the top of a pile, or as one of an open pile. */
function heap(cell: HTMLElement, { photo, pile, among }: Laid, turn: (photo: PhotoID) => void): void {
  mark(cell, "data-pile", pile ? (pile.open ? "open" : String(Math.min(pile.of.length, 4))) : among ? "among" : undefined);
  mark(cell, "data-of", pile && !pile.open ? pile.of.join(" ") : undefined);
  let button = cell.querySelector<HTMLButtonElement>(":scope > button");
  if (!pile) return button?.remove();
  if (!button) {
    button = document.createElement("button");
    button.type = "button";
    button.className = "pile-word";
    button.dataset.act = "pile";
    button.tabIndex = -1; // the card has a key for it, and the table keeps its one tab stop
    cell.append(button);
  }
  const words = pile.open ? "close the pile" : `${pile.of.length} alike`;
  write(button, words);
  button.title = pile.words;
  button.setAttribute("aria-expanded", String(pile.open));
  button.onclick = () => turn(photo);
}
