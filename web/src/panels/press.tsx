import { useEffect, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { pagesIn } from "../model/printing";
import { plural, sentence } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";

type Kind = api.PrintingWish["kind"];

interface Wish {
  readonly kind: Kind;
  readonly marks: boolean;
  readonly small: boolean; // pictures no finer than printers want
  readonly screen: boolean; // for sRGB although there is a profile
  readonly convert: boolean;
  readonly cards: boolean; // card images in place of originals that cannot be printed
  readonly sheet: string;
  readonly duplex: api.PrintingWish["duplex"];
  readonly creep: string;
  readonly fit: boolean; // pages made smaller, where two do not fit
  readonly pages: string; // as typed
}

const first: Wish = { kind: "pages", marks: false, small: false, screen: false, convert: false, cards: false, sheet: "A4", duplex: "short", creep: "gaps", fit: true, pages: "" };
const named: Readonly<Record<string, string>> = { pages: "For the printer", spreads: "To look at", dummy: "A dummy", test: "A few pages at true size" };
const wanted = 300; // pixels per inch: published practice

interface PartProps {
  terms: api.PrintTerms;
  wish: Wish;
  set(some: Partial<Wish>): void;
}

/** The book as PDF: for the printer, to look at, to fold at home, to test. */
export function Press({ desk }: { desk: Desk }) {
  useDesk(desk);
  const id = desk.title.id;
  const { found: terms, trouble, setTrouble } = useAsked(() => program.printTerms(id), [id, desk.session.sequence, desk.pages]);
  const [wish, setWish] = useState<Wish>(first);
  const set = (some: Partial<Wish>) => setWish({ ...wish, ...some });
  const { kind } = wish;
  useEffect(() => { // what was begun before this panel was opened
    const before = desk.printing;
    program.printings(id).then(({ printings }) => { const last = printings.at(-1); if (last && desk.printing === before) desk.printed(last); }, () => undefined); // news are newer
  }, [desk]);
  const chosen = pagesIn(wish.pages, terms?.pages ?? 0);
  const ready = !!terms && desk.printing?.state !== "running" && (kind !== "test" || chosen.length > 0);
  const begin = () => {
    setTrouble(undefined);
    const before = desk.printing;
    const asked: api.PrintingWish = { kind, sheet: wish.sheet, duplex: wish.duplex, creep: wish.creep, fit: wish.fit, pages: chosen,
      press: { marks: wish.marks, most: wish.small ? wanted : 0, screen: wish.screen, convert: wish.convert && !wish.screen, cards: wish.cards } };
    const begun = (p: api.PrintingShown) => desk.printing === before && desk.printed(p); // a short one has ended before its beginning is answered
    program.print(id, asked).then(begun, (err) => setTrouble(program.troubleOf(err)));
  };
  return (
    <SheetFrame name="print" title="Print" close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      {terms && (
        <form class="press" onSubmit={(e) => { e.preventDefault(); if (ready) begin(); }}>
          <Kinds terms={terms} wish={wish} set={set} />
          {kind === "pages" && <ForPrinter desk={desk} terms={terms} wish={wish} set={set} />}
          {kind === "dummy" && <Dummy terms={terms} wish={wish} set={set} />}
          {kind === "test" && <Test terms={terms} wish={wish} set={set} />}
          {(kind === "pages" || kind === "test") && terms.unfit.length > 0 && <Unfit desk={desk} terms={terms} wish={wish} set={set} />}
          <p><button type="submit" class="word strong" data-act="begin-printing" disabled={!ready}>Make the PDF</button></p>
        </form>
      )}
      <Under desk={desk} stop={(n) => void program.stopPrinting(id, n).catch((err) => setTrouble(program.troubleOf(err)))} />
      <p class="quiet">No PDF says where or when a photograph was taken. Whoever can be recognised should have agreed.</p>
    </SheetFrame>
  );
}

function Kinds({ terms, wish, set }: PartProps) {
  const kinds: readonly (readonly [Kind, words: string, more: string])[] = [
    ["pages", named["pages"]!, `${plural(terms.pages, "single page")} with their bleed, from the originals`],
    ["spreads", named["spreads"]!, "pages beside each other, as a reader sees them"],
    ["dummy", named["dummy"]!, terms.folded ? "for a home printer, to fold and staple" : "for a home printer, to cut and hold at the back"],
    ["test", named["test"]!, "to judge pictures before a copy is ordered"],
  ];
  return (
    <fieldset class="choice">
      <legend>What for?</legend>
      {kinds.map(([kind, words, more]) => (
        <label key={kind}>
          <input type="radio" name="kind" value={kind} checked={wish.kind === kind} onChange={() => set({ kind })} />
          <span>{words} <span class="quiet">{more}</span></span>
        </label>
      ))}
    </fieldset>
  );
}

function ForPrinter({ desk, terms, wish, set }: PartProps & { desk: Desk }) {
  const unmet = wish.screen && terms.profile ? ["PDF/X-4 asks for the profile of a printing press, and sRGB is that of a screen."] : terms.unmet;
  return (
    <>
      {terms.profile ? (
        <label>Colours for
          <select name="intent" value={wish.screen ? "screen" : "press"} onChange={(e) => set({ screen: e.currentTarget.value === "screen" })}>
            <option value="press">{terms.profile}</option>
            <option value="screen">sRGB</option>
          </select>
        </label>
      ) : <p>Colours are kept as they are, and the file says sRGB. <Word act="checks" onClick={() => desk.show({ sheet: "checks" })}>Give the printer's profile</Word></p>}
      {terms.profile && !wish.screen && <Tick name="convert" on={wish.convert} set={(convert) => set({ convert })}>convert pictures to these inks; otherwise they keep their own colours, and the printer converts them</Tick>}
      <Tick name="marks" on={wish.marks} set={(marks) => set({ marks })}>crop and registration marks outside the bleed</Tick>
      <Tick name="small" on={wish.small} set={(small) => set({ small })}>make pictures smaller that are finer than {wanted} pixels per inch; otherwise JPEG files go into the PDF as they are</Tick>
      <p role="note" data-unmet={unmet.length}>{unmet.length === 0 ? "The file is PDF/X-4." : unmet.join(" ")}</p>
    </>
  );
}

function Dummy({ terms, wish, set }: PartProps) {
  const scaled = terms.scales.find((s) => s.sheet === wish.sheet);
  return (
    <>
      <Paper wish={wish} set={set} />
      <label>The printer turns the sheet over
        <select name="duplex" value={wish.duplex} onChange={(e) => set({ duplex: e.currentTarget.value as Wish["duplex"] })}>
          <option value="short">on the short edge</option>
          <option value="long">on the long edge</option>
        </select>
      </label>
      {terms.folded && (
        <label>Creep: how far the innermost pages move towards the fold
          <select name="creep" value={wish.creep} onChange={(e) => set({ creep: e.currentTarget.value })}>
            {terms.creeps.map((c) => <option key={c.name} value={c.name}>{c.amount.toFixed(2)} mm, {c.words}</option>)}
          </select>
        </label>
      )}
      {scaled && <Tick name="fit" on={wish.fit} set={(fit) => set({ fit })}>make pages smaller, to {Math.floor(scaled.scale * 100)} %: two do not fit on {wish.sheet}</Tick>}
      {terms.blank > 0 && <p class="quiet">The last {plural(terms.blank, "page")} of the dummy {terms.blank === 1 ? "is" : "are"} blank, because sheets are whole.</p>}
      <p class="care">Its last page tells how to make it. Cut along a steel rule on a mat, fingers behind it and the blade moving past your hand, not towards it.</p>
    </>
  );
}

function Test({ terms, wish, set }: PartProps) {
  return (
    <>
      <Paper wish={wish} set={set} />
      <label>Pages, of {terms.pages}
        <input name="pages" inputMode="numeric" placeholder="2, 3, 8-9" value={wish.pages} onInput={(e) => set({ pages: e.currentTarget.value })} />
      </label>
      <p class="quiet">Print at 100 %, not fitted to the page, on paper like that of the book.</p>
    </>
  );
}

function Paper({ wish, set }: Omit<PartProps, "terms">) {
  return (
    <label>Paper
      <select name="sheet" value={wish.sheet} onChange={(e) => set({ sheet: e.currentTarget.value })}>
        {["A4", "A3", "Letter"].map((name) => <option key={name}>{name}</option>)}
      </select>
    </label>
  );
}

function Unfit({ desk, terms, wish, set }: PartProps & { desk: Desk }) {
  return (
    <section aria-label="Originals that cannot be printed">
      <ul class="unfit">{terms.unfit.map((u) => <li key={u.page} data-unfit={u.page}>{sentence(u.words)}</li>)}</ul>
      <p><Word act="originals" onClick={() => desk.show({ sheet: "originals" })}>Find originals again</Word></p>
      <Tick name="cards" on={wish.cards} set={(cards) => set({ cards })}>print their card images instead, of 1600 pixels</Tick>
    </section>
  );
}

function Tick({ name, on, set, children }: { name: string; on: boolean; set(on: boolean): void; children: preact.ComponentChildren }) {
  return <label class="tick"><input name={name} type="checkbox" checked={on} onChange={(e) => set(e.currentTarget.checked)} /> <span>{children}</span></label>;
}

/** What is being made, or was made last. */
function Under({ desk, stop }: { desk: Desk; stop(id: number): void }) {
  const p = desk.printing;
  if (!p) return null;
  return (
    <div class="under" data-printing={p.state}>
      <p role="status"><strong>{named[p.kind]}.</strong> {p.words} {p.hint}</p>
      {p.state === "running" && <progress {...(p.of > 0 ? { max: p.of, value: p.done } : {})} aria-label="Pages made" />}
      {p.state === "running" && <Word act="stop-printing" onClick={() => stop(p.id)}>Stop</Word>}
      {p.state === "done" && <p><a class="word strong" data-act="fetch-printing" href={`/out/${desk.title.id}/printed/${p.id}.pdf`} download>Save the PDF</a> <span class="quiet">{megabytes(p.bytes)}</span></p>}
    </div>
  );
}

const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;
