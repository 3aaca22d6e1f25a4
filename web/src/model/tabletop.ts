// What lies on the table in this window: how much of it is shown, in which
// order and in which piles. How prints are laid out of that is in table.ts.

import type { View } from "./beside";
import type { Use } from "./choosing";
import type { Photo } from "./facts";
import { Memo } from "./memo";
import type { Laid, Pile } from "./piles";
import { onTable, onWall, type PhotoID, type Sequence } from "./sequence";
import { lay, showingAll, showsAll, shownWords, sieved, type Showing } from "./table";

/** What of the desk the table needs. */
interface Around {
  readonly shown: Sequence;
  readonly session: { readonly sequence: Sequence };
  readonly photos: ReadonlyMap<PhotoID, Photo>;
  readonly numbers: readonly PhotoID[];
  readonly view: View;
  readonly bell: { ring(): void };
  say(words: string): void;
  setView(change: Partial<View>): void;
}

export class Tabletop {
  showing: Showing = showingAll;
  findings = 0; // counts up when the maker wants to find something
  piles: readonly Pile[] = []; // photos that are nearly the same
  private open: ReadonlySet<PhotoID> = new Set(); // piles that are open, by any photo of each
  private hung: ReadonlySet<PhotoID> = new Set(); // what is or ever was on the wall
  private readonly memo = new Memo();

  constructor(private readonly around: Around) {}

  /** The photos on the table in the order they were brought in, shown or not. */
  get photos(): Photo[] {
    const { shown, photos, numbers } = this.around;
    return this.memo.of("photos", [shown, photos], () => onTable(shown, numbers).map((id) => photos.get(id)!));
  }

  /** Those that are shown. */
  get shown(): Photo[] {
    return this.memo.of("shown", [this.photos, this.showing, this.use], () => (showsAll(this.showing) ? this.photos : sieved(this.photos, this.showing, this.use)));
  }

  /** The shown prints as they are laid: in their order, and in piles; the same list while nothing of it changed. */
  get laid(): Laid[] {
    const { order, piled } = this.around.view;
    const piles = piled ? this.piles : undefined;
    return this.memo.of("laid", [this.shown, order, piles, this.open], () => lay(this.shown, order, piles, this.open));
  }

  /** What became of photos so far, as the wall is now. */
  get use(): Use {
    const { shown } = this.around;
    return this.memo.of("use", [shown, this.hung], () => ({ wall: new Set(onWall(shown)), hung: this.hung }));
  }

  /** Shows less or more, and says how much that is. */
  show(showing: Showing): void {
    this.showing = showing;
    const all = this.photos.length;
    this.around.say(showsAll(showing) ? `All ${all} are shown.` : `${shownWords(this.shown.length, all)}.`);
    this.around.bell.ring();
  }

  /** Unfolds the table with its field to find by, which takes the focus. */
  find(): void {
    this.findings++;
    this.around.setView({ trayOpen: true });
  }

  /** What the program remembers of the wall's past. */
  learnHung(photos: readonly PhotoID[]): void {
    this.hung = new Set([...photos, ...onWall(this.around.session.sequence)]);
    this.around.bell.ring();
  }

  /** What hangs now has hung. */
  seeHung(): void {
    const now = onWall(this.around.session.sequence);
    if (!now.every((photo) => this.hung.has(photo))) this.hung = new Set([...this.hung, ...now]);
  }

  changedPiles(piles: readonly Pile[]): void {
    this.piles = piles;
    this.around.bell.ring();
  }

  /** Opens the pile a photo lies on, or closes it. */
  turnPile(photo: PhotoID): void {
    const pile = this.laid.find((l) => l.pile?.of.includes(photo))?.pile;
    if (!pile) return;
    const others = [...this.open].filter((id) => !pile.of.includes(id));
    this.open = new Set(pile.open ? others : [...others, pile.of[0]!]);
    this.around.say(pile.open ? `The pile of ${pile.of.length} is closed; ${pile.of[0]} lies on top.` : `The pile is open: ${pile.words}. ${pile.of.join(", ")}.`);
    this.around.bell.ring();
  }
}
