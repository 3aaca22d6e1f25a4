import type * as api from "../net/api";
import { cardAddress } from "../net/program";
import type { PhotoID } from "../model/sequence";
import { tall } from "../model/steps";

type Size = 160 | 400 | 1600;

const inset = 0.075; // around a picture on its page, in widths of a page

/**
 * One photo as it is drawn on the wall, the table and in the box. It lives as
 * long as the photo and moves as one piece: picture, focus and all.
 */
export class Card {
  readonly el = document.createElement("div");
  private readonly img = document.createElement("img");
  private readonly number = document.createElement("span");
  private readonly ratio: number; // width to height
  private size: Size = 160;
  near = false;

  constructor(private title: number, photo: api.Photo, atOnce: boolean) {
    const { el, img, number } = this;
    el.className = "card";
    el.dataset.photo = String(photo.number);
    el.setAttribute("role", "button");
    el.tabIndex = -1;
    this.ratio = photo.height > 0 ? photo.width / photo.height : 1;
    el.style.setProperty("--r", String(this.ratio));
    img.alt = ""; // the card's own name says what it is
    img.draggable = false;
    img.decoding = "async";
    img.width = 160;
    img.height = photo.width > 0 ? Math.round((160 * photo.height) / photo.width) : 160;
    if (atOnce) this.fetch();
    number.className = "number";
    number.textContent = String(photo.number);
    number.setAttribute("aria-hidden", "true"); // said in the card's name
    el.append(img, number);
  }

  get photo(): PhotoID {
    return Number(this.el.dataset.photo);
  }

  get fetched(): boolean {
    return this.img.hasAttribute("src");
  }

  /** Fetches the small picture, unless that was done. */
  fetch(): void {
    if (!this.fetched) this.img.src = cardAddress(this.title, this.photo, 160);
  }

  /** Shows as many pixels as the place it lies in can use, on pages so wide; the small picture stays until the larger one is there. */
  sharpen(page: number): void {
    if (!this.near) return;
    const need = this.longer(page) * devicePixelRatio;
    const size: Size = need <= 170 ? 160 : need <= 560 ? 400 : 1600;
    if (size <= this.size) return;
    this.size = size;
    const larger = new Image();
    larger.src = cardAddress(this.title, this.photo, size);
    larger.decode().then(() => {
      if (this.size === size) this.img.src = larger.src;
    }, () => {
      this.size = 160; // the card can be made again any time: try when it next comes near
    });
  }

  /**
   * The picture's longer side as it lies, CSS pixels, not as it is drawn while it
   * glides there. On the wall that follows from the page's width, as wall.css has
   * it: to ask would lay out, one by one, spreads that are far from sight.
   */
  private longer(page: number): number {
    const cell = this.el.parentElement;
    if (!cell?.classList.contains("page")) return Math.max(this.img.offsetWidth, this.img.offsetHeight);
    const pages = cell.parentElement!.hasAttribute("data-across") ? 2 : 1;
    const width = Math.min(pages * page - 2 * inset * page, (tall - 2.7 * inset) * page * this.ratio);
    return Math.max(width, width / this.ratio);
  }

  name(words: string): void {
    if (this.el.getAttribute("aria-label") !== words) this.el.setAttribute("aria-label", words);
  }
}

const pause = 100; // ms between two looks at the trays' prints; no source
const few = 12; // pictures of prints out of sight that are fetched in each pause, so that those in sight never wait for long

/**
 * Tells cards, and places between spreads, when they come near what is in sight.
 * The wall's spreads are watched a little more than half a screen ahead; to watch each of a thousand prints as well costs
 * several milliseconds a frame (and so does the browser's own lazy loading), so
 * the trays are looked at now and then while they are scrolled.
 */
export class Near {
  private readonly observer: IntersectionObserver;
  private watched = new Set<Element>(); // spreads
  private readonly near = new Set<Element>(); // those of them near what is in sight
  private timer = 0;
  private filling = 0;
  page = 0; // width of the wall's pages, CSS pixels, once they are laid out
  private readonly scrolled = () => {
    this.timer ||= window.setTimeout(() => this.look(), pause);
  };

  constructor(private readonly cards: ReadonlyMap<PhotoID, Card>, private readonly trays: readonly HTMLElement[]) {
    this.observer = new IntersectionObserver((entries) => {
      for (const { target, isIntersecting } of entries) {
        if (isIntersecting) this.near.add(target);
        else this.near.delete(target);
        this.tellRow(target);
      }
    }, { rootMargin: "60% 0px" });
    for (const tray of trays) tray.addEventListener("scroll", this.scrolled, { passive: true });
  }

  /** Watches what there is now; rows are the wall's spreads. */
  watch(rows: Iterable<Element>): void {
    const gone = this.watched;
    this.watched = new Set(rows);
    for (const row of this.watched) {
      if (gone.delete(row)) this.tellRow(row); // its cards may be others
      else this.observer.observe(row);
    }
    for (const row of gone) {
      this.observer.unobserve(row);
      this.near.delete(row);
    }
    this.scrolled();
    this.fill();
  }

  disconnect(): void {
    clearTimeout(this.timer);
    clearTimeout(this.filling);
    this.observer.disconnect();
    for (const tray of this.trays) tray.removeEventListener("scroll", this.scrolled);
  }

  /** Fetches what is not in sight little by little. */
  private fill(): void {
    clearTimeout(this.filling);
    const wanting = [...this.cards.values()].filter((card) => !card.fetched).slice(0, few);
    if (wanting.length === 0) return;
    this.filling = window.setTimeout(() => {
      for (const card of wanting) card.fetch();
      this.fill();
    }, pause);
  }

  private look(): void {
    this.timer = 0;
    for (const tray of this.trays) {
      const [top, height] = [tray.scrollTop, tray.clientHeight];
      for (const print of tray.querySelectorAll<HTMLElement>(".print")) {
        const near = print.offsetTop < top + 2 * height && print.offsetTop + print.offsetHeight > top - height;
        this.tell(print.querySelector<HTMLElement>("[data-photo]"), near);
      }
    }
  }

  private tellRow(row: Element): void {
    row.querySelector(".between")?.classList.toggle("in-reach", this.near.has(row));
    for (const card of row.querySelectorAll<HTMLElement>("[data-photo]")) this.tell(card, this.near.has(row));
  }

  private tell(el: HTMLElement | null, near: boolean): void {
    const card = this.cards.get(Number(el?.dataset.photo ?? 0));
    if (!card) return;
    card.near = near;
    if (near) card.fetch();
    card.sharpen(this.page);
  }
}
