// The photos of a title as they are known now: as the program last told them,
// with what the maker has stated and the program has not yet confirmed.

import type * as api from "../net/api";
import type { Statement } from "./change";
import { stated, type Photo } from "./facts";
import type { PhotoID } from "./sequence";

export class Catalogue {
  private told = new Map<PhotoID, Photo>();
  private statedAt = new Map<string, number>(); // by photo and fact: the wall's revision that last stated it
  private news = false; // something was told that photos do not show yet
  private ahead = false; // photos show what is not yet confirmed
  photos: ReadonlyMap<PhotoID, Photo> = this.told;

  constructor(photos: readonly Photo[]) {
    this.replace(photos);
  }

  /** All photos, fetched anew. */
  replace(photos: readonly Photo[]): void {
    for (const photo of photos) this.told.set(photo.number, photo);
    this.photos = new Map(this.told);
    this.ahead = this.news = false;
  }

  arrived(photo: Photo): void {
    this.told.set(photo.number, photo);
    this.photos = new Map(this.photos).set(photo.number, photo);
  }

  /**
   * What a confirmed change stated, with the words for its places. Answer and
   * event tell of the same change, and in either order: an older statement
   * never undoes a newer one.
   */
  learn(says: readonly Statement[], labels: Readonly<Record<string, string>>, revision: number): void {
    for (const { photo, fact, now } of says) {
      const known = this.told.get(photo);
      const key = `${photo} ${fact}`;
      if (!known || (this.statedAt.get(key) ?? -1) > revision) continue;
      this.statedAt.set(key, revision);
      const after = stated(known, fact, now as api.Value);
      this.news = true;
      this.told.set(photo, fact === "where" ? { ...after, label: labels[photo] ?? "" } : after);
    }
  }

  /** Shows what is told with what is still on its way; the same map as before when neither is new. */
  show(waiting: readonly Statement[]): void {
    if (!this.news && !this.ahead && waiting.length === 0) return;
    this.news = false;
    this.ahead = waiting.length > 0;
    const photos = new Map(this.told);
    for (const { photo, fact, now } of waiting) {
      const known = photos.get(photo);
      if (known) photos.set(photo, stated(known, fact, now as api.Value));
    }
    this.photos = photos;
  }
}
