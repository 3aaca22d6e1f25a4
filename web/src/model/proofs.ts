// How rounds of proofs and what photographs of them tell are put on the screen.

import type * as api from "../net/api";

/** The verdicts in the order they are offered. */
export const verdicts = [["", "undecided"], ["again", "another proof"], ["go with changes", "print, once it is changed"], ["go", "print"]] as const;

/** A day as the program writes it, by the maker's own clock. */
export function dayOf(at: Date): string {
  return `${at.getFullYear()}-${String(at.getMonth() + 1).padStart(2, "0")}-${String(at.getDate()).padStart(2, "0")}`;
}

const verdictWords = (verdict: api.Round["verdict"]): string => verdicts.find(([v]) => v === verdict)![1];

/** "Proof 2: print": a round where its printer is named already. */
export function proofWords({ round, verdict }: api.ProofFrom): string {
  return `Proof ${round}: ${verdictWords(verdict)}`;
}

/** What a round is called. */
export function roundWords(number: number, round: api.Round): string {
  return [`Round ${number}`, round.date, round.printer, round.verdict && verdictWords(round.verdict)].filter(Boolean).join(", ");
}

/** A figure with one decimal. */
export const figure = (v: number) => v.toFixed(1);

/** A figure with one decimal and its sign; nothing is +0.0 or −0.0. */
export function signed(v: number): string {
  const text = Math.abs(v).toFixed(1);
  if (text === "0.0") return text;
  return (v > 0 ? "+" : "−") + text;
}

/** The zones that were measured, as rows: L*, a*, b*, ΔE00, unsure by, share. */
export function rowsOf(m: api.Measurement): { name: string; figures: string[] }[] {
  return m.zones.filter((z) => z.share > 0).map((z) => ({
    name: z.name,
    figures: [signed(z.shift.l), signed(z.shift.a), signed(z.shift.b), figure(z.deltaE), `${figure(z.unsure.l)} L*, ${figure(z.unsure.ab)} a* b*`, `${Math.round(z.share * 100)} %`],
  }));
}

/** What is said of a grey card before it is pointed at. One that was proposed is never used unasked. */
export function cardWords(m: api.Measurement): string {
  if (m.base === "card") return "The grey card lies elsewhere";
  return m.card ? "There may be a grey card in it" : "There is a grey card in it";
}

/** The page's outline in hundredths of the photograph. */
export function outline(corners: readonly api.Point[]): string {
  return corners.map((c) => `${(c.x * 100).toFixed(2)},${(c.y * 100).toFixed(2)}`).join(" ");
}

export interface Field {
  readonly x: number;
  readonly y: number;
  readonly deltaE: number;
  readonly shade: string; // a grey: photographs are judged beside it
  readonly ink: string; // of the figure on it
  readonly words: string;
}

const darkestAt = 8; // ΔE00 from which a field is as dark as any

/** The fields of a map that were measured. */
export function mapFields(map: api.Map): Field[] {
  return map.cells.flatMap((cell, i) => {
    if (cell.patches === 0) return [];
    const lightness = Math.round(96 - 66 * Math.min(cell.deltaE / darkestAt, 1));
    return [{
      x: i % map.columns, y: Math.floor(i / map.columns), deltaE: cell.deltaE, shade: `hsl(0 0% ${lightness}%)`, ink: lightness > 55 ? "#000" : "#fff",
      words: `L* ${signed(cell.shift.l)}, a* ${signed(cell.shift.a)}, b* ${signed(cell.shift.b)}`,
    }];
  });
}
