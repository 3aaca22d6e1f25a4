// Finding photos by what is written of them: number, file name, caption, note,
// roll, place and feeling. Accents and case do not count, in any script.

import type { Photo } from "./facts";
import type { PhotoID } from "./sequence";

/** What was typed into the field, understood. */
export type Query =
  | { readonly is: "numbers"; readonly ranges: readonly (readonly [number, number])[] } // "12-20", "3, 7, 9"
  | { readonly is: "words"; readonly terms: readonly string[] }; // all of them must be there

/** Reads what was typed; undefined when it asks for nothing. */
export function readQuery(typed: string): Query | undefined {
  const text = typed.trim();
  if (text === "") return undefined;
  if (/^\d+(\s*[-–]\s*\d+)?(\s*[,;]\s*\d+(\s*[-–]\s*\d+)?)*[,;]?$/.test(text) && !/^\d+$/.test(text)) {
    const ranges = text.split(/[,;]/).filter((part) => part.trim() !== "").map((part) => {
      const [from, to = from] = part.split(/[-–]/).map(Number);
      return [Math.min(from!, to!), Math.max(from!, to!)] as const;
    });
    return { is: "numbers", ranges };
  }
  const terms = fold(text).split(/\s+/).filter((term) => term !== "");
  return terms.length === 0 ? undefined : { is: "words", terms };
}

/** Whether the photo is what was asked for. note is what the maker wrote on the two of its spread. */
export function answers(p: Photo, query: Query, note = ""): boolean {
  if (query.is === "numbers") return query.ranges.some(([from, to]) => p.number >= from && p.number <= to);
  const words = written(p);
  const noted = note === "" ? "" : fold(note);
  return query.terms.every((term) => (/^\d+$/.test(term) ? numbered(p.number, words, noted, term) : words.includes(term) || noted.includes(term)));
}

/** A number means the photo's, or one that stands alone in what is written: "12" finds IMG_0012, and not 2012. */
function numbered(photo: PhotoID, words: string, noted: string, term: string): boolean {
  if (Number(term) === photo) return true;
  const alone = new RegExp(`(?<!\\d)0*${term.replace(/^0+(?=\d)/, "")}(?!\\d)`);
  return alone.test(words) || (noted !== "" && alone.test(noted));
}

const known = new WeakMap<Photo, string>();

/** All that is written of a photo, folded; kept as long as the photo is the same. */
function written(p: Photo): string {
  let words = known.get(p);
  if (words === undefined) {
    words = fold([p.name, p.caption, p.roll && `roll ${p.roll}`, p.frame && `frame ${p.frame}`, p.label ?? "", p.note ?? "", ...(p.feeling ?? [])].filter(Boolean).join("\n"));
    known.set(p, words);
  }
  return words;
}

// Letters that Unicode does not take apart into a base and its mark.
const others: Readonly<Record<string, string>> = { ß: "ss", æ: "ae", œ: "oe", ø: "o", đ: "d", ð: "d", ł: "l", ħ: "h", ı: "i", þ: "th" };

/** Words without case and accents: "Šibenik" and "sibenik" are one. */
export function fold(text: string): string {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/[ßæœøđðłħıþ]/g, (letter) => others[letter]!);
}
