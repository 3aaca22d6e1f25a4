// Fields that keep what is typed when one leaves them: nothing waits for a
// button, and what cannot be read stays as it was typed, with the reason below.

import type { ComponentChildren } from "preact";
import { useId, useRef, useState } from "preact/hooks";
import { numberOf, readDecimal, readMoney, type Decimals } from "../model/money";
import type * as api from "../net/api";

/** Keeps a value; false when the program refused it. */
export type Keep<T> = (value: T) => Promise<boolean>;

/** What a typed text stands for, or why it stands for nothing. */
export type Reading<T> = { readonly is: T } | { readonly wrong: string };

interface FieldProps<T> {
  label: string;
  name: string; // data-field
  value: string; // as kept
  read(typed: string): Reading<T>;
  keep: Keep<T>;
  lines?: number; // of a text of several lines
  type?: "text" | "date";
  inputMode?: "numeric" | "decimal";
  placeholder?: string;
  bare?: boolean; // the label is only read out: the table's heading says it
  list?: readonly string[]; // words to choose from, others are as good
  longest?: number; // letters
}

/** A field whose text is kept on leaving it or on Enter. Escape puts back what is kept. */
export function Field<T>({ label, name, value, read, keep, lines, type = "text", inputMode, placeholder, bare, list, longest }: FieldProps<T>) {
  const [typed, setTyped] = useState<string>();
  const [wrong, setWrong] = useState("");
  const id = useId();
  const latest = useRef(typed);
  latest.current = typed;
  const leave = async (text: string) => {
    if (text === value) {
      setTyped(undefined);
      return setWrong("");
    }
    const got = read(text);
    if ("wrong" in got) return setWrong(got.wrong);
    setWrong("");
    if (await keep(got.is) && latest.current === text) setTyped(undefined);
  };
  const shared = {
    id, name, "data-field": name, value: typed ?? value, placeholder, maxLength: longest, autoComplete: "off" as const, "aria-invalid": wrong !== "",
    "aria-describedby": wrong ? `${id}-wrong` : undefined,
    onInput: (e: Event) => setTyped((e.currentTarget as HTMLInputElement).value),
    onChange: (e: Event) => void leave((e.currentTarget as HTMLInputElement).value),
    onKeyDown: (e: KeyboardEvent) => {
      if (e.key !== "Escape" || typed === undefined || typed === value) return;
      e.preventDefault(); // the first Escape is for the field, the second for the dialog
      e.stopPropagation();
      setTyped(undefined);
      setWrong("");
    },
  };
  return (
    <div class="field">
      <label for={id} class={bare ? "unseen" : undefined}>{label}</label>
      {lines ? <textarea {...shared} rows={lines} /> : <input {...shared} type={type} inputMode={inputMode} list={list && `${id}-list`} />}
      {list && <datalist id={`${id}-list`}>{list.map((words) => <option key={words} value={words} />)}</datalist>}
      {wrong && <p class="wrong" id={`${id}-wrong`} role="alert">{wrong}</p>}
    </div>
  );
}

type Common<T> = Omit<FieldProps<T>, "value" | "read" | "type" | "inputMode">;

export function TextField({ value, ...rest }: Common<string> & { value: string }) {
  return <Field {...rest} value={value} read={(is) => ({ is })} />;
}

export function DayField({ value, ...rest }: Common<string> & { value: string }) {
  return <Field {...rest} value={value} type="date" read={(is) => ({ is })} />;
}

/** A whole number from least on; undefined when the field is empty. */
export function WholeField({ value, least = 0, ...rest }: Common<number | undefined> & { value: number | undefined; least?: number }) {
  const read = (typed: string): Reading<number | undefined> => {
    const text = typed.trim();
    if (text === "") return { is: undefined };
    return /^\d{1,7}$/.test(text) && Number(text) >= least ? { is: Number(text) } : { wrong: `A whole number from ${least} on.` };
  };
  return <Field {...rest} value={value === undefined ? "" : String(value)} inputMode="numeric" read={read} />;
}

/** A decimal number as the program keeps it; "" when the field is empty. */
export function DecimalField({ value, ...rest }: Common<string> & { value: string }) {
  const read = (typed: string): Reading<string> => {
    if (typed.trim() === "") return { is: "" };
    const is = readDecimal(typed);
    return is === undefined ? { wrong: "A number, such as 10 or 2.5." } : { is };
  };
  return <Field {...rest} value={value} inputMode="decimal" read={read} />;
}

/** An amount, read as typed in Europe or America; undefined when the field is empty. */
export function MoneyField({ value, currency, decimals, ...rest }: Common<api.Money | undefined> & { value: api.Money | undefined; currency: string; decimals: Decimals }) {
  const read = (typed: string): Reading<api.Money | undefined> => {
    if (typed.trim() === "") return { is: undefined };
    const is = readMoney(typed, currency, decimals);
    return is && is.minor >= 0 ? { is } : { wrong: `An amount in ${currency}, such as 1234.50 or 1.234,50.` };
  };
  return <Field {...rest} value={value ? numberOf(value, decimals) : ""} inputMode="decimal" placeholder={rest.placeholder ?? "not said"} read={read} />;
}

interface PickProps<T extends string> {
  label: string;
  name: string;
  value: T;
  of: readonly (readonly [T, words: string])[];
  keep(value: T): unknown;
  bare?: boolean;
}

/** One of a few words. */
export function Pick<T extends string>({ label, name, value, of, keep, bare }: PickProps<T>) {
  const id = useId();
  return (
    <div class="field">
      <label for={id} class={bare ? "unseen" : undefined}>{label}</label>
      <select id={id} name={name} data-field={name} value={value} onChange={(e) => keep(e.currentTarget.value as T)}>
        {of.map(([is, words]) => <option key={is} value={is}>{words}</option>)}
      </select>
    </div>
  );
}

export function Tick({ name, on, keep, children }: { name: string; on: boolean; keep(on: boolean): unknown; children: ComponentChildren }) {
  return <label class="tick"><input type="checkbox" data-field={name} checked={on} onChange={(e) => keep(e.currentTarget.checked)} /> <span>{children}</span></label>;
}
