import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Board } from "../board/board";
import { chosenWords, commandsFor, notesOf, turnPushing } from "../model/commands";
import type { Desk } from "../model/desk";
import { emptyHand } from "../model/hand";
import { leaveBehind } from "../board/keys";
import { Shown, Tools } from "./finding";
import { Arriving } from "./arriving";
import { useDesk, Word } from "./parts";

const lowest = 96; // CSS pixels: one row of prints

/** The table and the box below the wall, always within reach. */
export function TrayFrame({ desk, board }: { desk: Desk; board: Board }) {
  useDesk(desk);
  const [tools, setTools] = useState(false); // on narrow screens they are folded away
  const [shows, setShows] = useState<"table" | "box">("table"); // on narrow screens only one has room
  useLayoutEffect(() => { if (desk.table.findings > 0) setTools(true); }, [desk.table.findings]);
  const counts = desk.counts;
  const { trayOpen, tray } = desk.view;
  const bare = counts.wall === 0 && counts.table + desk.arrivals.list.length > 0;
  const height = bare ? Math.max(tray, Math.round(innerHeight * 0.4)) : tray;
  return (
    <section class="tray" aria-label="Table and box" data-open={trayOpen ? "" : undefined} data-shows={shows} data-bare={bare ? "" : undefined}>
      {desk.photos.size > 0 && <HandLine desk={desk} />}
      {trayOpen && <Edge desk={desk} height={height} />}
      <div class="tray-head" data-tools={tools ? "" : undefined}>
        <button type="button" class="tray-name table" data-drop="table" aria-pressed={shows === "table"} onClick={() => setShows("table")}>
          <i>On the table</i><i>Table</i> <b data-count="table">{counts.table}</b>
        </button>
        {trayOpen && counts.table > 1 && <button type="button" class="word tools-word" data-act="tools" aria-expanded={tools} onClick={() => setTools(!tools)}>Sort, find</button>}
        {trayOpen && counts.table > 1 && <Tools desk={desk} />}
        <button type="button" class="tray-name box" data-drop="box" aria-pressed={shows === "box"} onClick={() => setShows("box")}>
          <i>In the box</i><i>Box</i> <b data-count="box">{counts.box}</b>
        </button>
        <Word act="fold-table" aria-expanded={trayOpen} onClick={() => desk.setView({ trayOpen: !trayOpen })}>{trayOpen ? "Fold" : "Unfold"}</Word>
      </div>
      {trayOpen && <Shown desk={desk} />}
      <Body desk={desk} board={board} height={height} />
    </section>
  );
}

function Body({ desk, board, height }: { desk: Desk; board: Board; height: number }) {
  const table = useRef<HTMLDivElement>(null);
  const box = useRef<HTMLDivElement>(null);
  const body = useRef<HTMLDivElement>(null);
  useEffect(() => {
    table.current!.append(board.table.el);
    box.current!.append(board.box.el);
  }, [board]);
  useEffect(() => body.current!.style.setProperty("--tray", `${height}px`), [height]);
  const counts = desk.counts;
  return (
    <div class="tray-body" ref={body} hidden={!desk.view.trayOpen}>
      <div class="tray-table">
        <div ref={table} class="prints-frame" />
        <Arriving desk={desk} />
        {counts.table > 0 && desk.table.laid.length === 0 && <p class="empty">Nothing on the table is like this.</p>}
        {counts.table + desk.arrivals.list.length === 0 && <p class="empty">{desk.photos.size === 0 ? "Nothing here yet: bring photographs in, and they lie here." : "Nothing lies on the table: every photo is on the wall or in the box."}</p>}
      </div>
      <div class="tray-box">
        <div ref={box} class="prints-frame" />
        {counts.box === 0 && <p class="empty">Set aside what you do without; it is never deleted.</p>}
      </div>
    </div>
  );
}

/** The edge by which the tray is made higher or lower. */
function Edge({ desk, height }: { desk: Desk; height: number }) {
  const highest = Math.round(innerHeight * 0.7);
  const set = (tray: number) => desk.setView({ tray: Math.min(highest, Math.max(lowest, Math.round(tray))) });
  const drag = (e: PointerEvent) => {
    const edge = e.currentTarget as HTMLElement;
    const from = e.clientY;
    edge.setPointerCapture(e.pointerId);
    const move = (m: PointerEvent) => set(height + from - m.clientY);
    edge.addEventListener("pointermove", move);
    edge.addEventListener("lostpointercapture", () => edge.removeEventListener("pointermove", move), { once: true });
  };
  const key = (e: KeyboardEvent) => {
    if (e.key !== "ArrowUp" && e.key !== "ArrowDown") return;
    e.preventDefault();
    set(height + (e.key === "ArrowUp" ? 32 : -32));
  };
  return (
    <div class="tray-edge" role="separator" tabIndex={0} aria-orientation="horizontal" aria-label="Height of the table"
      aria-valuenow={height} aria-valuemin={lowest} aria-valuemax={highest} onPointerDown={drag} onKeyDown={key} />
  );
}

/** What is chosen, and what can be done with it. */
function HandLine({ desk }: { desk: Desk }) {
  const { hand } = desk;
  if (!hand.chosen) {
    return <div class="hand"><p class="hint">{desk.trial.now ? "A pair is being tried. Take it or leave it." : desk.earlier ? "An earlier version can be looked at, not changed." : "Drag a photo, or choose one."}</p></div>;
  }
  const run = (command: ReturnType<typeof commandsFor>[number]) => {
    const photo = hand.chosen?.kind === "photo" ? hand.chosen.photo : 0;
    const card = document.querySelector(`[data-region] [data-photo="${photo}"]`);
    if (card && hand.more.length === 0 && (command.act === "table" || command.act === "box")) leaveBehind(card, photo);
    command.run();
    if (command.act === "choose-where") (card as HTMLElement | null)?.focus({ preventScroll: true });
  };
  const giveUp = () => desk.setHand(hand.where ? { ...hand, where: false, aim: undefined, push: false } : emptyHand);
  return (
    <div class="hand" data-where={hand.where ? "" : undefined}>
      <p class="chosen-name">{chosenWords(desk)}{hand.where && <span>: choose a page, or a place between two spreads</span>}</p>
      {!hand.where && notesOf(desk).map((n) => (
        <p class="noted" key={n.act}><span class="quiet">{n.act === "why" ? "Why these two:" : "Note:"}</span> <q title={n.words}>{n.words}</q></p>
      ))}
      <div class="hand-acts" role="group" aria-label="What can be done with it">
        {!hand.where && commandsFor(desk).map((c) => (
          <Word key={c.act} act={c.act} title={c.key ? `Key: ${c.key}` : undefined} onClick={() => run(c)}>{c.words}</Word>
        ))}
        {hand.where && hand.chosen.kind === "photo" && (
          <Word act="push-on" aria-pressed={hand.push} title="Key: p" onClick={() => turnPushing(desk)}>Push on instead of swapping</Word>
        )}
        <Word act="put-down" onClick={giveUp}>{hand.where ? "Leave it" : "Put down"}</Word>
      </div>
    </div>
  );
}
