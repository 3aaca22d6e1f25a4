// What a number of pages lacks for a binding, as package pages of the program
// tells it, with its sources; both are held to testdata/bindings.json.

/** How the pages are held together; "" is not chosen yet. */
export type Binding = "" | "saddle-stitch" | "perfect-bound" | "hard-case";

/** Those that can be chosen, in words. */
export const bindings: readonly (readonly [Binding, string])[] = [
  ["saddle-stitch", "saddle stitch"], ["perfect-bound", "perfect binding"], ["hard-case", "a hard case"],
];

export interface Lack {
  readonly more: number; // pages to add to the next number that can be bound; 0 when there is none, or nothing lacks
  readonly fewer: number; // pages to take away, likewise
  readonly words: string; // "" when nothing lacks
  readonly doubt: string; // what to ask the printer although nothing lacks
}

interface Limits {
  readonly step: number;
  readonly least: number;
  readonly most: number; // 0: no end
  readonly because: string; // why no fewer
}

const supposedCaliper = 0.135; // mm of one leaf as long as no paper is named
const saddleEasy = 60;
const thinnestGlue = 3; // mm of block

export function bindingWords(b: Binding): string {
  return bindings.find(([name]) => name === b)?.[1] ?? "";
}

function limits(b: Exclude<Binding, "">, caliper: number): Limits {
  switch (b) {
    case "saddle-stitch": return { step: 4, least: 8, most: 120, because: "the fewest for saddle stitch" };
    case "perfect-bound": {
      const leaves = Math.ceil(thinnestGlue / caliper - 1e-9);
      return { step: 2, least: 2 * leaves, most: 0, because: `the ${thinnestGlue} mm that glue needs, on leaves of ${Number(caliper.toFixed(3))} mm` };
    }
    case "hard-case": return { step: 4, least: 24, most: 0, because: "the fewest for a hard case" };
  }
}

/** What so many pages lack; caliper is the thickness of a leaf in mm, 0 where no paper is named. Nothing is ever added by itself. */
export function lacks(b: Binding, pages: number, caliper = 0): Lack {
  const nothing: Lack = { more: 0, fewer: 0, words: "", doubt: "" };
  if (b === "" || pages < 0) return nothing;
  const { step, least, most, because } = limits(b, caliper > 0 ? caliper : supposedCaliper);
  const up = Math.max(Math.ceil(pages / step) * step, least);
  const down = Math.min(Math.floor(pages / step) * step, most || Infinity);
  if (up === pages && (most === 0 || pages <= most)) {
    return b === "saddle-stitch" && pages > saddleEasy ? { ...nothing, doubt: `Above about ${saddleEasy} pages a stapled block springs open: ask the printer.` } : nothing;
  }
  const more = up - pages;
  const fewer = pages - down;
  const few = (n: number, word: string) => `${n} ${n === 1 ? "page" : "pages"} ${word} ${n === 1 ? "makes" : "make"}`;
  if (most > 0 && up > most) return { ...nothing, fewer, words: `${few(fewer, "fewer")} ${down}, the most for ${bindingWords(b)}.` };
  if (down < least) return { ...nothing, more, words: `${few(more, "more")} ${up}, ${because}.` };
  return { ...nothing, more, fewer, words: `${few(more, "more")} ${up}, ${fewer} fewer ${fewer === 1 ? "makes" : "make"} ${down}.` };
}
