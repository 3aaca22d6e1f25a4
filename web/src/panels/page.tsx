import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import type { Board } from "../board/board";
import { intoSight } from "../board/scroll";
import type { Desk } from "../model/desk";
import { Arrange } from "./arrange";
import { Format } from "./format";
import { Pages } from "./pages";
import { Borrow } from "./borrow";
import { Bring } from "./bring";
import { NameChapter } from "./chapter";
import { Cover } from "./cover";
import { Checks } from "./checks";
import { Choose } from "./choose";
import { Compare } from "./compare";
import { EditionPanel } from "./edition";
import { Facts } from "./facts";
import { FreshEyes } from "./fresh";
import { Head } from "./head";
import { Keys } from "./keys";
import { Labels } from "./labels";
import { Leafing } from "./leafing";
import { Look } from "./look";
import { Loss } from "./loss";
import { Map } from "./map";
import { MoneyPanel } from "./money";
import { EarlierBand, Notices } from "./notices";
import { Missing, Originals } from "./originals";
import { Orders } from "./orders";
import { Partners } from "./partners";
import { Pack } from "./pack";
import { PackingTable } from "./packing";
import { PaperWall } from "./paper-wall";
import { Postage } from "./postage";
import { Press } from "./press";
import { Prints } from "./prints";
import { Proofs } from "./proofs";
import { Quotes } from "./quotes";
import { piles } from "../net/program";
import { useDesk, useQuietly, Word } from "./parts";
import { Settled } from "./settled";
import { InHand } from "./stage";
import { Thin } from "./thin";
import { TrialBand } from "./trial";
import { TrayFrame } from "./tray";
import { Versions } from "./versions";
import { Weeks } from "./weeks";

/** One title: the wall, with everything around it. */
export function TitlePage({ desk, board }: { desk: Desk; board: Board }) {
  useDesk(desk);
  useView(desk, board);
  usePiles(desk);
  return (
    <div class="desk" data-side={desk.side}>
      <a class="skip" href="#wall" onClick={(e) => { e.preventDefault(); document.getElementById("wall")?.focus(); }}>To the wall</a>
      <Head desk={desk} />
      <Notices desk={desk} />
      <Missing desk={desk} />
      <EarlierBand desk={desk} />
      <TrialBand desk={desk} />
      <div class="room">
        <WallPlace desk={desk} board={board} />
        {desk.side === "partners" && <Partners desk={desk} />}
        {desk.side === "versions" && <Versions desk={desk} />}
        {desk.side === "facts" && <Facts desk={desk} />}
        {desk.side === "loss" && <Loss desk={desk} />}
        {desk.side === "choose" && <Choose desk={desk} />}
      </div>
      <TrayFrame desk={desk} board={board} />
      <Running desk={desk} />
      {desk.sheet === "bring" && <Bring desk={desk} />}
      {desk.sheet === "proofs" && <Proofs desk={desk} />}
      {desk.sheet === "checks" && <Checks desk={desk} />}
      {desk.sheet === "cover" && <Cover desk={desk} />}
      {desk.sheet === "arrange" && <Arrange desk={desk} />}
      {desk.naming && "from" in desk.naming && <NameChapter desk={desk} run={desk.naming} />}
      {desk.sheet === "keys" && <Keys desk={desk} />}
      {desk.sheet === "look" && <Look desk={desk} />}
      {desk.sheet === "in-hand" && <InHand desk={desk} />}
      {desk.sheet === "leafing" && <Leafing desk={desk} />}
      {desk.sheet === "map" && <Map desk={desk} />}
      {desk.sheet === "borrow" && <Borrow desk={desk} />}
      {desk.sheet === "edition" && <EditionPanel desk={desk} />}
      {desk.sheet === "orders" && <Orders desk={desk} />}
      {desk.sheet === "postage" && <Postage desk={desk} />}
      {desk.sheet === "labels" && <Labels desk={desk} />}
      {desk.sheet === "packing" && <PackingTable desk={desk} />}
      {desk.sheet === "money" && <MoneyPanel desk={desk} />}
      {desk.sheet === "pack" && <Pack desk={desk} />}
      {desk.sheet === "print" && <Press desk={desk} />}
      {desk.sheet === "quotes" && <Quotes desk={desk} />}
      {desk.sheet === "prints" && <Prints desk={desk} />}
      {desk.sheet === "paper-wall" && <PaperWall desk={desk} />}
      {desk.sheet === "format" && <Format desk={desk} />}
      {desk.sheet === "pages" && <Pages desk={desk} />}
      {desk.sheet === "originals" && <Originals desk={desk} />}
      {desk.sheet === "weeks" && <Weeks desk={desk} />}
      {desk.sheet === "compare" && <Compare desk={desk} />}
      {desk.sheet === "settled" && <Settled desk={desk} />}
      {desk.sheet === "fresh" && <FreshEyes desk={desk} />}
      {desk.sheet === "thin" && <Thin desk={desk} />}
    </div>
  );
}

function WallPlace({ desk, board }: { desk: Desk; board: Board }) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => place.current!.append(board.wall.el), [board]);
  return (
    <main id="wall" tabIndex={-1} aria-label="The wall">
      <Bare desk={desk} />
      <div ref={place} />
    </main>
  );
}

/** What to do first, while there is nothing on the wall. */
function Bare({ desk }: { desk: Desk }) {
  const { wall } = desk.counts;
  if (wall > 0 || desk.readOnly) return null;
  if (desk.photos.size === 0) {
    return (
      <section class="bare">
        <h2>{desk.arrivals.list.length > 0 ? "Photographs are on their way in" : "No photographs yet"}</h2>
        <p>Bring in a folder, or drop files anywhere on this page. The originals are read and never touched.</p>
        <Word act="bring" strong onClick={() => desk.show({ sheet: "bring" })}>Bring photographs</Word>
      </section>
    );
  }
  return (
    <section class="bare">
      <h2>The wall is bare</h2>
      <p>Drag a print from the table up onto a page, or choose one and ask who could face it. Or let the program propose pairs and an order to begin from.</p>
      <Word act="partners" onClick={() => desk.show({ side: "partners" })}>Who faces whom</Word>
      <Word act="arrange" strong onClick={() => desk.show({ sheet: "arrange" })}>Propose an order</Word>
    </section>
  );
}

/** A quiet line while photographs come in and the dialog is closed. */
function Running({ desk }: { desk: Desk }) {
  const bring = desk.brings.find((b) => b.state === "running");
  if (!bring || desk.sheet === "bring") return null;
  return (
    <button type="button" class="running word" data-act="bring" onClick={() => desk.show({ sheet: "bring" })}>
      Bringing in: {bring.read + bring.known + bring.refused} of {bring.found || "…"}
    </button>
  );
}

/** Asks which photos are nearly the same, whenever photos came or their times are others. */
function usePiles(desk: Desk): void {
  useQuietly(() => {
    if (desk.photos.size < 2) return;
    piles(desk.title.id).then((p) => desk.table.changedPiles(p.piles), () => undefined); // without an answer the prints lie side by side
  }, 700, [desk.photos]);
}

const chapterHead = 26; // CSS pixels, as wall.css has it

/** Puts the maker's liking into effect, and tells the page how much room the fixed parts take. */
function useView(desk: Desk, board: Board): void {
  const { ground } = desk.view;
  useLayoutEffect(() => {
    document.documentElement.dataset.ground = ground;
    document.documentElement.toggleAttribute("data-squint", desk.squinting);
  }, [ground, desk.squinting]);
  useEffect(() => () => document.documentElement.removeAttribute("data-squint"), []);
  // Opening a panel narrows the wall: what was chosen must not be lost from sight.
  useEffect(() => intoSight(document.querySelector(".wall [data-chosen]")), [desk.side]);
  useLayoutEffect(() => {
    const html = document.documentElement;
    const bar = document.querySelector(".head-bar")!;
    const tray = document.querySelector(".tray")!;
    const wall = board.wall.el;
    const finger = matchMedia("(pointer: coarse)");
    const measure = () => {
      const [above, below] = [bar.getBoundingClientRect().height, tray.getBoundingClientRect().height];
      html.style.setProperty("--bar-room", `${above}px`);
      html.style.setProperty("--tray-room", `${below}px`);
      const width = wall.parentElement!.clientWidth; // the wall itself reaches half a gap over either end of its lines
      if (width > 0) desk.setRoom({ width, height: Math.max(0, innerHeight - above - below - 36), finger: finger.matches, head: wall.hasAttribute("data-chaptered") ? chapterHead : 0 });
    };
    const watch = new ResizeObserver(measure);
    for (const el of [bar, tray, wall.parentElement!]) watch.observe(el);
    measure();
    addEventListener("resize", measure);
    return () => {
      watch.disconnect();
      removeEventListener("resize", measure);
    };
  }, [desk, board, desk.shown.chapters.length > 0]);
}
