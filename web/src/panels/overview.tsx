import { useEffect, useRef } from "preact/hooks";
import type { PageLine } from "../model/beside";
import type { Desk } from "../model/desk";
import { openedOf, pageWords } from "../model/plan";
import type * as api from "../net/api";
import { OpenedPages } from "./opened";

interface Props {
  desk: Desk;
  shown: api.BookShown;
  lines: readonly PageLine[];
  page: number; // selected
  select(page: number): void;
  take(): void; // the selected page's spread into the hand
}

/** All spreads; one tab stop, arrow keys go from page to page. */
export function Overview({ desk, shown, lines, page, select, take }: Props) {
  const el = useRef<HTMLDivElement>(null);
  const moved = useRef(false);
  useEffect(() => {
    const option = el.current!.querySelector<HTMLElement>(`[data-page-of="${page}"]`);
    if (moved.current) option?.focus();
    option?.scrollIntoView({ block: "nearest" });
    moved.current = false;
  }, [page]);
  const row = () => { // spreads to a line
    const all = [...el.current!.children] as HTMLElement[];
    return Math.max(1, all.filter((one) => one.offsetTop === all[0]!.offsetTop).length);
  };
  const last = shown.book.pages.length;
  const key = (e: KeyboardEvent) => {
    const to = e.key === "ArrowRight" ? page + 1 : e.key === "ArrowLeft" ? page - 1 : e.key === "ArrowDown" ? page + 2 * row() : e.key === "ArrowUp" ? page - 2 * row()
      : e.key === "Home" ? 1 : e.key === "End" ? last : undefined;
    if (e.key === "Enter" || e.key === " ") take();
    else if (to === undefined) return;
    else {
      moved.current = true;
      select(Math.min(last, Math.max(1, to)));
    }
    e.preventDefault();
  };
  return (
    <div class="overview" role="listbox" aria-label="Pages" ref={el} onKeyDown={key}>
      {openedOf(shown.book).map((of) => {
        const sides = [of.left, of.right] as const;
        const numbers = sides.flatMap((p) => (p ? [p.number] : []));
        const bad = shown.misfits.filter((m) => m.page !== undefined && numbers.includes(m.page)).length;
        return (
          <div key={numbers[0]} class="overview-spread" role="group" aria-label={numbers.length > 1 ? `Pages ${numbers.join(" and ")}` : `Page ${numbers[0]}`}>
            <div class="opened-box">
              <OpenedPages desk={desk} shown={shown} of={of} lines={lines} size={400} />
              {sides.map((p, i) => p && (
                <div key={p.number} class="half" role="option" data-page-of={p.number} data-side={i === 1 ? "right" : "left"} aria-selected={p.number === page} tabIndex={p.number === page ? 0 : -1}
                  aria-label={pageWords(p, shown.misfits)} onClick={() => select(p.number)} onDblClick={take} />
              ))}
            </div>
            <span class="quiet" aria-hidden="true">{numbers.join("–")}{bad > 0 && <strong> · {bad} to look at</strong>}</span>
          </div>
        );
      })}
    </div>
  );
}
