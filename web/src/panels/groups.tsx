import { useEffect, useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { groups, rowsOf, type GroupName, type Row } from "../model/groups";
import { useDesk, Word } from "./parts";

const rim = 8; // CSS pixels an open list keeps from the window's edge

/** The groups of commands: each a word that opens a short list, one at a time. */
export function Groups({ desk }: { desk: Desk }) {
  useDesk(desk);
  const nav = useRef<HTMLElement>(null);
  const [open, setOpen] = useState<GroupName>();
  useEffect(() => {
    if (!open) return undefined;
    // A press elsewhere closes, also where it moves no focus.
    const away = (e: PointerEvent) => { if (!nav.current!.contains(e.target as Node)) setOpen(undefined); };
    document.addEventListener("pointerdown", away);
    return () => document.removeEventListener("pointerdown", away);
  }, [open]);
  /** Left and right lead along the groups; an open one hands over to the next. */
  const key = (e: KeyboardEvent) => {
    const way = e.key === "ArrowRight" ? 1 : e.key === "ArrowLeft" ? -1 : 0;
    if (way === 0) return;
    e.preventDefault();
    const heads = [...nav.current!.querySelectorAll<HTMLElement>("[data-head]")];
    const here = heads.findIndex((head) => head.parentElement!.contains(document.activeElement));
    const next = heads[(here + way + heads.length) % heads.length]!;
    next.focus();
    setOpen(open && (next.dataset.group as GroupName | undefined));
  };
  return (
    <nav class="head-groups" aria-label="Commands" ref={nav} onKeyDown={key}>
      {groups.map(([group, words]) => {
        const list = rowsOf(desk, group);
        if (list.length === 0) return null;
        if (list.length === 1 && list[0]!.words === words) return <div key={group}><Single desk={desk} row={list[0]!} /></div>;
        return <Group key={group} desk={desk} group={group} words={words} rows={list} open={open === group} turn={(to) => setOpen(to ? group : undefined)} />;
      })}
    </nav>
  );
}

function Single({ desk, row }: { desk: Desk; row: Row }) {
  return <Word act={row.act} data-head="" aria-pressed={row.on?.(desk)} title={keyTitle(row)} onClick={() => row.run(desk)}>{row.words}</Word>;
}

interface GroupProps {
  desk: Desk;
  group: GroupName;
  words: string;
  rows: readonly Row[];
  open: boolean;
  turn(open: boolean): void;
}

function Group({ desk, group, words, rows, open, turn }: GroupProps) {
  const id = useId();
  const head = useRef<HTMLButtonElement>(null);
  const list = useRef<HTMLUListElement>(null);
  const wanted = useRef(0); // the row that an arrow asked for while the list was closed: 1 the first, -1 the last
  useInWindow(list, open);
  useLayoutEffect(() => {
    if (open && wanted.current !== 0) items(list.current!).at(wanted.current === 1 ? 0 : -1)?.focus();
    wanted.current = 0;
  }, [open]);
  const key = (e: KeyboardEvent) => {
    if (e.key === "Escape" && open) {
      e.stopPropagation(); // it closes this and nothing else
      head.current!.focus();
      turn(false);
    } else if (e.key === "ArrowDown" || e.key === "ArrowUp") {
      e.preventDefault();
      const way = e.key === "ArrowDown" ? 1 : -1;
      if (open) step(list.current!, way);
      else { wanted.current = way; turn(true); }
    } else if (open && (e.key === "Home" || e.key === "End")) {
      e.preventDefault();
      items(list.current!).at(e.key === "Home" ? 0 : -1)!.focus();
    }
  };
  const left = (e: FocusEvent) => { if (open && !(e.currentTarget as HTMLElement).contains(e.relatedTarget as Node | null)) turn(false); };
  const choose = (row: Row) => {
    head.current!.focus({ preventScroll: true }); // a dialog gives the focus back to here
    turn(false);
    row.run(desk);
  };
  return (
    <div class="head-group" onKeyDown={key} onFocusOut={left}>
      <button type="button" class="word" ref={head} data-head="" data-group={group} data-holds={rows.map((row) => row.act).join(" ")}
        aria-expanded={open} aria-controls={open ? id : undefined} onClick={() => turn(!open)}>{words}</button>
      {open && (
        <ul id={id} class="head-list" ref={list} aria-label={words}>
          {rows.map((row) => (
            <li key={row.act}>
              <button type="button" class="head-row" data-act={row.act} aria-pressed={row.on?.(desk)} onClick={() => choose(row)}>
                <span>{row.words}</span>{row.key && <kbd aria-hidden="true">{row.key}</kbd>}
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function keyTitle(row: Row): string | undefined {
  return row.key && `Key: ${row.key}`;
}

function items(list: HTMLElement): HTMLElement[] {
  return [...list.querySelectorAll<HTMLElement>("button")];
}

/** The row before or behind the one with the focus; from the group's own word, the first or the last. */
function step(list: HTMLElement, way: 1 | -1): void {
  const all = items(list);
  const here = all.indexOf(document.activeElement as HTMLElement);
  const next = here < 0 && way < 0 ? all.length - 1 : (here + way + all.length) % all.length;
  all[next]!.focus();
}

/** Moves an open list sideways until it lies within the window. */
function useInWindow(list: { current: HTMLElement | null }, open: boolean): void {
  useLayoutEffect(() => {
    const el = list.current;
    if (!open || !el) return;
    const box = el.getBoundingClientRect();
    const over = Math.max(0, box.right - (document.documentElement.clientWidth - rim));
    const by = Math.max(rim - box.left, -over); // the beginning of the words before their end
    if (by !== 0) el.style.left = `${el.offsetLeft + by}px`;
  }, [open]);
}
