import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { chosenPhotos } from "../model/hand";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Make } from "./make";
import { SheetFrame, Trouble, useDesk, useQuietly } from "./parts";

const sheets = ["A4", "A3", "Letter"] as const;
const sources = { wall: "on the wall", table: "on the table", all: "all but the box", chosen: "those chosen" } as const;

/** Small prints for a real wall, and what is sent to a friend: sheets are shown before they are made. */
export function Prints({ desk }: { desk: Desk }) {
  useDesk(desk);
  const chosen = chosenPhotos(desk.hand);
  const [asked, setAsked] = useState<program.PrintAsked>({ of: chosen.length > 1 ? "chosen" : desk.counts.wall > 0 ? "wall" : "table",
    photos: chosen, sheet: "A4", long: 70, caption: true, palette: false, backs: false });
  const set = (some: Partial<program.PrintAsked>) => setAsked({ ...asked, ...some });
  const { plan, trouble } = usePlan(desk, asked);
  const made = (kind: program.PrintKind) => (stop: AbortSignal) => program.printed(desk.title.id, kind, asked, stop);
  return (
    <SheetFrame name="prints" title="Small prints for a real wall" wide close={() => desk.show({ sheet: undefined })}>
      <div class="print-room">
        <form class="print-style" onSubmit={(e) => e.preventDefault()}>
          <Style asked={asked} some={chosen.length} set={set} />
          {trouble ? <Trouble of={trouble} /> : plan && <Outcome asked={asked} plan={plan} />}
          <p class="line-acts"><Make desk={desk} act="make-cards" strong ready={!!plan && !trouble} make={made("cards")}>Make the sheets</Make></p>
          <p class="care">Cut along a steel rule on a mat, fingers behind it and the blade moving past your hand, not towards it. The code below each picture is its number: a photograph of the wall can be read back by it.</p>
          <h3>To send to a friend</h3>
          <p class="line-acts">
            <Make desk={desk} act="make-contact" ready={!trouble} make={made("contact")}>Contact sheet</Make>
            <Make desk={desk} act="make-spreads" ready={desk.counts.wall > 0} make={made("spreads")}>Spreads of the book</Make>
          </p>
          <p class="quiet">Neither says where or when a photograph was taken. Whoever can be recognised should have agreed.</p>
        </form>
        <Sheets desk={desk} plan={plan} />
      </div>
    </SheetFrame>
  );
}

interface StyleProps {
  asked: program.PrintAsked;
  some: number;
  set(some: Partial<program.PrintAsked>): void;
}

function Style({ asked, some, set }: StyleProps) {
  return (
    <>
      <label>Photos
        <select name="of" value={asked.of} onChange={(e) => set({ of: e.currentTarget.value as program.PrintAsked["of"] })}>
          {(Object.keys(sources) as (keyof typeof sources)[]).filter((of) => of !== "chosen" || some > 0)
            .map((of) => <option key={of} value={of}>{sources[of]}</option>)}
        </select>
      </label>
      <label>Paper
        <select name="sheet" value={asked.sheet} onChange={(e) => set({ sheet: e.currentTarget.value })}>
          {sheets.map((name) => <option key={name}>{name}</option>)}
        </select>
      </label>
      <label>Longer side, millimetres
        <input name="long" type="number" min={30} max={250} step={1} value={asked.long} onInput={(e) => set({ long: e.currentTarget.valueAsNumber })} />
      </label>
      <label class="tick"><input name="caption" type="checkbox" checked={asked.caption} onChange={(e) => set({ caption: e.currentTarget.checked })} /> captions</label>
      <label class="tick"><input name="palette" type="checkbox" checked={asked.palette} onChange={(e) => set({ palette: e.currentTarget.checked })} /> a strip of each one's colours</label>
      <label class="tick"><input name="backs" type="checkbox" checked={asked.backs} onChange={(e) => set({ backs: e.currentTarget.checked })} /> numbers on the back, for prints that fall off</label>
    </>
  );
}

/** What will come out, in words, and how to print it. */
function Outcome({ asked, plan }: { asked: program.PrintAsked; plan: api.PrintPlan }) {
  const lying = plan.sheets[0] && plan.sheets[0].width > plan.sheets[0].height;
  return (
    <div class="outcome" role="status">
      <p><strong>{plural(plan.prints, "print")} on {plural(plan.sheets.length, "sheet")} of {asked.sheet}</strong>, {lying ? "lying" : "standing"}.</p>
      <p class="quiet">Print at 100 %, not fitted to the page; a line of 50 mm on each sheet shows whether it was.
        {asked.backs && ` Both sides, turned over on the ${lying ? "short" : "long"} edge.`}</p>
      {plan.unprintable && <p class="trouble"><strong>The typeface lacks {[...plan.unprintable].join(" ")}</strong> A sign for a missing letter will stand there.</p>}
    </div>
  );
}

/** Asks for the layout whenever what is asked has been quiet for a moment. */
function usePlan(desk: Desk, asked: program.PrintAsked) {
  const [plan, setPlan] = useState<api.PrintPlan>();
  const [trouble, setTrouble] = useState<program.Trouble>();
  const last = useRef<AbortController | undefined>(undefined);
  useQuietly(() => {
    last.current?.abort();
    const mine = (last.current = new AbortController());
    program.planPrints(desk.title.id, asked, mine.signal).then(
      (p) => { setPlan(p); setTrouble(undefined); },
      (err: unknown) => { if (!mine.signal.aborted) { setPlan(undefined); setTrouble(program.troubleOf(err)); } });
  }, 150, [asked, desk.session.sequence, desk.photos]);
  useEffect(() => () => last.current?.abort(), []);
  return { plan, trouble };
}

/** The sheets as they will come out of the printer. */
function Sheets({ desk, plan }: { desk: Desk; plan: api.PrintPlan | undefined }) {
  if (!plan) return <div class="print-sheets" />;
  return (
    <ol class="print-sheets" aria-label="Sheets">
      {plan.sheets.map((sheet, i) => (
        <li key={i}>
          <svg viewBox={`0 0 ${sheet.width} ${sheet.height}`} role="img" aria-label={`Sheet ${i + 1}: ${sheet.prints.map((p) => p.photo).join(", ")}`}>
            <rect class="paper" width={sheet.width} height={sheet.height} />
            {sheet.prints.map((p) => (
              <g key={p.photo}>
                <rect class="cut" x={p.cut.x} y={p.cut.y} width={p.cut.width} height={p.cut.height} />
                <image href={program.cardAddress(desk.title.id, p.photo, 160)} x={p.picture.x} y={p.picture.y} width={p.picture.width} height={p.picture.height} />
                <text x={p.foot.x} y={p.foot.y + 9}>{p.photo}</text>
                <rect class="code" x={p.code.x} y={p.code.y} width={p.code.width} height={p.code.height} />
              </g>
            ))}
          </svg>
          <span class="quiet" aria-hidden="true">{i + 1}</span>
        </li>
      ))}
    </ol>
  );
}
