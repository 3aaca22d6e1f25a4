import { useEffect, useRef, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { readChange } from "../model/change";
import { plural, sentence } from "../model/words";
import * as program from "../net/program";
import { Facing, Print, SheetFrame, Trouble, useDesk, Word } from "./parts";
import { Reasons, useWeights, Weights } from "./partners";

type Scope = api.ArrangementAsked["scope"];

/** An order proposed by the program: asked for, looked at, taken or left. */
export function Arrange({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [scope, setScope] = useState<Scope>("table");
  const [weights, setWeights] = useWeights(desk);
  const { proposal, trouble, asking, ask } = useProposal(desk, scope, weights);
  const close = () => desk.show({ sheet: undefined });
  const stale = proposal && proposal.change.revision !== desk.session.sequence.revision;
  const accept = () => {
    if (proposal && desk.act({ want: "take", change: readChange(proposal.change) })) close();
  };
  return (
    <SheetFrame name="arrange" title="Propose an order" wide close={close}>
      <p class="quiet">The program looks at all the evidence at once and proposes pairs and an order. Nothing changes until you accept it, and one undo takes it back. What is pinned stays as it is.</p>
      <div class="ask">
        <fieldset class="choice">
          <legend>What may it touch?</legend>
          <label><input type="radio" name="scope" checked={scope === "table"} onChange={() => setScope("table")} /> Only what lies on the table; it is hung behind the wall</label>
          <label><input type="radio" name="scope" checked={scope === "wall"} onChange={() => setScope("wall")} /> Everything that is not pinned, the wall as well</label>
        </fieldset>
        <Weights weights={weights} set={setWeights} />
        <Word act="ask-arrangement" strong={!proposal} disabled={asking} onClick={ask}>{asking ? "Looking…" : proposal ? "Propose again" : "Propose"}</Word>
      </div>
      {trouble && <Trouble of={trouble} />}
      {proposal && <Proposed desk={desk} proposal={proposal} />}
      {proposal && (
        <footer class="sheet-foot">
          {stale ? <p>The wall has changed since; ask again.</p> : <p>{plural(proposal.spreads.length, "spread")} proposed.</p>}
          <Word act="accept" strong disabled={stale || proposal.spreads.length === 0} onClick={accept}>Accept it</Word>
          <Word act="leave" onClick={close}>Leave it</Word>
        </footer>
      )}
    </SheetFrame>
  );
}

function useProposal(desk: Desk, scope: Scope, weights: Record<string, number>) {
  const [proposal, setProposal] = useState<api.Proposal>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const [asking, setAsking] = useState(false);
  const stop = useRef<AbortController | undefined>(undefined);
  useEffect(() => () => stop.current?.abort(), []);
  const ask = async () => {
    stop.current?.abort();
    const mine = (stop.current = new AbortController());
    setAsking(true);
    try {
      const answer = await program.arrange(desk.title.id, { scope, weights }, mine.signal);
      setProposal(answer);
      setTrouble(undefined);
      desk.say(`${plural(answer.spreads.length, "spread")} proposed. ${answer.rule}`);
    } catch (err) {
      if (!mine.signal.aborted) setTrouble(program.troubleOf(err));
    }
    if (!mine.signal.aborted) setAsking(false);
  };
  return { proposal, trouble, asking, ask: () => void ask() };
}

function Proposed({ desk, proposal }: { desk: Desk; proposal: api.Proposal }) {
  const where = new Map(proposal.sequence.spreads.map((s, i) => [s.id, { spread: s, index: i }]));
  return (
    <>
      <p class="rule">{sentence(proposal.rule)}</p>
      <ol class="proposed">
        {proposal.spreads.map((p) => {
          const found = where.get(p.spread);
          if (!found) return null;
          const { spread, index } = found;
          return (
            <li key={p.spread}>
              <Facing desk={desk} left={spread.left ?? 0} right={spread.right ?? 0} across={spread.across ?? false} size={400} />
              <p class="quiet">pages {2 * index + 2}–{2 * index + 3}: {[spread.left, spread.right].filter(Boolean).join(" and ")}</p>
              <Reasons judged={p} />
            </li>
          );
        })}
      </ol>
      {proposal.left.length > 0 && (
        <section aria-labelledby="left-over">
          <h3 id="left-over">Left on the table</h3>
          <ul class="left-over">
            {proposal.left.map((l) => <li key={l.photo}><Print desk={desk} photo={l.photo} /><p><strong>{l.photo}</strong> {sentence(l.why)}</p></li>)}
          </ul>
        </section>
      )}
    </>
  );
}
