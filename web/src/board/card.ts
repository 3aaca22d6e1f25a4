import type * as api from "../net/api";
import { cardAddress } from "../net/program";
import type { PhotoID } from "../model/sequence";

type Size = 160 | 400 | 1600;

/**
 * One photo as it is drawn on the wall, the table and in the box. It lives as
 * long as the photo and moves as one piece: picture, focus and all.
 */
export class Card {
  readonly el = document.createElement("div");
  private readonly img = document.createElement("img");
  private readonly number = document.createElement("span");
  private size: Size = 160;
  near = false;

  constructor(private title: number, photo: api.Photo, atOnce: boolean) {
    const { el, img, number } = this;
    el.className = "card";
    el.dataset.photo = String(photo.number);
    el.setAttribute("role", "button");
    el.tabIndex = -1;
    el.style.setProperty("--r", String(photo.height > 0 ? photo.width / photo.height : 1));
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

  /** Shows as many pixels as the place it lies in can use; the small picture stays until the larger one is there. */
  sharpen(): void {
    if (!this.near) return;
    const need = Math.max(this.img.offsetWidth, this.img.offsetHeight) * devicePixelRatio; // as it lies, not as it is drawn while it glides there
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

  name(words: string): void {
    if (this.el.getAttribute("aria-label") !== words) this.el.setAttribute("aria-label", words);
  }
}

const pause = 100; // ms between two looks at the trays' prints; no source
const few = 12; // pictures of prints out of sight that are fetched in each pause, so that those in sight never wait for long

/**
 * Tells cards when they come near what is in sight. The wall's spreads are
 * watched one screen ahead; to watch each of a thousand prints as well costs
 * several milliseconds a frame (and so does the browser's own lazy loading), so
 * the trays are looked at now and then while they are scrolled.
 */
export class Near {
  private readonly observer: IntersectionObserver;
  private watched = new Set<Element>(); // spreads
  private readonly near = new Set<Element>(); // those of them near what is in sight
  private timer = 0;
  private filling = 0;
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
    for (const card of row.querySelectorAll<HTMLElement>("[data-photo]")) this.tell(card, this.near.has(row));
  }

  private tell(el: HTMLElement | null, near: boolean): void {
    const card = this.cards.get(Number(el?.dataset.photo ?? 0));
    if (!card) return;
    card.near = near;
    if (near) card.fetch();
    card.sharpen();
  }
}
