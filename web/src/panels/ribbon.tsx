import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import { intoSight, sight } from "../board/scroll";
import { runOf } from "../model/chapter";
import type { Desk } from "../model/desk";
import { openings, photosOf, type Opening } from "../model/openings";
import { labColour } from "../model/photo";
import { labels, openingAt, ribbon, ribbonWords, stripesOf, type Ribbon, type Run } from "../model/ribbon";
import { Facing, useDesk } from "./parts";

const leap = 8; // openings a page key passes over
const leastLabel = 44; // CSS pixels below which a place or a day is not written

/** The colours along the sequence, with place and day; pointing at it shows the spread, pressing goes there. */
export function RibbonLine({ desk }: { desk: Desk }) {
  useDesk(desk);
  const line = useRef<HTMLDivElement>(null);
  const [wanted, setAt] = useState(0);
  const [pointed, setPointed] = useState<number>();
  const all = useMemo(() => openings(desk.shown), [desk.shown]);
  const r = useMemo(() => ribbon(all, desk.photos), [all, desk.photos]);
  const width = useWidth(line);
  const seen = useSeen(desk, all);
  const at = Math.min(wanted, all.length - 1);
  const go = (to: number) => {
    const next = Math.min(all.length - 1, Math.max(0, to));
    setAt(next);
    reveal(next);
  };
  const under = (e: PointerEvent) => {
    const box = line.current!.getBoundingClientRect();
    return openingAt(r, (e.clientX - box.left) / box.width);
  };
  const key = (e: KeyboardEvent) => {
    const to: Record<string, number> = {
      ArrowRight: at + 1, ArrowUp: at + 1, ArrowLeft: at - 1, ArrowDown: at - 1, PageUp: at + leap, PageDown: at - leap, Home: 0, End: all.length - 1,
    };
    if (e.key === "Enter") {
      const first = rowAt(at)?.querySelector<HTMLElement>("[data-photo], [data-blank]");
      first?.focus({ preventScroll: true });
      intoSight(first);
    } else if (e.key === "Escape") setPointed(undefined);
    else if (e.key in to) {
      go(to[e.key]!);
      setPointed(Math.min(all.length - 1, Math.max(0, to[e.key]!)));
    } else return;
    e.preventDefault();
    e.stopPropagation();
  };
  const pressed = (e: PointerEvent) => {
    line.current!.setPointerCapture(e.pointerId);
    go(under(e));
  };
  const shown = pointed === undefined ? undefined : all[pointed];
  return (
    <div class="ribbon-place">
      <div class="ribbon" ref={line} role="slider" tabIndex={0} aria-label="The colours along the sequence" data-ribbon=""
        aria-valuemin={1} aria-valuemax={all.length} aria-valuenow={at + 1} aria-valuetext={ribbonWords(all[at]!, desk.photos)}
        onKeyDown={key} onBlur={() => setPointed(undefined)} onPointerDown={pressed} onPointerLeave={() => setPointed(undefined)}
        onPointerMove={(e) => { setPointed(under(e)); if (e.buttons === 1) go(under(e)); }}>
        <Colours r={r} width={width} />
        <Labels of={r.places} stripes={r.stripes.length} width={width} />
        <Labels of={r.days} stripes={r.stripes.length} width={width} />
        {seen && <Mark kind="sight" r={r} from={seen.first} to={seen.last} />}
        <Mark kind="mark" r={r} from={at} to={at} />
      </div>
      {shown && <Glimpse desk={desk} of={shown} r={r} at={pointed!} width={width} />}
    </div>
  );
}

function useWidth(of: { readonly current: HTMLElement | null }): number {
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const watch = new ResizeObserver(() => setWidth(of.current!.clientWidth));
    watch.observe(of.current!);
    setWidth(of.current!.clientWidth);
    return () => watch.disconnect();
  }, []);
  return width;
}

function Colours({ r, width }: { r: Ribbon; width: number }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const el = canvas.current!;
    const pen = el.getContext("2d");
    if (!pen || width === 0) return;
    el.width = Math.round(width * devicePixelRatio);
    el.height = Math.round(el.clientHeight * devicePixelRatio);
    const each = el.width / r.stripes.length;
    const seam = each > 5 ? Math.max(1, Math.round(devicePixelRatio)) : 0; // between two spreads
    r.stripes.forEach((s, i) => {
      const left = Math.round(i * each) + (r.stripes[i - 1]?.opening !== s.opening ? seam : 0);
      const sum = s.colours.reduce((all, c) => all + c.weight, 0) || 1;
      let top = 0;
      for (const c of s.colours) {
        const tall = (el.height * c.weight) / sum;
        pen.fillStyle = labColour(c.lab);
        pen.fillRect(left, Math.round(top), Math.round((i + 1) * each) - left, Math.round(top + tall) - Math.round(top));
        top += tall;
      }
    });
  }, [r, width]);
  return <canvas ref={canvas} aria-hidden="true" />;
}

function Labels({ of, stripes, width }: { of: readonly Run[]; stripes: number; width: number }) {
  const written = labels(of, stripes, (leastLabel * stripes) / Math.max(1, width));
  if (written.length === 0) return null;
  return (
    <div class="ribbon-labels" aria-hidden="true">
      {written.map(({ run, to }) => (
        <span key={run.from} style={{ left: `${(100 * run.from) / stripes}%`, width: `${(100 * (to - run.from)) / stripes}%` }}>{run.words}</span>
      ))}
    </div>
  );
}

/** Openings that are marked: the one the ribbon stands at, or those of the wall that are in sight. */
function Mark({ kind, r, from, to }: { kind: "mark" | "sight"; r: Ribbon; from: number; to: number }) {
  const [left, right] = [stripesOf(r, from).from, stripesOf(r, to).to];
  return <span class={`ribbon-${kind}`} aria-hidden="true" style={{ left: `${(100 * left) / r.stripes.length}%`, width: `${(100 * (right - left)) / r.stripes.length}%` }} />;
}

/** The first and the last opening of which something is in sight on the wall. */
function useSeen(desk: Desk, all: readonly Opening[]): { first: number; last: number } | undefined {
  const [seen, setSeen] = useState<{ first: number; last: number }>();
  useEffect(() => {
    let frame = 0;
    const look = () => {
      frame = 0;
      const now = seenOf(desk, all);
      setSeen((was) => (was && now && was.first === now.first && was.last === now.last ? was : now));
    };
    const soon = () => { frame ||= requestAnimationFrame(look); };
    const watch = new ResizeObserver(soon); // whoever steps back or folds a chapter makes the wall lower
    watch.observe(document.querySelector(".wall")!);
    addEventListener("scroll", soon, { passive: true });
    addEventListener("resize", soon);
    soon();
    return () => {
      cancelAnimationFrame(frame);
      watch.disconnect();
      removeEventListener("scroll", soon);
      removeEventListener("resize", soon);
    };
  }, [desk, all]);
  return seen && seen.last < all.length ? seen : undefined;
}

function seenOf(desk: Desk, all: readonly Opening[]): { first: number; last: number } | undefined {
  const { top, bottom } = sight();
  const wall = document.querySelector(".wall")!.getBoundingClientRect().top;
  const rows = [...document.querySelectorAll<HTMLElement>(".wall > .spread:not([hidden])")];
  // Where they lie, not where they are drawn while they glide there.
  const first = firstWhere(rows, (row) => wall + row.offsetTop + row.offsetHeight > top);
  const last = firstWhere(rows, (row) => wall + row.offsetTop >= bottom) - 1;
  if (first > last) return undefined;
  return { first: openingsOf(desk, all, rows[first]!).first, last: openingsOf(desk, all, rows[last]!).last };
}

/** The place of the first row of which it is true; they lie in reading order. Asking each of a thousand rows would cost a frame. */
function firstWhere(rows: readonly HTMLElement[], is: (row: HTMLElement) => boolean): number {
  let [low, high] = [0, rows.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (is(rows[middle]!)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The openings a row of the wall stands for: one, or those of a folded chapter. */
function openingsOf(desk: Desk, all: readonly Opening[], row: HTMLElement): { first: number; last: number } {
  const run = row.dataset.stack ? runOf(desk.shown, Number(row.dataset.stack)) : undefined;
  if (run) return { first: run.first + 1, last: run.last + 1 }; // the first opening is page 1
  const spread = Number(row.dataset.spread);
  const at = spread ? all.findIndex((o) => o.spread === spread) : row.classList.contains("opening") ? 0 : all.length - 1;
  return { first: at, last: at };
}

const glimpse = 240; // CSS pixels wide

/** The spread that is pointed at, small, below its place on the ribbon. */
function Glimpse({ desk, of, r, at, width }: { desk: Desk; of: Opening; r: Ribbon; at: number; width: number }) {
  const { from, to } = stripesOf(r, at);
  const middle = (width * (from + to)) / 2 / r.stripes.length;
  const left = Math.max(0, Math.min(width - glimpse, middle - glimpse / 2));
  const photos = photosOf(of);
  return (
    <div class="glimpse" aria-hidden="true" data-glimpse={at} style={{ left: `${left}px`, width: `${Math.min(glimpse, width)}px` }}>
      {photos.length > 0 && <Facing desk={desk} left={of.left?.photo ?? 0} right={of.right?.half ? 0 : (of.right?.photo ?? 0)} across={of.left?.half ?? false} size={400} />}
      <p>{ribbonWords(of, desk.photos)}</p>
    </div>
  );
}

/** The row an opening lies in: its own, or the stack of its folded chapter. */
function rowAt(opening: number): HTMLElement | undefined {
  const row = document.querySelectorAll<HTMLElement>(".wall > .spread:not(.stack)")[opening];
  return row?.hidden ? (document.querySelector<HTMLElement>(`.wall > [data-stack="${row.dataset.run}"]`) ?? undefined) : row;
}

/** Scrolls the wall to an opening, unless it is in sight. */
function reveal(opening: number): void {
  const row = rowAt(opening);
  if (!row) return;
  const box = row.getBoundingClientRect();
  const top = document.querySelector(".head-bar")!.getBoundingClientRect().bottom;
  const bottom = document.querySelector(".tray")!.getBoundingClientRect().top;
  if (box.top < top || box.bottom > bottom) scrollBy(0, (box.top + box.bottom - top - bottom) / 2);
  row.animate([{ opacity: 0.4 }, { opacity: 1 }], { duration: 350 }); // where it is
}
