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

  constructor(private title: number, photo: api.Photo) {
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
    img.src = cardAddress(title, photo.number, 160);
    number.className = "number";
    number.textContent = String(photo.number);
    number.setAttribute("aria-hidden", "true"); // said in the card's name
    el.append(img, number);
  }

  get photo(): PhotoID {
    return Number(this.el.dataset.photo);
  }

  /** Shows as many pixels as the place it lies in can use; the small picture stays until the larger one is there. */
  sharpen(): void {
    if (!this.near) return;
    const box = this.img.getBoundingClientRect();
    const need = Math.max(box.width, box.height) * devicePixelRatio;
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

/** Tells cards when they come near what is in sight, one screen ahead. */
export function watchNear(cards: ReadonlyMap<PhotoID, Card>): IntersectionObserver {
  return new IntersectionObserver((entries) => {
    for (const entry of entries) {
      const card = cards.get(Number((entry.target as HTMLElement).dataset.photo));
      if (!card) continue;
      card.near = entry.isIntersecting;
      card.sharpen();
    }
  }, { rootMargin: "60% 0px" });
}
