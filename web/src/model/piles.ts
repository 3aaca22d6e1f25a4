// Nearly the same pictures lie on the table as a small pile, the sharpest on
// top. Nothing is taken away: opened, a pile lies there print by print.

import type { PhotoID } from "./sequence";

/** Photos that are nearly the same, the sharpest first, and in words why. */
export interface Pile {
  readonly photos: readonly PhotoID[];
  readonly words: string;
}

/** One print of the table as it is laid: alone, on top of a closed pile, or in an open one. */
export interface Laid {
  readonly photo: PhotoID;
  readonly pile?: { readonly of: readonly PhotoID[]; readonly open: boolean; readonly words: string }; // on the print that opens or closes it
  readonly among?: boolean; // further prints of an open pile
  readonly head?: { readonly key: string; readonly words: string; readonly photos: readonly PhotoID[] }; // the group that begins with this print
}

/** Lays the table's prints in piles. Of a pile, only what is on the table counts, and one print alone is none. */
export function inPiles(table: readonly PhotoID[], piles: readonly Pile[], open: ReadonlySet<PhotoID>): Laid[] {
  const lying = new Set(table);
  const of = new Map<PhotoID, { photos: PhotoID[]; words: string; open: boolean }>();
  for (const pile of piles) {
    const photos = pile.photos.filter((id) => lying.has(id) && !of.has(id));
    if (photos.length < 2) continue;
    const entry = { photos, words: pile.words, open: photos.some((id) => open.has(id)) };
    for (const id of photos) of.set(id, entry);
  }
  const laid = new Set<PhotoID>();
  return table.flatMap((photo): Laid[] => {
    const pile = of.get(photo);
    if (!pile) return [{ photo }];
    if (laid.has(pile.photos[0]!)) return [];
    laid.add(pile.photos[0]!); // where the first of them lies, the pile lies
    const [top, ...others] = pile.photos;
    const first: Laid = { photo: top!, pile: { of: pile.photos, open: pile.open, words: pile.words } };
    return pile.open ? [first, ...others.map((id) => ({ photo: id, among: true }))] : [first];
  });
}
