// How much each kind of evidence, or one relation of it, counts when photos are
// looked for that could face each other.

export const kinds = ["colour", "place", "time", "feeling", "form"] as const;
export type Kind = (typeof kinds)[number];

/** By kind or relation, 0..1. What is not named does not count. */
export type Balance = Readonly<Record<string, number>>;

export interface Relation {
  readonly name: string; // as the program calls it
  readonly words: string; // as the maker reads it
}

/** What each kind is made of; each can be used alone. */
export const relations: Readonly<Record<Kind, readonly Relation[]>> = {
  colour: [
    { name: "world", words: "the same world" },
    { name: "accent", words: "a shared accent" },
    { name: "opposites", words: "opposites" },
    { name: "tone", words: "tone: lights and darks alike" },
    { name: "mixed", words: "colour beside black and white" },
  ],
  place: [
    { name: "distance", words: "how near" },
    { name: "town", words: "the same named place" },
    { name: "stretch", words: "the same stretch of the way" },
  ],
  time: [
    { name: "gap", words: "how soon after" },
    { name: "sitting", words: "the same sitting" },
    { name: "day", words: "the same day" },
    { name: "hour", words: "the same hour of another day" },
    { name: "light", words: "the same light" },
  ],
  feeling: [
    { name: "words", words: "your own words" },
    { name: "mood", words: "measured mood alike" },
    { name: "contrast", words: "measured mood opposed" },
  ],
  form: [
    { name: "shape", words: "shapes that can face each other" },
    { name: "lines", words: "lines that meet at the gutter" },
    { name: "lead", words: "weight that leads in" },
    { name: "reach", words: "wide beside close" },
    { name: "focus", words: "sharp beside soft" },
    { name: "gaze", words: "looks that meet" },
  ],
};

/** "the same world" for "world"; a kind is called what it is. */
export function nameWords(name: string): string {
  for (const kind of kinds) {
    const found = relations[kind].find((r) => r.name === name);
    if (found) return found.words;
  }
  return name;
}

/** How a title weighs them; a kind it never weighed counts fully. */
export function balanceOf(weights: Balance): Balance {
  return { ...allAlike, ...weights };
}

export const allAlike: Balance = Object.fromEntries(kinds.map((kind) => [kind, 1]));

/** One kind, or one relation, and nothing else. */
export function only(name: string): Balance {
  return { ...Object.fromEntries(kinds.map((kind) => [kind, 0])), [name]: 1 };
}

export function isOnly(balance: Balance, name: string): boolean {
  return Object.entries(balance).every(([other, weight]) => (weight > 0) === (other === name)) && (balance[name] ?? 0) > 0;
}

/** Whether feelings are looked for that are alike, or deliberately opposed. */
export type Manner = "likeness" | "contrast";

export function mannerOf(balance: Balance): Manner {
  return balance["contrast"] !== undefined && (balance["feeling"] ?? 0) === 0 ? "contrast" : "likeness";
}

/** The name that the slider of a kind moves. */
export function slides(balance: Balance, kind: Kind): string {
  return kind === "feeling" && mannerOf(balance) === "contrast" ? "contrast" : kind;
}

/** The same weight on the other manner of feeling. */
export function turn(balance: Balance, manner: Manner): Balance {
  const { contrast, ...rest } = balance;
  if (manner === mannerOf(balance)) return balance;
  return manner === "contrast" ? { ...rest, feeling: 0, contrast: balance["feeling"] ?? 0 } : { ...rest, feeling: contrast ?? 0 };
}
