// The turning of a block in the hand, and what the cover's figures are called:
// no DOM.

/** A side of the block that can face the reader. */
export type Facing = "front" | "spine" | "back" | "edge";

/** At which turn each side faces the reader, in degrees: the front at 0, the spine when the block is turned to the right. */
export const turns: Readonly<Record<Facing, number>> = { front: 0, spine: 90, back: 180, edge: -90 };

/** The side that faces the reader most at a turn of so many degrees. */
export function facing(degrees: number): Facing {
  const quarter = ((Math.round(degrees / 90) % 4) + 4) % 4;
  return (["front", "spine", "back", "edge"] as const)[quarter]!;
}

/** A turn as one says it. */
export function turnWords(degrees: number): string {
  const words = { front: "the front", spine: "the spine", back: "the back", edge: "the fore edge" }[facing(degrees)];
  return degrees % 90 === 0 ? words : `mostly ${words}`;
}

/** Millimetres as the maker reads them, in both units where inches are theirs. */
export function length(mm: number, unit: "mm" | "in"): string {
  const plain = (v: number, digits: number) => String(Number(v.toFixed(digits)));
  return unit === "in" ? `${plain(mm / 25.4, 3)} in` : `${plain(mm, 2)} mm`;
}

/** What a maker typed as a length in millimetres: comma and point both divide, "in" makes inches; undefined when it is none. */
export function typedLength(text: string, unit: "mm" | "in" = "mm"): number | undefined {
  const found = /^\s*(\d+(?:[.,]\d+)?|[.,]\d+)\s*(mm|cm|in|")?\s*$/i.exec(text);
  if (!found) return undefined;
  const scale = { mm: 1, cm: 10, in: 25.4, '"': 25.4 }[(found[2] ?? unit).toLowerCase()]!;
  return Number(found[1]!.replace(",", ".")) * scale;
}

/**
 * How a picture of the flat cover lies on it: with its bleed or without, whichever
 * its proportion (width over height) is nearer to; stretched when it is off by more
 * than a fiftieth even so, which an export of the right page never is.
 */
export function viewFit(proportion: number, trim: { readonly width: number; readonly height: number }, bleed: number): { bleed: number; stretched: boolean } {
  const off = (b: number) => Math.abs(Math.log((proportion * (trim.height + 2 * b)) / (trim.width + 2 * b)));
  const fits = off(0) < off(bleed) ? 0 : bleed;
  return { bleed: fits, stretched: off(fits) > Math.log(1.02) };
}
