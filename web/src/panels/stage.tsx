// A spread as it will lie in the hand, and leafing through: nothing but paper on
// the ground, as large as the window allows.

import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { chosenPhoto } from "../model/hand";
import { openingOfPhoto, openings, openingWords, photosOf, type Face, type Opening } from "../model/openings";
import { indexOf } from "../model/sequence";
import { cardAddress } from "../net/program";
import { useDesk, useModal, Word } from "./parts";

interface StageProps {
  name: string; // data-panel
  label: string;
  close(): void;
  onKeyDown(e: KeyboardEvent): void;
  children: ComponentChildren;
}

/** The whole window, on the ground the maker has chosen. */
export function Stage({ name, label, close, onKeyDown, children }: StageProps) {
  const ref = useRef<HTMLDialogElement>(null);
  useModal(ref);
  return (
    <dialog ref={ref} class="stage" tabIndex={-1} autofocus data-panel={name} aria-label={label} onCancel={(e) => { e.preventDefault(); close(); }} onKeyDown={onKeyDown}>
      {children}
    </dialog>
  );
}

const thickest = 7; // CSS pixels the pages below show at either edge; no source

/** What lies open at once, with the pages before and behind it showing at its edges. */
export function Lying({ desk, of, all, children }: { desk: Desk; of: Opening; all: number; children?: ComponentChildren }) {
  const read = all > 1 ? (of.first - 1) / (2 * (all - 1)) : 0; // part of the pages that lie on the left
  const below = { "--before": `${(thickest * read).toFixed(1)}px`, "--behind": `${(thickest * (1 - read)).toFixed(1)}px` };
  return (
    <div class="book" style={below} role="img" aria-label={openingWords(of)}>
      <Leaf desk={desk} face={of.left} side="verso" />
      <Leaf desk={desk} face={of.right} side="recto" />
      {children}
    </div>
  );
}

/** One page, or the half of a photo that lies on it. */
export function Leaf({ desk, face, side }: { desk: Desk; face: Face | undefined; side: "verso" | "recto" }) {
  if (!face) return <div class={`no-leaf ${side}`} />;
  const known = desk.photos.get(face.photo);
  return (
    <div class={`sheet-of ${side}`} data-half={face.half ? "" : undefined} data-shows={face.photo}>
      {known && <img key={face.photo} class="shown" src={cardAddress(desk.title.id, face.photo, 1600)} alt="" width={known.width} height={known.height} draggable={false} decoding="sync" />}
    </div>
  );
}

/** Has the pictures of openings ready before they are turned to. */
export function useReady(desk: Desk, list: readonly (Opening | undefined)[]): void {
  const photos = list.flatMap((o) => (o ? photosOf(o) : []));
  useEffect(() => {
    for (const photo of photos) new Image().src = cardAddress(desk.title.id, photo, 1600);
  }, [photos.join(" ")]);
}

/** Where to open: at what is chosen or has the focus, else at what lies in the middle of the sight. */
function openAt(desk: Desk): number {
  const q = desk.shown;
  const { chosen } = desk.hand;
  if (chosen?.kind === "spread") return indexOf(q, chosen.spread) + 1;
  const photo = openingOfPhoto(q, chosenPhoto(desk.hand));
  if (photo >= 0) return photo;
  const rows = [...document.querySelectorAll<HTMLElement>(".wall > .spread")];
  const focused = rows.findIndex((row) => row.contains(document.activeElement));
  if (focused >= 0) return focused;
  const seen = rows.findIndex((row) => row.contains(document.elementFromPoint(innerWidth / 2, innerHeight / 3)));
  return Math.max(0, seen);
}

/** A single spread, large, gutter and all. */
export function InHand({ desk }: { desk: Desk }) {
  useDesk(desk);
  const all = openings(desk.shown);
  const [wanted, setAt] = useState(() => openAt(desk));
  const at = Math.min(wanted, all.length - 1);
  const close = () => desk.show({ sheet: undefined });
  const go = (to: number) => {
    if (to < 0 || to >= all.length || to === at) return;
    setAt(to);
    desk.say(openingWords(all[to]!));
  };
  const key = (e: KeyboardEvent) => {
    const to: Record<string, number> = { ArrowRight: at + 1, ArrowLeft: at - 1, Home: 0, End: all.length - 1 };
    if (e.key in to) {
      e.preventDefault();
      go(to[e.key]!);
    } else if (e.key === "q") desk.squint();
  };
  useReady(desk, [all[at - 1], all[at + 1]]);
  return (
    <Stage name="in-hand" label="In the hand" close={close} onKeyDown={key}>
      <Lying desk={desk} of={all[at]!} all={all.length} />
      <div class="stage-foot">
        <Word act="previous-spread" aria-disabled={at === 0} onClick={() => go(at - 1)}>Before it</Word>
        <span class="stage-words">{openingWords(all[at]!)}</span>
        <Word act="next-spread" aria-disabled={at === all.length - 1} onClick={() => go(at + 1)}>After it</Word>
        <Word act="squint-here" aria-pressed={desk.squinting} onClick={() => desk.squint()}>Squint</Word>
        <Word act="close" onClick={close}>Lay it down</Word>
      </div>
    </Stage>
  );
}
