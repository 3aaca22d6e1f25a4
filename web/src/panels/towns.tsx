import { useEffect, useId, useState } from "preact/hooks";
import { nearestFirst, readPosition } from "../model/facts";
import type * as api from "../net/api";
import { townsNamed } from "../net/program";

/** A place that was named: a town of the table, or a position in degrees. */
export interface Named {
  readonly lat: number;
  readonly lng: number;
  readonly words: string;
  readonly people: number; // 0 for a position
}

/** A line to type a town into; the program proposes those it knows. */
export function Towns({ near, named, name }: { near: readonly api.Where[]; named: Named | undefined; name(place: Named | undefined): void }) {
  const id = useId();
  const [typed, setTyped] = useState(named?.words ?? "");
  const [at, setAt] = useState(-1);
  const [open, setOpen] = useState(false);
  const towns = useTowns(open ? typed : "");
  const list = open ? nearestFirst(towns, near).slice(0, 8) : [];
  const take = (town: api.Town) => {
    const words = `${town.name}, ${town.countryName}`;
    setTyped(words);
    setOpen(false);
    name({ lat: town.lat, lng: town.lng, words, people: town.people });
  };
  const write = (text: string) => {
    setTyped(text);
    const position = readPosition(text);
    setOpen(!position);
    setAt(-1);
    name(position && { ...position, words: text.trim(), people: 0 });
  };
  const key = (e: KeyboardEvent) => {
    const chosen = list[at];
    if (e.key === "Escape" && list.length > 0) setOpen(false);
    else if (e.key === "ArrowDown" && list.length > 0) setAt(Math.min(at + 1, list.length - 1));
    else if (e.key === "ArrowUp" && list.length > 0) setAt(Math.max(at - 1, 0));
    else if (e.key === "Enter" && list.length > 0 && !named) take(chosen ?? list[0]!);
    else return;
    e.preventDefault();
    e.stopPropagation();
  };
  return (
    <div class="towns">
      <input type="text" role="combobox" autoComplete="off" spellcheck={false} aria-label="Town, or degrees" placeholder="Town, or 45.528, 13.568" data-say="where"
        aria-expanded={list.length > 0} aria-controls={id} aria-autocomplete="list" aria-activedescendant={at >= 0 ? `${id}-${at}` : undefined}
        value={typed} onInput={(e) => write(e.currentTarget.value)} onKeyDown={key} onBlur={() => setTimeout(() => setOpen(false), 150)} />
      <ul id={id} role="listbox" aria-label="Towns" hidden={list.length === 0}>
        {list.map((t, i) => (
          <li key={`${t.name} ${t.lat} ${t.lng}`} id={`${id}-${i}`} role="option" aria-selected={i === at} data-town={t.name}
            onPointerDown={(e) => e.preventDefault()} onClick={() => take(t)}>
            <span>{t.name}</span> <span class="quiet">{t.countryName}{t.people > 0 ? `, ${thousands(t.people)} people` : ""}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** 41234 as "41 234". */
function thousands(n: number): string {
  return String(n).replace(/\B(?=(\d{3})+$)/g, "\u202f");
}

/** Towns for what is typed, asked for shortly after the last letter. */
function useTowns(typed: string): api.Town[] {
  const [towns, setTowns] = useState<api.Town[]>([]);
  useEffect(() => {
    if (typed.trim() === "") {
      setTowns([]);
      return undefined;
    }
    const stop = new AbortController();
    const timer = setTimeout(() => {
      townsNamed(typed.trim(), stop.signal).then((t) => setTowns(t.towns), () => setTowns([])); // without proposals one can still type degrees
    }, 120);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [typed]);
  return towns;
}
