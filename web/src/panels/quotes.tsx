import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { actWords, decimalsOf, turnedWords, type Inquiry } from "../model/inquiry";
import type { Decimals } from "../model/money";
import { sentence } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Asked } from "./quotes-asked";
import { Given } from "./quotes-given";
import { PriceOf } from "./quotes-price";
import { SideBySide } from "./quotes-side";
import { SpecificationOf } from "./quotes-specification";
import { SheetFrame, Trouble, useDesk, Word } from "./parts";

/** An inquiry as it stands, and the way to change it. */
export interface Dealing {
  readonly desk: Desk;
  readonly of: Inquiry;
  readonly decimals: Decimals;
  /** Does one thing after the other, each on what the one before led to; false when the program refused. */
  act(make: (now: Inquiry) => Promise<Inquiry>): Promise<boolean>;
}

const sections = [
  ["specification", "Specification", SpecificationOf], ["asked", "Printers asked", Asked], ["given", "Quotes", Given],
  ["side", "Side by side", SideBySide], ["price", "Price", PriceOf],
] as const;
type SectionName = (typeof sections)[number][0];

/** From the specification to the price of a copy: what printers are asked, what they answer, and what it comes to. */
export function Quotes({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { of, trouble, act } = useInquiry(desk);
  const [at, setAt] = useState<SectionName>("specification");
  const close = () => {
    (document.activeElement as HTMLElement | null)?.blur(); // a field keeps what is typed when it is left
    desk.show({ sheet: undefined });
  };
  const turn = (way: "undo" | "redo") => void act(async () => {
    const told = of?.[way];
    const now = await program.turnInquiry(desk.title.id, way);
    if (of && told) desk.say(sentence(`${way === "undo" ? "taken back" : "done again"}: ${turnedWords(of, now, told)}`));
    return now;
  });
  const keys = (e: KeyboardEvent) => {
    if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z" || (e.target as HTMLElement).matches("input[type=text], textarea")) return;
    e.preventDefault();
    if (of?.[e.shiftKey ? "redo" : "undo"]) turn(e.shiftKey ? "redo" : "undo");
  };
  const Shown = sections.find(([name]) => name === at)![2];
  return (
    <SheetFrame name="quotes" title="Specification and quotes" whole close={close} onKeyDown={keys}>
      <nav class="quote-nav" aria-label="Parts of it">
        {sections.map(([name, words]) => <Word key={name} act={`quotes-${name}`} aria-current={at === name ? "true" : undefined} onClick={() => setAt(name)}>{words}</Word>)}
        {of && <span class="turn">
          <Word act="undo-inquiry" disabled={!of.undo} onClick={() => turn("undo")}>Undo{of.undo ? <span class="quiet what">: {actWords(of, of.undo)}</span> : null}</Word>
          <Word act="redo-inquiry" disabled={!of.redo} onClick={() => turn("redo")}>Redo{of.redo ? <span class="quiet what">: {actWords(of, of.redo)}</span> : null}</Word>
        </span>}
      </nav>
      {trouble && <Trouble of={trouble} />}
      {of && <div class="quote-part" data-part={at}><Shown desk={desk} of={of} decimals={decimalsOf(of)} act={act} /></div>}
    </SheetFrame>
  );
}

/** The inquiry, asked anew whenever another window changed it, or what is told beside it. */
function useInquiry(desk: Desk) {
  const [of, setOf] = useState<Inquiry>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const latest = useRef<Inquiry | undefined>(undefined);
  const turn = useRef<Promise<unknown>>(Promise.resolve());
  const act: Dealing["act"] = (make) => {
    const done = turn.current.then(async () => {
      try {
        latest.current = await make(latest.current!);
        setOf(latest.current);
        setTrouble(undefined);
        return true;
      } catch (err) {
        const why = program.troubleOf(err);
        setTrouble(why);
        if (why.code === "stale") setOf(latest.current = await program.inquiry(desk.title.id).catch(() => latest.current));
        return false;
      }
    });
    turn.current = done;
    return done;
  };
  useEffect(() => void act(() => program.inquiry(desk.title.id)), [desk, desk.inquiryMark, desk.proofsMark, desk.session.sequence.revision, desk.pages, desk.title.name]);
  return { of, trouble, act };
}

/** What was taken out, each with the way back. */
export function TakenOut({ dealing, kind }: { dealing: Dealing; kind: api.TakenOut["kind"] }) {
  const out = dealing.of.takenOut.filter((t) => t.kind === kind);
  if (out.length === 0) return null;
  const back = (number: number) => dealing.act(() => program.putBackDealing(dealing.desk.title.id, { kind, number }));
  return (
    <details class="taken-out">
      <summary>Taken out: {out.length}</summary>
      <ul>
        {out.map((t) => (
          <li key={t.number}>{kind === "quote" ? `quote ${t.number} of ${t.printer || "a printer taken out"}` : t.printer} <Word act="put-back" aria-label={`Put back ${t.printer}`} onClick={() => void back(t.number)}>Put it back</Word></li>
        ))}
      </ul>
    </details>
  );
}

/** A group of fields with a heading. */
export function Part({ title, children }: { title: string; children: ComponentChildren }) {
  return <fieldset class="part"><legend>{title}</legend><div class="fields">{children}</div></fieldset>;
}
