import { useRef } from "preact/hooks";
import type { Desk } from "../model/desk";
import { around, rangeOf, type Paper } from "../model/paper";
import { plural, sentence } from "../model/words";
import type * as api from "../net/api";
import { Word } from "./parts";

interface TypedProps {
  desk: Desk;
  paper: Paper;
  read: api.HangingRead | undefined;
}

/** The wall as one types it, with what cannot be read shown below at its place, and what hanging it would change. */
export function Typed({ desk, paper, read }: TypedProps) {
  const field = useRef<HTMLTextAreaElement>(null);
  const go = (slip: api.Slip) => {
    field.current!.focus();
    field.current!.setSelectionRange(...rangeOf(paper.text, slip));
  };
  const slips = read?.slips ?? [];
  return (
    <section class="paper-typed" aria-labelledby="paper-typed-title">
      <h3 id="paper-typed-title">As one reads it off</h3>
      <textarea ref={field} name="hanging" rows={5} spellcheck={false} autocomplete="off" value={paper.text} aria-labelledby="paper-typed-title"
        aria-describedby="paper-how paper-slips" aria-invalid={slips.length > 0} placeholder="12+47 / 3+19 / 8"
        onInput={(e) => desk.setPaper({ ...paper, text: e.currentTarget.value })} />
      <p id="paper-how" class="quiet">12+47 face each other, / or a new line ends a spread. 3+ has a blank page on its right, +3 on its left; 21+21 lies across both pages. A number alone is the first page or the last.</p>
      <ul id="paper-slips" class="paper-slips" aria-live="polite">
        {slips.map((slip, i) => <Slip key={i} text={paper.text} slip={slip} go={() => go(slip)} />)}
      </ul>
      {read && slips.length === 0 && paper.text.trim() !== "" && <Outcome desk={desk} paper={paper} read={read} />}
    </section>
  );
}

function Slip({ text, slip, go }: { text: string; slip: api.Slip; go(): void }) {
  const { before, place, after } = around(text, slip);
  return (
    <li data-slip={slip.from}>
      <code>{before}<mark>{place || "^"}</mark>{after}</code>
      <p><strong>{slip.words}</strong> {slip.hint} <Word act="go-to-slip" aria-label={`Go there: ${slip.words}`} onClick={go}>Go there</Word></p>
    </li>
  );
}

/** What would change, and what the maker should look at before. */
function Outcome({ desk, paper, read }: { desk: Desk; paper: Paper; read: api.HangingRead }) {
  const { reading } = paper;
  const told: string[] = [];
  const numbers = (list: readonly number[]) => list.join(", ");
  if (read.come.length > 0) told.push(`On the table now, and would hang: ${numbers(read.come)}.`);
  if (read.unboxed.length > 0) told.push(`In the box now, and would hang: ${numbers(read.unboxed)}.`);
  if (read.gone.length > 0) told.push(`On the wall now and not in what was read: ${numbers(read.gone)}. They would lie on the table.`);
  if (reading && reading.doubts.length > 0) told.push(`The gaps hardly tell who faces whom: look at ${numbers(reading.doubts)}.`);
  if (reading && reading.twice.length > 0) told.push(`Hangs in two places; the first counts: ${numbers(reading.twice)}.`);
  const others = [...new Set(reading?.shots.flatMap((s) => s.others.map((o) => o.number)) ?? [])];
  if (others.length > 0) told.push(`Codes of another title, left out: ${numbers(others)}.`);
  return (
    <div class="outcome" role="status" data-outcome="">
      <p><strong>{plural(read.hanging.spreads.length, "spread")}.</strong> {sentence(read.words)}{desk.session.sequence.spreads.length > 0 && <span class="quiet"> against the wall on the screen.</span>}</p>
      {told.length > 0 && <ul class="paper-told">{told.map((t) => <li key={t}>{t}</li>)}</ul>}
    </div>
  );
}
