// Above the table's prints: how they are laid out, what of them is shown, and
// the field to find one by what is written of it.

import { useEffect, useRef } from "preact/hooks";
import type { Desk } from "../model/desk";
import { answers, readQuery } from "../model/finding";
import { onWall, type PhotoID, whyOf } from "../model/sequence";
import { shownWords, showingAll, showsAll, tableOrders, turn, type Only, type TableOrder } from "../model/table";
import { intoSight } from "../board/scroll";
import { drawNow } from "../board/walk";
import { Word } from "./parts";

const uses: readonly Only[] = [{ by: "use", key: "new", words: "Not yet used" }, { by: "use", key: "once", words: "Once on the wall" }];

/** The line of tools in the table's head. */
export function Tools({ desk }: { desk: Desk }) {
  const use = desk.table.showing.only.find((o) => o.by === "use")?.key ?? "";
  const showUse = (key: string) => {
    const only = uses.find((o) => o.key === (key || use));
    if (only) desk.table.show(turn(desk.table.showing, only));
  };
  return (
    <div class="lay-out">
      <label><span>laid out</span> <select aria-label="How the prints are laid out" value={desk.view.order} onChange={(e) => desk.setView({ order: e.currentTarget.value as TableOrder })}>
        {tableOrders.map(([order, words]) => <option key={order} value={order}>{words}</option>)}
      </select></label>
      {desk.table.piles.length > 0 && (
        <label class="check piled"><input type="checkbox" checked={desk.view.piled} onChange={(e) => desk.setView({ piled: e.currentTarget.checked })} /> in piles</label>
      )}
      <label><span>shown</span> <select aria-label="Which prints are shown" value={use} onChange={(e) => showUse(e.currentTarget.value)}>
        <option value="">used or not</option>
        {uses.map((o) => <option key={o.key} value={o.key}>{o.words.toLowerCase()}</option>)}
      </select></label>
      <Word act="show-only" aria-pressed={desk.side === "choose" && desk.sieving} onClick={() => desk.show(desk.side === "choose" && desk.sieving ? { side: undefined } : { side: "choose", sieving: true })}>Show only…</Word>
      <Find desk={desk} />
    </div>
  );
}

function Find({ desk }: { desk: Desk }) {
  const field = useRef<HTMLInputElement>(null);
  const asked = useRef(desk.table.findings);
  useEffect(() => {
    if (desk.table.findings === asked.current) return;
    asked.current = desk.table.findings;
    field.current!.focus();
    field.current!.select();
  }, [desk.table.findings]);
  const key = (e: KeyboardEvent) => {
    if (e.key === "Escape" && desk.table.showing.text !== "") {
      e.preventDefault();
      e.stopPropagation();
      desk.table.show({ ...desk.table.showing, text: "" });
    } else if (e.key === "Enter") {
      e.preventDefault();
      goToFound(desk);
    }
  };
  return (
    <input ref={field} type="search" class="find" data-say="find" value={desk.table.showing.text} aria-label="Find on the table by number, name, caption or note" placeholder="find by number or words"
      spellcheck={false} autocomplete="off" onInput={(e) => desk.table.show({ ...desk.table.showing, text: e.currentTarget.value })} onKeyDown={key} />
  );
}

/** To the first print found: on the table, or where else it lies. */
function goToFound(desk: Desk): void {
  const first = desk.table.laid[0]?.photo;
  if (first !== undefined) return focus(first);
  const { wall, box } = elsewhere(desk);
  if (wall.length + box.length > 0) goTo(desk, [...wall, ...box]);
  else desk.say("Nothing is found.");
}

function focus(photo: PhotoID): void {
  const card = document.querySelector<HTMLElement>(`[data-region] [data-photo="${photo}"]`);
  if (card) drawNow(card);
  card?.focus({ preventScroll: true });
  intoSight(card);
}

function goTo(desk: Desk, photos: readonly PhotoID[]): void {
  desk.chooseAll(photos);
  document.querySelector(`[data-region] [data-photo="${photos[0]}"]`)?.scrollIntoView({ block: "center" });
}

/** What the words in the field find beside the table. */
function elsewhere(desk: Desk): { wall: PhotoID[]; box: PhotoID[] } {
  const query = readQuery(desk.table.showing.text);
  const found = (photos: readonly PhotoID[]) => (query ? photos.filter((id) => { const p = desk.photos.get(id); return p && answers(p, query, whyOf(desk.shown, id)); }) : []);
  return { wall: found(onWall(desk.shown)), box: found(desk.shown.box) };
}

/** Says what of the table is not shown, and shows it again; nothing is ever hidden in silence. */
export function Shown({ desk }: { desk: Desk }) {
  const { showing } = desk.table;
  if (showsAll(showing)) return null;
  const all = desk.table.photos.length;
  const shown = desk.table.shown.length;
  const { wall, box } = elsewhere(desk);
  const also = [wall.length > 0 ? `${wall.length} on the wall` : "", box.length > 0 ? `${box.length} in the box` : ""].filter(Boolean).join(" and ");
  const text = readQuery(showing.text) ? showing.text.trim() : "";
  return (
    <p class="shown-line" data-shown={shown} data-hidden={all - shown}>
      <strong>{shownWords(shown, all)}</strong>
      {text && <Word act="no-longer" onClick={() => desk.table.show({ ...showing, text: "" })}>“{text}” <Away /></Word>}
      {showing.only.map((o) => <Word key={`${o.by} ${o.key}`} act="no-longer" onClick={() => desk.table.show(turn(showing, o))}>{o.words} <Away /></Word>)}
      {also && <Word act="found-elsewhere" onClick={() => goTo(desk, [...wall, ...box])}>also {also}</Word>}
      <Word act="show-all" strong onClick={() => desk.table.show(showingAll)}>{all - shown > 0 ? `Show the other ${all - shown} again` : "Show all again"}</Word>
    </p>
  );
}

function Away() {
  return <><span aria-hidden="true">×</span><span class="unseen">, no longer ask for it</span></>;
}
