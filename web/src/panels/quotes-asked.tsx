import { useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { proofWords } from "../model/proofs";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { DayField, TextField } from "./fields";
import { Make } from "./make";
import { Word } from "./parts";
import { TakenOut, type Dealing } from "./quotes";
import { CopiedText } from "./quotes-specification";
import { NameForm } from "./titles";

/** Who was asked when, and who has answered. */
export function Asked(dealing: Dealing) {
  const { of, desk, act } = dealing;
  const [added, setAdded] = useState(0); // the field is empty again after each
  const add = async (name: string) => {
    if (await act(() => program.addPrinter(desk.title.id, { name, contact: "", note: "", asked: [] }))) setAdded(added + 1);
  };
  const answered = of.printers.filter((p) => p.is.asked.some((a) => a.answered)).length;
  const asked = of.printers.filter((p) => p.is.asked.length > 0).length;
  return (
    <>
      <p class="rule" data-asked="">{of.printers.length === 0 ? "Nobody has been asked yet. Three printers asked for the same thing make prices that can be compared." :
        `${plural(asked, "printer")} of ${of.printers.length} asked, ${answered} answered.`}</p>
      <NameForm key={added} label="Another printer" submit="Add" save={add} />
      <ul class="printers">{of.printers.map((p) => <PrinterOf key={p.number} dealing={dealing} printer={p} />)}</ul>
      <TakenOut dealing={dealing} kind="printer" />
    </>
  );
}

/** What became of the last proof that bears a printer's name, and the way to it. */
export function ProofsFrom({ desk, printer }: { desk: Desk; printer: api.PrinterShown | undefined }) {
  const last = printer?.proofs.at(-1);
  return last ? <Word act="to-proofs" onClick={() => desk.show({ sheet: "proofs" })}>{proofWords(last)}</Word> : null;
}

function PrinterOf({ dealing, printer }: { dealing: Dealing; printer: api.PrinterShown }) {
  const { desk, of, act } = dealing;
  const { number, is } = printer;
  const [reading, setReading] = useState(false);
  const keep = (change: Partial<api.Printer> | ((now: api.Printer) => Partial<api.Printer>)) => act((now) => {
    const p = now.printers.find((one) => one.number === number)!;
    return program.changePrinter(desk.title.id, number, { seen: p.act, is: { ...p.is, ...(typeof change === "function" ? change(p.is) : change) } });
  });
  const ask = () => keep((p) => ({ asked: [...p.asked, { day: of.today, letter: printer.letter, answered: "", answer: "" }] }));
  const quoted = of.quotes.filter((q) => q.is.printer === number).length;
  return (
    <li data-printer={number}>
      <div class="entry-head">
        <h3>{is.name}</h3>
        <span class="quiet">{is.asked.length === 0 ? "not asked yet" : quoted > 0 ? plural(quoted, "quote") : "no quote yet"}</span>
        <ProofsFrom desk={desk} printer={printer} />
        <Word act="take-out-printer" aria-label={`Take out ${is.name}`} onClick={() => void act((now) => program.takeOut(desk.title.id, "printer", number, now.printers.find((p) => p.number === number)!.act))}>Take out</Word>
      </div>
      <div class="fields">
        <TextField label="Name" name="printer-name" value={is.name} keep={(name) => keep({ name })} />
        <TextField label="Address, telephone, whom to speak to" name="contact" lines={2} value={is.contact} keep={(contact) => keep({ contact })} />
        <TextField label="Note" name="printer-note" lines={2} value={is.note} keep={(note) => keep({ note })} />
      </div>
      {is.asked.length > 0 && (
        <ol class="rows">
          {is.asked.map((a, i) => {
            const set = (change: Partial<api.Asking>) => keep((p) => ({ asked: p.asked.map((one, j) => (j === i ? { ...one, ...change } : one)) }));
            return (
              <li key={i} data-asking={i}>
                <DayField label="Asked on" name="asked-day" value={a.day} keep={(day) => set({ day })} />
                <DayField label="Answered on" name="answered-day" value={a.answered} keep={(answered) => set({ answered })} />
                <TextField label="Answer, in a word" name="answer" value={a.answer} keep={(answer) => set({ answer })} />
                <Word act="remove-asking" aria-label={`Take out that ${is.name} was asked on ${a.day}`} onClick={() => void keep((p) => ({ asked: p.asked.filter((_, j) => j !== i) }))}>Take out</Word>
                <details><summary>What was sent</summary><pre class="sent">{a.letter}</pre></details>
              </li>
            );
          })}
        </ol>
      )}
      {printer.moved && <p class="trouble" data-moved="">The specification has changed since this printer was asked: a quote may be for something else.</p>}
      <p class="line-acts">
        <Word act="asked-today" strong={is.asked.length === 0} onClick={() => void ask()}>{is.asked.length === 0 ? "Note: asked today" : "Note: asked again today"}</Word>
        <Word act="read-letter" aria-expanded={reading} onClick={() => setReading(!reading)}>The letter to {is.name}</Word>
        <Make desk={desk} act="make-letter" make={(stop) => program.specified(desk.title.id, number, stop)}>As PDF</Make>
      </p>
      {reading && <CopiedText text={printer.letter} label={`The letter to ${is.name}`} desk={desk} />}
    </li>
  );
}
