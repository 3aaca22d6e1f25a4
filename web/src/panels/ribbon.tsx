import { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { openings, photosOf, type Opening } from "../model/openings";
import { labColour } from "../model/photo";
import { openingAt, ribbon, ribbonWords, stripesOf, type Ribbon, type Run } from "../model/ribbon";
import { Facing, useDesk } from "./parts";

const leap = 8; // openings a page key passes over
const leastLabel = 30; // CSS pixels below which a place or a day is not written

/** The colours along the sequence, with place and day; pointing at it shows the spread, pressing goes there. */
export function RibbonLine({ desk }: { desk: Desk }) {
  useDesk(desk);
  const line = useRef<HTMLDivElement>(null);
  const [wanted, setAt] = useState(0);
  const [pointed, setPointed] = useState<number>();
  const all = useMemo(() => openings(desk.shown), [desk.shown]);
  const r = useMemo(() => ribbon(all, desk.photos), [all, desk.photos]);
  const width = useWidth(line);
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
    if (e.key === "Enter") rowAt(at)?.querySelector<HTMLElement>("[data-photo], [data-blank]")?.focus();
    else if (e.key === "Escape") setPointed(undefined);
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
        <Mark r={r} at={at} />
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
  const fits = (run: Run) => (width * (run.to - run.from)) / stripes >= leastLabel;
  if (!of.some(fits)) return null;
  return (
    <div class="ribbon-labels" aria-hidden="true">
      {of.map((run) => (
        <span key={run.from} style={{ left: `${(100 * run.from) / stripes}%`, width: `${(100 * (run.to - run.from)) / stripes}%` }}>
          {fits(run) && run.words}
        </span>
      ))}
    </div>
  );
}

function Mark({ r, at }: { r: Ribbon; at: number }) {
  const { from, to } = stripesOf(r, at);
  return <span class="ribbon-mark" aria-hidden="true" style={{ left: `${(100 * from) / r.stripes.length}%`, width: `${(100 * (to - from)) / r.stripes.length}%` }} />;
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

function rowAt(opening: number): HTMLElement | undefined {
  return document.querySelectorAll<HTMLElement>(".wall > .spread")[opening];
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
