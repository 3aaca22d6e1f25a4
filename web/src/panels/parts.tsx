// Small parts that every panel is made of.

import type { ButtonHTMLAttributes, ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useReducer, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import type { PhotoID } from "../model/sequence";
import { cardAddress, troubleOf } from "../net/program";

/** Draws the component anew whenever the desk has changed. */
export function useDesk(desk: Desk): void {
  const [, redraw] = useReducer((n: number) => n + 1, 0);
  useEffect(() => desk.bell.on(() => redraw(undefined)), [desk]);
}

interface WordProps extends Omit<ButtonHTMLAttributes<HTMLButtonElement>, "type"> {
  act: string;
  strong?: boolean; // the one thing to do here
  disabled?: boolean;
  children: ComponentChildren;
}

/** A button that is a word. */
export function Word({ act, strong, children, ...rest }: WordProps) {
  return <button type="button" class={strong ? "word strong" : "word"} data-act={act} {...rest}>{children}</button>;
}

interface SheetProps {
  name: string; // data-panel
  title: string;
  wide?: boolean;
  whole?: boolean; // fills the window, for long work
  close(): void;
  onKeyDown?(e: KeyboardEvent): void;
  children: ComponentChildren;
}

/** Opens a dialog for as long as it is drawn, before anybody sees it, so that no key is lost. The browser keeps the focus inside and gives it back. */
export function useModal(ref: { readonly current: HTMLDialogElement | null }): void {
  useLayoutEffect(() => {
    const back = document.activeElement as HTMLElement | null;
    const dialog = ref.current!;
    dialog.showModal();
    const heard = document.getElementById("heard"); // what lies outside an open dialog is not read out
    if (heard) dialog.append(heard);
    return () => {
      if (heard) document.body.append(heard);
      dialog.close();
      if (back?.isConnected) back.focus({ preventScroll: true });
    };
  }, []);
}

/** A dialog above the wall. */
export function SheetFrame({ name, title, wide, whole, close, onKeyDown, children }: SheetProps) {
  const ref = useRef<HTMLDialogElement>(null);
  useModal(ref);
  const outside = (e: MouseEvent) => {
    if (e.target === ref.current) close();
  };
  return (
    <dialog ref={ref} class={whole ? "sheet whole" : wide ? "sheet wide" : "sheet"} data-panel={name} aria-labelledby={`${name}-title`}
      onCancel={(e) => { e.preventDefault(); close(); }} onMouseDown={outside} onKeyDown={onKeyDown}>
      <div class="sheet-inside">
        <header class="sheet-head">
          <h2 id={`${name}-title`}>{title}</h2>
          <Word act="close" onClick={close}>Close</Word>
        </header>
        {children}
      </div>
    </dialog>
  );
}

/** A photo drawn inside a panel. It is not one of the wall's cards. It has its place before it is there, or what lies below would move under the hand. */
export function Print({ desk, photo, size = 160 }: { desk: Desk; photo: PhotoID; size?: 160 | 400 | 1600 }) {
  const known = desk.photos.get(photo);
  if (!known) return <span class="no-print">{photo}</span>;
  return <img class="shown" src={cardAddress(desk.title.id, photo, size)} alt={`Photo ${photo}`} width={known.width} height={known.height} style={{ "--r": known.width / known.height }} draggable={false} decoding="async" />;
}

/** Two pages as they face each other; 0 is a blank one. With across, the left photo covers both. */
export function Facing({ desk, left, right, across = false, size = 160 }: { desk: Desk; left: PhotoID; right: PhotoID; across?: boolean; size?: 160 | 400 | 1600 }) {
  return (
    <div class="facing" data-across={across ? "" : undefined}>
      <div class="leaf">{left ? <Print desk={desk} photo={left} size={size} /> : null}</div>
      <div class="leaf">{right && !across ? <Print desk={desk} photo={right} size={size} /> : null}</div>
    </div>
  );
}

/** Words of trouble inside a panel. */
export function Trouble({ of: { message, hint } }: { of: { message: string; hint: string } }) {
  return <p class="trouble" role="alert"><strong>{message}</strong> {hint}</p>;
}

/** Runs fn once things have been quiet for a while; a newer call replaces an older one. */
export function useQuietly(fn: () => void, pause: number, on: readonly unknown[]): void {
  useEffect(() => {
    const timer = setTimeout(fn, pause);
    return () => clearTimeout(timer);
  }, on as unknown[]);
}

/** What the program answers; asked anew when something in on changes, and not while ask is undefined. */
export function useAsked<T>(ask: (() => Promise<T>) | undefined, on: readonly unknown[]) {
  const [found, setFound] = useState<T>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  useEffect(() => {
    if (!ask) return undefined;
    let gone = false;
    ask().then(
      (answer) => { if (!gone) { setFound(answer); setTrouble(undefined); } },
      (err) => { if (!gone) setTrouble(troubleOf(err)); });
    return () => { gone = true; };
  }, on as unknown[]);
  return { found, trouble, setTrouble };
}

/** The revision of the wall once the program has all of it; undefined while acts are on their way. */
export function settledRevision(desk: Desk): number | undefined {
  return desk.session.waiting === 0 ? desk.session.sequence.revision : undefined;
}
