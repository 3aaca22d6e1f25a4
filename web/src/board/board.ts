// The board: wall, table and box with all their cards, kept in step with the
// desk. It draws; what is done with hand, finger and keys is bound to it.

import type { Desk } from "../model/desk";
import { carriedIn, chosenPhotos } from "../model/hand";
import { missing } from "../model/facts";
import type { PhotoID, Sequence } from "../model/sequence";
import { lyingText } from "../model/words";
import { Ahead } from "./ahead";
import { Aim } from "./aim";
import { Card, Near } from "./card";
import { bindChoose } from "./choose";
import { bindDrag } from "./drag";
import { bindFrame } from "./frame";
import { glide } from "./flip";
import { bindKeys } from "./keys";
import { bindLens, Lens } from "./lens";
import { mark } from "./order";
import { bindScroll } from "./scroll";
import { Tray } from "./tray";
import { Wall } from "./wall";
import { oneTabStop, regain, standing } from "./walk";

/** What the board was drawn from: anything else means laying it out anew. */
interface Drawn {
  readonly sequence: Sequence;
  readonly known: unknown;
  readonly photos: number;
  readonly laid: unknown;
  readonly folded: unknown;
}

const fewEnough = 600; // photos whose small pictures are all fetched at once; of more, those in sight come first. No source

export class Board {
  readonly wall = new Wall();
  readonly table = new Tray("table", "The table");
  readonly box = new Tray("box", "The box");
  private readonly cards = new Map<PhotoID, Card>();
  private readonly near = new Near(this.cards, [this.table.el, this.box.el]);
  private readonly aim = new Aim();
  private readonly ahead: Ahead;
  private readonly lens: Lens;
  private readonly unbind: (() => void)[];
  private drawn: Drawn | undefined;
  private chosen: ReadonlySet<PhotoID> = new Set();

  constructor(private readonly desk: Desk, root: HTMLElement) {
    this.lens = new Lens(desk, this.wall.el, (page) => this.sharpen(page));
    this.ahead = new Ahead(this.wall.el, desk.bell);
    this.unbind = [bindLens(root, this.lens), bindDrag(root, desk, this.aim), bindFrame(root, desk), bindKeys(root, desk), bindChoose(root, desk), bindScroll(desk.bell), desk.bell.on(() => this.draw())];
    this.draw();
  }

  close(): void {
    for (const unbind of this.unbind) unbind();
    this.near.disconnect();
    this.ahead.close();
  }

  /** Shows the desk as it is now. */
  draw(): void {
    const { desk } = this;
    const sequence = desk.shown;
    const before = this.drawn;
    const now = { sequence, known: desk.photos, photos: desk.photos.size, laid: desk.table.laid, folded: desk.folded };
    const moved = !before || before.sequence !== sequence || before.known !== now.known || before.laid !== now.laid || before.folded !== now.folded;
    this.drawn = now;
    if (moved) this.layOut(sequence, before !== undefined && before.photos === now.photos);
    else this.wall.hand(desk);
    this.lens.draw();
    this.markHand(moved);
    this.ahead.look();
  }

  /** Pages have another size: near cards may want more pixels. */
  private sharpen(page: number): void {
    this.near.page = page;
    for (const card of this.cards.values()) card.sharpen(page);
  }

  private layOut(sequence: Sequence, gliding: boolean): void {
    const { desk } = this;
    const was = standing();
    const cards = [...this.cards.values()].filter((card) => card.near).map((card) => card.el);
    const glideOn = gliding ? glide([...this.wall.movable, ...cards]) : () => {};
    const cardOf = (photo: PhotoID) => this.card(photo)?.el;
    this.wall.draw(desk, cardOf);
    this.table.draw(desk.table.laid, cardOf, (photo) => desk.table.turnPile(photo), (photos) => desk.chooseAll(photos));
    this.box.draw(sequence.box.filter((photo) => desk.photos.has(photo)).map((photo) => ({ photo })), cardOf);
    for (const place of [this.wall, this.table, this.box]) place.sweep();
    for (const [photo, card] of this.cards) {
      const known = desk.photos.get(photo)!;
      const lost = missing(known);
      mark(card.el, "data-missing", lost ? "" : undefined);
      card.name(`Photo ${photo}, ${known.name}, ${lyingText(sequence, photo)}${lost ? ", original missing" : ""}${known.note ? ", noted" : ""}`);
      mark(card.el, "data-noted", known.note ? "" : undefined);
    }
    for (const region of [this.wall.el, this.table.el, this.box.el]) oneTabStop(region);
    regain(was);
    this.table.unveil();
    glideOn();
    this.near.watch(this.wall.movable); // asks where cards lie: at the end, or all would be laid out twice
  }

  private card(photo: PhotoID): Card | undefined {
    let card = this.cards.get(photo);
    const known = this.desk.photos.get(photo);
    if (!card && known) {
      card = new Card(this.desk.title.id, known, this.desk.photos.size <= fewEnough);
      this.cards.set(photo, card);
    }
    return card;
  }

  private markHand(anew: boolean): void {
    const { hand, readOnly } = this.desk;
    const chosen = new Set(chosenPhotos(hand));
    const differ = anew ? this.cards.keys() : [...chosen, ...this.chosen];
    for (const photo of differ) {
      const el = this.cards.get(photo)?.el;
      if (!el) continue;
      mark(el, "data-chosen", chosen.has(photo) ? "" : undefined);
      mark(el, "aria-pressed", chosen.has(photo) ? "true" : "false");
    }
    this.chosen = chosen;
    mark(document.body, "data-read-only", readOnly ? "" : undefined);
    const carried = hand.where ? carriedIn(hand) : undefined;
    if (carried && hand.aim) {
      document.body.dataset.placing = carried.kind;
      this.aim.show(this.desk, carried, hand.aim);
    } else if (!document.querySelector(".ghost")) {
      delete document.body.dataset.placing;
      this.aim.clear();
    }
  }
}
