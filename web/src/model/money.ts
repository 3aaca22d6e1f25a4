// Money as people type it and as it is shown: whole minor units, as the program
// keeps them. The rules of reading are the program's own; both are held to
// testdata/money.json.

import type * as api from "../net/api";

/** How many decimals each currency has, by its code. */
export type Decimals = ReadonlyMap<string, number>;

const largest = 1_000_000_000_000; // minor units, as in the program

/** Reads an amount as typed in Europe or America; undefined for what cannot be read, or has more decimals than the currency. */
export function readMoney(typed: string, currency: string, decimals: Decimals): api.Money | undefined {
  const places = decimals.get(currency);
  if (places === undefined) return undefined;
  const bare = bareOf(typed, currency);
  const parts = bare && partsOf(bare.text, places);
  if (!parts || parts.part.length > places) return undefined;
  const digits = (parts.whole + parts.part.padEnd(places, "0")).replace(/^0+(?=\d)/, "");
  if (digits.length > 13) return undefined;
  const minor = Number(digits);
  if (minor > largest) return undefined;
  return { minor: bare.negative && minor !== 0 ? -minor : minor, currency };
}

/** Takes the sign and the currency's own code or sign off both ends, and the dash that stands for no cents. */
function bareOf(typed: string, currency: string): { text: string; negative: boolean } | undefined {
  let text = typed.trim();
  let negative = false;
  const sign = () => {
    if (!negative && /^[-−]/.test(text)) [text, negative] = [text.slice(1).trim(), true];
  };
  sign();
  const upper = text.toUpperCase();
  for (const name of namesOf(currency)) {
    if (upper.startsWith(name)) {
      text = text.slice(name.length).trim();
      break;
    }
    if (upper.endsWith(name)) {
      text = text.slice(0, -name.length).trim();
      break;
    }
  }
  sign();
  if (/\p{L}/u.test(text)) return undefined;
  return { text: text.replace(/[,.](?:--|[-–—])$/, ""), negative };
}

function namesOf(currency: string): string[] {
  const all = [currency];
  for (const language of ["en-US", "en", "de", "it"]) {
    const part = new Intl.NumberFormat(language, { style: "currency", currency }).formatToParts(0).find((p) => p.type === "currency");
    if (part) all.push(part.value.toUpperCase());
  }
  return all;
}

/** Splits digits with separators into the whole and the decimals. */
function partsOf(text: string, places: number): { whole: string; part: string } | undefined {
  const spaced = text.replace(/['’\s]/gu, " ");
  if (/[^0-9., ]/.test(spaced)) return undefined;
  const at = Math.max(spaced.lastIndexOf("."), spaced.lastIndexOf(","));
  let [whole, part] = [spaced, ""];
  if (at >= 0 && divides(spaced, at, places)) {
    [whole, part] = [spaced.slice(0, at), spaced.slice(at + 1)];
    if (!/^\d+$/.test(part)) return undefined;
  }
  const joined = ungrouped(whole);
  return joined === undefined ? undefined : { whole: joined, part };
}

/** Whether the last point or comma divides the decimals rather than groups of three. */
function divides(text: string, at: number, places: number): boolean {
  if (text.split(text[at]!).length > 2) return false;
  if (/[.,]/.test(text.slice(0, at))) return true;
  return !(text.length - at - 1 === 3 && places !== 3 && at > 0 && at <= 3 && text[0] !== "0" && !text.includes(" "));
}

/** Joins groups of three digits parted by one and the same mark. */
function ungrouped(text: string): string | undefined {
  const mark = /[ .,]/.exec(text)?.[0];
  if (mark === undefined) return /^\d+$/.test(text) ? text : undefined;
  const groups = text.split(mark);
  const right = groups.every((g, i) => /^\d+$/.test(g) && (i === 0 ? g.length <= 3 : g.length === 3));
  return right ? groups.join("") : undefined;
}

/** The amount as a bare number, as it stands in a field: "-1234.50". */
export function numberOf({ minor, currency }: api.Money, decimals: Decimals): string {
  const places = decimals.get(currency) ?? 2;
  const digits = String(Math.abs(minor)).padStart(places + 1, "0");
  const at = digits.length - places;
  return (minor < 0 ? "-" : "") + digits.slice(0, at) + (places > 0 ? `.${digits.slice(at)}` : "");
}

/** The amount for people, the code first: "EUR 1,234.50". */
export function written(m: api.Money, decimals: Decimals): string {
  const [, sign, whole, part] = /^(-?)(\d+)(\.\d+)?$/.exec(numberOf(m, decimals))!;
  return `${m.currency} ${sign ? "−" : ""}${whole!.replace(/\B(?=(\d{3})+$)/g, ",")}${part ?? ""}`;
}

/** Reads a number in plain digits with a point or a comma, as the program keeps it; undefined for anything else. */
export function readDecimal(typed: string): string | undefined {
  const text = typed.trim().replace(",", ".").replace(/^\+/, "");
  return /^\d{1,12}(\.\d{1,12})?$/.test(text) ? text : undefined;
}
