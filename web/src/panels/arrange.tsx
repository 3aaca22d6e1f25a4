import { useEffect, useRef, useState } from "preact/hooks";
import type * as api from "../net/api";
import { readChange } from "../model/change";
import type { Desk } from "../model/desk";
import { acceptWords, floorWords, orderings } from "../model/judged";
import type { SpreadID } from "../model/sequence";
import { plural, sentence } from "../model/words";
import * as program from "../net/program";
import { Reasons } from "./judged";
import { Facing, Print, SheetFrame, Trouble, useDesk, Word } from "./parts";
import { useApart } from "./partners";
import { useWeights, Weights } from "./weights";
import { Ends, NotTogether, samePair, type Pair } from "./wishes";

type Plan = api.ArrangementAsked;

const firstPlan: Plan = { scope: "table", ordering: "", enough: 0.5, singles: false, refused: [], first: 0, last: 0, chapters: true };

/** An order proposed by the program: asked for, looked at, taken whole or in part, or left. */
export function Arrange({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [plan, setPlan] = useState(firstPlan);
  const amend = (part: Partial<Plan>) => setPlan({ ...plan, ...part });
  const [weights, setWeights] = useWeights(desk);
  const { found, trouble, asking, ask, setTrouble } = useProposal(desk, { ...plan, weights });
  const [left, setLeft] = useState<ReadonlySet<SpreadID>>(new Set());
  useEffect(() => setLeft(new Set()), [found]);
  const { apart, keep } = useApart(desk);
  const refused = (plan.refused ?? []) as Pair[];
  const close = () => desk.show({ sheet: undefined });
  const take = async () => {
    if (!found) return;
    try {
      const change = await chosenChange(desk, found, left);
      if (desk.act({ want: "take", change: readChange(change) })) close();
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  const never = async (pair: Pair, on = true) => {
    await keep(pair, on);
    if (found) ask();
  };
  const refuse = (pair: Pair, on: boolean) => {
    const next = { ...plan, refused: on ? [...refused, pair] : refused.filter((r) => !samePair(r, pair)) };
    setPlan(next);
    if (found) ask({ ...next, weights });
  };
  return (
    <SheetFrame name="arrange" title="Propose an order" wide close={close}>
      <p class="quiet">The program looks at all the evidence at once and proposes pairs and an order. Nothing changes until you accept it, and one undo takes it back. What is pinned stays as it is.</p>
      <div class="ask">
        <Reach plan={plan} set={amend} />
        <Order plan={plan} set={amend} chapters={desk.session.sequence.chapters.length > 0} />
        <Weights weights={weights} set={setWeights} />
        <Ends desk={desk} plan={plan} set={amend} />
        <NotTogether refused={refused} apart={apart} allow={(pair) => refuse(pair, false)} again={(pair) => void never(pair, false)} />
        <Word act="ask-arrangement" strong={!found} disabled={asking} onClick={() => ask()}>{asking ? "Looking…" : found ? "Propose again" : "Propose"}</Word>
      </div>
      {trouble && <Trouble of={trouble} />}
      {found && <Proposed desk={desk} proposal={found.proposal} left={left} setLeft={setLeft} never={(pair) => void never(pair)} refuse={(pair) => refuse(pair, true)} />}
      {found && <Foot desk={desk} proposal={found.proposal} left={left.size} take={() => void take()} close={close} />}
    </SheetFrame>
  );
}

interface Found {
  readonly plan: Plan; // that it was asked with
  readonly proposal: api.Proposal;
}

/** The change of a proposal, or of that part of it that was not left. */
function chosenChange(desk: Desk, { plan, proposal }: Found, left: ReadonlySet<SpreadID>): Promise<api.Change> {
  if (left.size === 0) return Promise.resolve(proposal.change);
  const spreads = proposal.spreads.map((s) => s.spread).filter((id) => !left.has(id));
  return program.acceptSome(desk.title.id, { plan, revision: proposal.change.revision, spreads });
}

interface PlanProps {
  plan: Plan;
  set(part: Partial<Plan>): void;
}

function Reach({ plan, set }: PlanProps) {
  return (
    <div class="reach">
      <fieldset class="choice">
        <legend>What may it touch?</legend>
        <label><input type="radio" name="scope" checked={plan.scope === "table"} onChange={() => set({ scope: "table" })} /> Only what lies on the table; it is hung behind the wall</label>
        <label><input type="radio" name="scope" checked={plan.scope === "wall"} onChange={() => set({ scope: "wall" })} /> Everything that is not pinned, the wall as well</label>
      </fieldset>
      <fieldset class="choice">
        <legend>How good must a pair be?</legend>
        <label class="floor">
          <input type="range" min="0.05" max="2" step="0.05" value={plan.enough} data-plan="enough" aria-label="How good a pair must be" aria-valuetext={floorWords(plan.enough!)}
            onInput={(e) => set({ enough: Number(e.currentTarget.value) })} />
          <output data-floor="">{sentence(floorWords(plan.enough!))}</output>
        </label>
        <label><input type="checkbox" data-plan="singles" checked={plan.singles} onChange={(e) => set({ singles: e.currentTarget.checked })} /> Hang what finds no partner alone on a right page</label>
      </fieldset>
    </div>
  );
}

function Order({ plan, set, chapters }: PlanProps & { chapters: boolean }) {
  return (
    <fieldset class="choice">
      <legend>In which order?</legend>
      {orderings.map((o) => (
        <label key={o.name}>
          <input type="radio" name="ordering" value={o.name} checked={plan.ordering === o.name} onChange={() => set({ ordering: o.name })} />
          <span>{o.title} <span class="quiet">{o.words}</span></span>
        </label>
      ))}
      {chapters && plan.scope === "wall" && (
        <label><input type="checkbox" data-plan="chapters" checked={plan.chapters} onChange={(e) => set({ chapters: e.currentTarget.checked })} />
          <span>Around your chapters <span class="quiet">Each stays together and is paired and put in order by itself. Otherwise chapters end.</span></span></label>
      )}
    </fieldset>
  );
}

function useProposal(desk: Desk, plan: Plan) {
  const [found, setFound] = useState<Found>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const [asking, setAsking] = useState(false);
  const stop = useRef<AbortController | undefined>(undefined);
  useEffect(() => () => stop.current?.abort(), []);
  const ask = async (asked: Plan = plan) => {
    stop.current?.abort();
    const mine = (stop.current = new AbortController());
    setAsking(true);
    try {
      const proposal = await program.arrange(desk.title.id, asked, mine.signal);
      setFound({ plan: asked, proposal });
      setTrouble(undefined);
      desk.say(`${plural(proposal.spreads.length, "spread")} proposed. ${proposal.rule}`);
    } catch (err) {
      if (!mine.signal.aborted) setTrouble(program.troubleOf(err));
    }
    if (!mine.signal.aborted) setAsking(false);
  };
  return { found, trouble, asking, ask: (asked?: Plan) => void ask(asked), setTrouble };
}

interface FootProps {
  desk: Desk;
  proposal: api.Proposal;
  left: number;
  take(): void;
  close(): void;
}

function Foot({ desk, proposal, left, take, close }: FootProps) {
  const stale = proposal.change.revision !== desk.session.sequence.revision;
  const all = proposal.spreads.length;
  const nothing = proposal.change.steps.length === 0;
  return (
    <footer class="sheet-foot">
      {stale ? <p>The wall has changed since; ask again.</p> : <p>{plural(all, "spread")} proposed.</p>}
      <Word act="accept" strong disabled={stale || nothing || (all > 0 && left === all)} onClick={take}>{acceptWords(all - left, all)}</Word>
      <Word act="leave" onClick={close}>Leave it</Word>
    </footer>
  );
}

interface ProposedProps {
  desk: Desk;
  proposal: api.Proposal;
  left: ReadonlySet<SpreadID>;
  setLeft(left: ReadonlySet<SpreadID>): void;
  never(pair: Pair): void;
  refuse(pair: Pair): void;
}

function Proposed({ desk, proposal, left, setLeft, never, refuse }: ProposedProps) {
  const where = new Map(proposal.sequence.spreads.map((s, i) => [s.id, { spread: s, index: i }]));
  const tick = (id: SpreadID, on: boolean) => {
    const next = new Set(left);
    if (on) next.delete(id);
    else next.add(id);
    setLeft(next);
  };
  return (
    <>
      <p class="rule">{sentence(proposal.rule)}</p>
      <p class="line-acts">
        <Word act="tick-all" disabled={left.size === 0} onClick={() => setLeft(new Set())}>Take all</Word>
        <Word act="tick-none" disabled={left.size === proposal.spreads.length} onClick={() => setLeft(new Set(proposal.spreads.map((s) => s.spread)))}>Take none, then tick those you want</Word>
      </p>
      <ol class="proposed">
        {proposal.spreads.map((p) => {
          const found = where.get(p.spread);
          return found && <ProposedLine key={p.spread} desk={desk} proposed={p} spread={found.spread} index={found.index} taken={!left.has(p.spread)} tick={(on) => tick(p.spread, on)} never={never} refuse={refuse} />;
        })}
      </ol>
      <LeftOver desk={desk} left={proposal.left} />
    </>
  );
}

interface ProposedLineProps {
  desk: Desk;
  proposed: api.ProposedSpread;
  spread: api.Spread;
  index: number;
  taken: boolean;
  tick(on: boolean): void;
  never(pair: Pair): void;
  refuse(pair: Pair): void;
}

function ProposedLine({ desk, proposed, spread, index, taken, tick, never, refuse }: ProposedLineProps) {
  const [left, right] = [spread.left ?? 0, spread.right ?? 0];
  const pages = `pages ${2 * index + 2}–${2 * index + 3}: ${[left, right].filter(Boolean).join(" and ")}`;
  return (
    <li data-spread={proposed.spread} data-left={taken ? undefined : ""}>
      <Facing desk={desk} left={left} right={right} across={spread.across ?? false} size={400} />
      <label class="check"><input type="checkbox" data-tick={proposed.spread} checked={taken} onChange={(e) => tick(e.currentTarget.checked)} /> take {pages}</label>
      {proposed.alone ? <p class="reasons">Alone: {proposed.reasons}.</p> : <Reasons judged={proposed} />}
      {!proposed.alone && <p class="line-acts"><Word act="not-now" aria-label={`Not this time: ${left} with ${right}`} onClick={() => refuse([left, right])}>Not this time</Word> <Word act="never" aria-label={`Never these two: ${left} with ${right}`} onClick={() => never([left, right])}>Never these two</Word></p>}
    </li>
  );
}

function LeftOver({ desk, left }: { desk: Desk; left: readonly api.LeftOver[] }) {
  if (left.length === 0) return null;
  return (
    <section aria-labelledby="left-over">
      <h3 id="left-over">Left on the table</h3>
      <ul class="left-over">
        {left.map((l) => <li key={l.photo}><Print desk={desk} photo={l.photo} /><p><strong>{l.photo}</strong> {sentence(l.why)}</p></li>)}
      </ul>
    </section>
  );
}
