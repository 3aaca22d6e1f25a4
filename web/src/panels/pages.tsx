import { useEffect, useRef, useState } from "preact/hooks";
import type { PageLine } from "../model/beside";
import type { Desk } from "../model/desk";
import { sizeText } from "../model/format";
import type { Paging } from "../model/paging";
import { openedAt, openedOf, placed, type Opened } from "../model/plan";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { BookSettings } from "./book-settings";
import { useCropping } from "./cropping";
import { InScale, type Marking } from "./in-scale";
import type { Mark } from "./opened";
import { Overview } from "./overview";
import { PageSettings } from "./page-settings";
import { usePaging } from "./paging";
import { SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";
import { ScreenScale } from "./screen-scale";

/** The book as spreads at true proportion, and one spread to scale in the hand. */
export function Pages({ desk }: { desk: Desk }) {
  useDesk(desk);
  const paging = usePaging(desk);
  const close = () => desk.show({ sheet: undefined });
  const key = (e: KeyboardEvent) => {
    if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z" || (e.target as Element).closest("input[type=text], textarea")) return;
    e.preventDefault();
    void (e.shiftKey ? paging.redo() : paging.undo());
  };
  return (
    <SheetFrame name="pages" title="Pages" whole close={close} onKeyDown={key}>
      {paging.trouble && <Trouble of={paging.trouble} />}
      {paging.now && paging.book && <Book desk={desk} paging={paging} now={paging.now} shown={paging.book} />}
    </SheetFrame>
  );
}

type Way = "all" | "fit" | "true";

function Book({ desk, paging, now, shown }: { desk: Desk; paging: Paging; now: api.Pages; shown: api.BookShown }) {
  const [way, setWay] = useState<Way>("all");
  const [at, setAt] = useState(desk.page || 1);
  const page = Math.min(at, shown.book.pages.length);
  const [side, setSide] = useState<"book" | "page">(desk.page > 0 ? "page" : "book");
  const cropping = useCropping(desk, paging);
  const marking = useMarking(desk, paging);
  const opened = openedOf(shown.book);
  const went = useRef(0); // counts choices, so that what comes late does not undo a newer one
  const go = (to: number) => {
    went.current++;
    desk.page = Math.min(Math.max(1, to), shown.book.pages.length);
    setAt(desk.page);
    setSide("page");
  };
  const goThen = () => {
    const mine = went.current;
    return (to: number) => { if (mine === went.current) go(to); };
  };
  const turn = (by: number) => {
    const next = opened[openedAt(page) + by];
    if (next) go((next.left ?? next.right)!.number);
  };
  useEffect(() => marking.leave(), [page]);
  const { lines } = desk.view;
  const is = shown.book.pages[page - 1];
  return (
    <>
      <PagesHead {...{ desk, paging, now, shown, way, setWay, turn }} of={opened[openedAt(page)]} />
      <div class="book-room" data-way={way}>
        <div class="book-sight">
          {way === "all"
            ? <Overview desk={desk} shown={shown} lines={lines} page={page} select={go} take={() => setWay("fit")} />
            : <InScale {...{ desk, shown, page, lines, cropping, marking }} truly={way === "true"} select={go} />}
        </div>
        <div class="book-side">
          {way === "true" && <ScreenScale desk={desk} />}
          <div class="line-acts side-choice" role="group" aria-label="Settings of">
            {([["page", `Page ${page}`], ["book", "All pages"]] as const).map(([name, words]) => <Word key={name} act={`set-${name}`} aria-pressed={side === name} onClick={() => setSide(name)}>{words}</Word>)}
          </div>
          {side === "page" && is && <PageSettings key={is.shown?.photo ?? `page ${page}`} {...{ desk, paging, now, cropping, marking }} page={is} begin={(of) => { if (way === "all") setWay("fit"); marking.begin(of); }} />}
          {side === "book" && <BookSettings {...{ desk, paging, now, goThen }} />}
          <Misfits shown={shown} go={go} />
        </div>
      </div>
    </>
  );
}

/** Marks what must stay in sight; kept as one act. */
function useMarking(desk: Desk, paging: Paging): Marking & { begin(of: api.Shown): void } {
  const [mark, setMark] = useState<Mark>();
  return {
    mark,
    begin: (of) => {
      setMark({ photo: of.photo, at: of.keep ?? { x: 0.5, y: 0.5 } });
      desk.say("Click on what must stay in sight, or go to the page and move the mark with the arrow keys; Enter keeps it.");
      requestAnimationFrame(() => document.querySelector<HTMLElement>("[data-half][data-marking]")?.focus());
    },
    move: (at) => setMark((was) => was && { ...was, at }),
    keep: (at) => {
      if (!mark) return;
      const keep = { x: Math.round(at.x * 1e4) / 1e4, y: Math.round(at.y * 1e4) / 1e4 };
      void paging.edit(`mark what must stay in sight of photo ${mark.photo}`, ({ format, plan }) => ({ format, plan: placed(plan, mark.photo, { keep }) }))
        .then(() => { setMark(undefined); desk.say("The mark is kept."); });
    },
    leave: () => setMark(undefined),
  };
}

interface HeadProps {
  desk: Desk;
  paging: Paging;
  now: api.Pages;
  shown: api.BookShown;
  way: Way;
  setWay(way: Way): void;
  turn(by: number): void;
  of: Opened | undefined;
}

function PagesHead({ desk, paging, now, shown, way, setWay, turn, of }: HeadProps) {
  const { lines } = desk.view;
  const { found: list } = useAsked(program.formats, []);
  const toggle = (line: PageLine) => desk.setView({ lines: lines.includes(line) ? lines.filter((l) => l !== line) : [...lines, line] });
  const numbers = of ? [of.left?.number, of.right?.number].filter(Boolean).join("–") : "";
  return (
    <div class="book-head">
      <p><strong>{plural(shown.book.pages.length, "page")}</strong>{list && `, ${sizeText(shown.book.format, list.sizes)}`} <Word act="format" onClick={() => desk.show({ sheet: "format" })}>Format</Word></p>
      <div class="line-acts" role="group" aria-label="How the pages are seen">
        {([["all", "All spreads"], ["fit", "In the hand"], ["true", "True size"]] as const).map(([name, words]) => <Word key={name} act={`see-${name}`} aria-pressed={way === name} onClick={() => setWay(name)}>{words}</Word>)}
      </div>
      {way !== "all" && (
        <div class="line-acts" role="group" aria-label="Turning">
          <Word act="turn-back" disabled={!of?.left} onClick={() => turn(-1)}>Back</Word>
          <span class="quiet">{numbers}</span>
          <Word act="turn-on" disabled={!of?.right || of.right.number === shown.book.pages.length} onClick={() => turn(1)}>On</Word>
        </div>
      )}
      <div class="line-acts" role="group" aria-label="Lines shown">
        {(["trim", "bleed", "safe"] as const).map((line) => (
          <label key={line} class="tick"><input type="checkbox" name={`line-${line}`} checked={lines.includes(line)} onChange={() => toggle(line)} /> {line === "safe" ? "safe margin" : line}</label>
        ))}
      </div>
      <div class="line-acts" role="group" aria-label="Undo and redo">
        <Word act="undo-pages" disabled={now.undo === ""} onClick={() => void paging.undo().then(() => desk.say("Undone."))}>{now.undo ? `Undo: ${now.undo}` : "Undo"}</Word>
        <Word act="redo-pages" disabled={now.redo === ""} onClick={() => void paging.redo().then(() => desk.say("Done again."))}>{now.redo ? `Redo: ${now.redo}` : "Redo"}</Word>
      </div>
    </div>
  );
}

/** What does not fit, all over the book; each leads to its page. */
function Misfits({ shown, go }: { shown: api.BookShown; go(page: number): void }) {
  const [all, setAll] = useState(false);
  const { misfits } = shown;
  const seen = all ? misfits : misfits.slice(0, 6);
  return (
    <section aria-labelledby="misfits-title" data-all-misfits={misfits.length}>
      <h3 id="misfits-title">{misfits.length === 0 ? "Everything fits" : `${plural(misfits.length, "thing does", "things do")} not fit`}</h3>
      <ul class="unfit">
        {seen.map((m, i) => (
          <li key={i}>{m.page ? <button type="button" class="word" data-act="go-to-page" onClick={() => go(m.page!)}>{m.words}</button> : m.words} <span class="quiet">{m.hint}</span></li>
        ))}
      </ul>
      {misfits.length > seen.length && <Word act="all-misfits" onClick={() => setAll(true)}>Show the other {misfits.length - seen.length}</Word>}
    </section>
  );
}
