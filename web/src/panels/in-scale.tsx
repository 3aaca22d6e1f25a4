import { useLayoutEffect, useRef } from "preact/hooks";
import type { PageLine } from "../model/beside";
import type { Desk } from "../model/desk";
import { openedAt, openedOf, pageWords } from "../model/plan";
import type * as api from "../net/api";
import type { Cropping } from "./cropping";
import { field, OpenedPages, pictureOf, type Mark } from "./opened";

export const supposedMm = 96 / 25.4; // CSS pixels to a millimetre, as CSS supposes

interface Props {
  desk: Desk;
  shown: api.BookShown;
  page: number; // selected
  lines: readonly PageLine[];
  truly: boolean; // 1 mm is 1 mm on the screen
  cropping: Cropping;
  marking: Marking;
  select(page: number): void;
}

/** Marking what must stay in sight of a photo. */
export interface Marking {
  readonly mark: Mark | undefined; // undefined while nothing is being marked
  move(at: api.Point): void;
  keep(at: api.Point): void;
  leave(): void;
}

/** One spread in the hand: the crop is moved by pointer, fingers and keys. */
export function InScale({ desk, shown, page, lines, truly, cropping, marking, select }: Props) {
  const opened = openedOf(shown.book)[openedAt(page)];
  const box = useRef<HTMLDivElement>(null);
  const f = field(shown.book.format, lines);
  useLayoutEffect(() => {
    const { style } = box.current!;
    style.setProperty("--proportion", String(f.width / f.height));
    style.setProperty("--true", truly ? `${f.width * (desk.view.mm || supposedMm)}px` : "none");
  }, [f.width, f.height, truly, desk.view.mm]);
  if (!opened) return null;
  const sides = [opened.left, opened.right] as const;
  return (
    <div class="in-scale" data-true={truly ? "" : undefined} tabIndex={truly ? 0 : undefined} role={truly ? "group" : undefined} aria-label={truly ? "The spread at true size" : undefined}>
      <div class="opened-box" ref={box}>
        <OpenedPages desk={desk} shown={shown} of={opened} lines={lines} size={1600} live={cropping.live} mark={marking.mark} keeps />
        {sides.map((side, i) => side
          ? <Half key={i} {...{ desk, shown, lines, cropping, marking }} side={side} right={i === 1} on={side.number === page} select={() => select(side.number)} />
          : null)}
      </div>
    </div>
  );
}

interface HalfProps extends Omit<Props, "select" | "page" | "truly"> {
  side: api.BookPage;
  right: boolean;
  on: boolean;
  select(): void;
}

/** The part of a spread a page lies on, for the hand. */
function Half({ desk, shown, side, right, on, lines, cropping, marking, select }: HalfProps) {
  const el = useRef<HTMLDivElement>(null);
  const { format } = shown.book;
  const of = side.shown;
  /** Where on the page, in mm from the top left corner of its trim. */
  const spot = (e: { clientX: number; clientY: number }): api.Point => {
    const r = el.current!.getBoundingClientRect();
    const f = field(format, lines);
    const mm = f.height / r.height;
    return { x: (e.clientX - r.left) * mm - (right ? 0 : f.width / 2 - format.trim.width), y: (e.clientY - r.top) * mm + f.y };
  };
  const point = (at: api.Point): api.Point => {
    const p = pictureOf(desk, of!, cropping.live);
    const part = (n: number) => Math.min(1, Math.max(0, n));
    return { x: part((at.x - p.x) / p.width), y: part((at.y - p.y) / p.height) };
  };
  const marks = of !== undefined && marking.mark?.photo === of.photo;
  const down = useFingers(el, { spot, select, of, cropping, mark: marks ? (at) => marking.keep(point(at)) : undefined });
  const key = (e: KeyboardEvent) => {
    if (!of || e.ctrlKey || e.metaKey || e.altKey) return;
    const step = e.shiftKey ? 10 : 1; // mm
    const [dx, dy] = e.key === "ArrowLeft" ? [-step, 0] : e.key === "ArrowRight" ? [step, 0] : e.key === "ArrowUp" ? [0, -step] : e.key === "ArrowDown" ? [0, step] : [0, 0];
    if (dx !== 0 || dy !== 0) {
      const p = pictureOf(desk, of, cropping.live);
      if (marks) marking.move(point({ x: p.x + marking.mark!.at.x * p.width + dx, y: p.y + marking.mark!.at.y * p.height + dy }));
      else cropping.move(of, dx, dy);
    } else if (marks && e.key === "Enter") marking.keep(marking.mark!.at);
    else if (marks && e.key === "Escape") marking.leave();
    else if (e.key === "+" || e.key === "=") cropping.zoom(of, 1.05);
    else if (e.key === "-") cropping.zoom(of, 1 / 1.05);
    else if (e.key === "0") cropping.whole(of);
    else return;
    e.preventDefault();
    e.stopPropagation();
    if (!marks) cropping.later();
  };
  const help = of ? (marks ? " Arrow keys move the mark, Enter keeps it." : " Arrow keys move the picture in its window, plus and minus bring it nearer or farther.") : "";
  return (
    <div ref={el} class="half" role="application" tabIndex={0} data-half={side.number} data-selected={on ? "" : undefined} data-side={right ? "right" : "left"} data-marking={marks ? "" : undefined} data-photo-page={of ? "" : undefined}
      aria-label={`${pageWords(side, shown.misfits)}.${help}`} onFocus={select} onPointerDown={down} onKeyDown={key}
      onWheel={(e) => { if (of && e.ctrlKey) { e.preventDefault(); cropping.zoom(of, Math.exp(-e.deltaY / 300), spot(e)); cropping.later(); } }} />
  );
}

interface Hands {
  spot(e: { clientX: number; clientY: number }): api.Point;
  select(): void;
  of: api.Shown | undefined;
  cropping: Cropping;
  mark: ((at: api.Point) => void) | undefined; // while one is being marked
}

/** One finger or the pointer moves the picture, two bring it nearer or farther. */
function useFingers(el: { current: HTMLDivElement | null }, { spot, select, of, cropping, mark }: Hands) {
  const fingers = useRef(new Map<number, api.Point>());
  return (e: PointerEvent) => {
    if (e.button !== 0) return;
    select();
    if (!of) return;
    if (mark) return mark(spot(e));
    const at = fingers.current;
    at.set(e.pointerId, spot(e));
    if (at.size > 1) return; // the first finger listens for both
    const move = (m: PointerEvent) => {
      const was = at.get(m.pointerId);
      if (!was) return;
      const is = spot(m);
      const other = [...at].find(([id]) => id !== m.pointerId)?.[1];
      at.set(m.pointerId, is);
      if (!other) cropping.move(of, is.x - was.x, is.y - was.y);
      else {
        const apart = (p: api.Point) => Math.max(1, Math.hypot(p.x - other.x, p.y - other.y));
        cropping.zoom(of, apart(is) / apart(was), { x: (is.x + other.x) / 2, y: (is.y + other.y) / 2 });
      }
    };
    const up = (u: PointerEvent) => {
      at.delete(u.pointerId);
      if (at.size > 0) return;
      for (const [name, on] of [["pointermove", move], ["pointerup", up], ["pointercancel", up]] as const) document.removeEventListener(name, on);
      cropping.keep();
    };
    document.addEventListener("pointermove", move);
    document.addEventListener("pointerup", up);
    document.addEventListener("pointercancel", up);
    el.current?.focus({ preventScroll: true });
    e.preventDefault();
  };
}
