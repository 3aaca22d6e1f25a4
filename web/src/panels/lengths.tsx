import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { lengthText, typedLength, type Unit } from "../model/format";

interface Props {
  name: string;
  label: string;
  value: number; // mm
  unit: Unit;
  set(mm: number): void;
}

/** A length, typed in the maker's unit or with another one named. What cannot be read stays where it was typed and says so. */
export function LengthField({ name, label, value, unit, set }: Props) {
  const [text, setText] = useState(lengthText(value, unit));
  const writing = useRef(false);
  useEffect(() => {
    if (!writing.current) setText(lengthText(value, unit));
  }, [value, unit]);
  const bad = typedLength(text, unit) === undefined;
  const input = (typed: string) => {
    writing.current = true;
    setText(typed);
    const mm = typedLength(typed, unit);
    if (mm !== undefined) set(mm);
  };
  const leave = () => {
    writing.current = false;
    if (!bad) setText(lengthText(value, unit));
  };
  return (
    <label class="length">{label}
      <span><input type="text" inputMode="decimal" name={name} value={text} aria-invalid={bad || undefined} autocomplete="off" spellcheck={false}
        onInput={(e) => input(e.currentTarget.value)} onBlur={leave} /> {unit}</span>
      {bad && <span class="bad" role="alert">No length: write 3, 3.5 mm or 1/8 in.</span>}
    </label>
  );
}

/** A number that is no length; empty is 0, not known. */
export function NumberField({ name, label, value, unit, set }: Omit<Props, "unit"> & { unit: string }) {
  const [text, setText] = useState(value === 0 ? "" : String(value));
  const writing = useRef(false);
  useEffect(() => {
    if (!writing.current) setText(value === 0 ? "" : String(value));
  }, [value]);
  const read = (typed: string) => (typed.trim() === "" ? 0 : Number(typed.trim().replace(",", ".")));
  const bad = !Number.isFinite(read(text)) || read(text) < 0;
  const input = (typed: string) => {
    writing.current = true;
    setText(typed);
    const n = read(typed);
    if (Number.isFinite(n) && n >= 0) set(n);
  };
  return (
    <label class="length">{label}
      <span><input type="text" inputMode="decimal" name={name} value={text} aria-invalid={bad || undefined} autocomplete="off" spellcheck={false}
        onInput={(e) => input(e.currentTarget.value)} onBlur={() => { writing.current = false; }} /> {unit}</span>
      {bad && <span class="bad" role="alert">No number.</span>}
    </label>
  );
}

/** Waits until typing rests, and does not lose what was typed last. */
export function Resting({ children }: { children: (rest: (run: () => void) => void) => ComponentChildren }) {
  const held = useRef<(() => void) | undefined>(undefined);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const go = () => {
    clearTimeout(timer.current);
    held.current?.();
    held.current = undefined;
  };
  useEffect(() => go, []);
  const rest = (run: () => void) => {
    held.current = run;
    clearTimeout(timer.current);
    timer.current = setTimeout(go, 500);
  };
  return <>{children(rest)}</>;
}
