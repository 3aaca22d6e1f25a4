import type { Desk } from "../model/desk";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Field, Pick, TextField, Tick, WholeField, type Keep } from "./fields";
import { Make } from "./make";
import { SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";
import { useSaved } from "./saved";

interface Style {
  readonly is: api.LabelStyle;
  set(some: Partial<api.LabelStyle>): Promise<boolean>;
}

/** What is printed for parcels: labels to the tenth of a millimetre, lists, slips and what customs forms have to say. */
export function Labels({ desk }: { desk: Desk }) {
  useDesk(desk);
  const id = desk.title.id;
  const { now, trouble, save } = useSaved(desk, () => program.post(id));
  const { found: plan, trouble: unplanned } = useAsked(now && (() => program.labelPlan(id)), [desk, desk.copiesMark, now?.revision]);
  const keep = (change: (is: api.Post) => Partial<api.Post>) => save((is) => program.savePost(id, { revision: is.revision, post: { ...is.post, ...change(is.post) } }), "Kept.");
  const style: Style | undefined = now && { is: now.post.labels, set: (some) => keep((is) => ({ labels: { ...is.labels, ...some } })) };
  const made = (kind: program.ParcelPrint) => (stop: AbortSignal) => program.parcelPrint(id, kind, stop);
  const ready = !!plan && plan.labels > 0;
  return (
    <SheetFrame name="labels" title="Labels and lists" wide close={() => desk.show({ sheet: undefined })}>
      {(trouble ?? unplanned) && <Trouble of={(trouble ?? unplanned)!} />}
      {!style || !plan || !now ? !trouble && !unplanned && <p class="quiet" role="status">Counting the labels.</p> : (
        <div class="label-room">
          <div class="copies-part">
            <Sheet style={style} plan={plan} />
            <Outcome style={style} plan={plan} />
            <p class="line-acts">
              <Make desk={desk} act="make-labels" strong ready={ready} make={made("labels")}>Make the labels</Make>
              <Make desk={desk} act="make-label-test" make={made("label-test")}>Test sheet</Make>
              {ready && plan.next !== style.is.first && <Word act="next-label" onClick={() => void style.set({ first: plan.next })}>They are printed: go on at label {plan.next}</Word>}
            </p>
            <ByHand list={plan.byHand} />
            <section>
              <h3>Lists</h3>
              <p class="line-acts"><Make desk={desk} act="make-packing-list" make={made("packing-list")}>Packing list, in shelf order</Make></p>
              <TextField label="Words on the thank-you slips" name="thanks" lines={4} value={now.post.thanks} keep={(thanks) => keep(() => ({ thanks }))} />
              <p class="line-acts"><Make desk={desk} act="make-thanks" ready={now.post.thanks.trim() !== ""} make={made("thanks")}>Thank-you slips, four to a sheet</Make></p>
            </section>
            <section>
              <h3>Customs</h3>
              <p>{plan.customs > 0 ? `${plural(plan.customs, "parcel")} ${plan.customs === 1 ? "needs" : "need"} a CN 22 or a CN 23.` : "No parcel on the table needs a declaration."}</p>
              <p class="line-acts"><Make desk={desk} act="make-customs" ready={plan.customs > 0} make={made("customs")}>What the forms have to say</Make></p>
              <p class="care">Your post office decides. At exactly 300 SDR sources differ between the two forms; rates, limits and forms are dated and differ by country.</p>
            </section>
          </div>
          <Preview style={style.is} plan={plan} />
        </div>
      )}
    </SheetFrame>
  );
}

/** The sheet of labels and how the printer is corrected. */
function Sheet({ style: { is, set }, plan }: { style: Style; plan: api.LabelPlan }) {
  const preset = plan.presets.some((p) => p.name === is.sheet.name) ? is.sheet.name : "";
  const choose = (name: string) => {
    const sheet = plan.presets.find((p) => p.name === name) ?? { ...is.sheet, name: "My own sheet" };
    return set({ sheet, first: 1 });
  };
  const own = (some: Partial<api.LabelSheet>) => set({ sheet: { ...is.sheet, name: "My own sheet", ...some }, first: 1 });
  const label = (some: Partial<api.Size>) => own({ label: { ...is.sheet.label, ...some } });
  const paper = (some: Partial<api.Size>) => own({ sheet: { ...is.sheet.sheet, ...some } });
  const mm = (name: string, words: string, value: number, keep: Keep<number>) => <Millimetres key={name} name={name} label={words} value={value} keep={keep} />;
  return (
    <section>
      <Pick label="Labels, by their measures" name="label-sheet" value={preset} keep={choose} of={[...plan.presets.map((p) => [p.name, p.name] as const), ["", "my own sheet, measured"]]} />
      <details open={preset === ""}>
        <summary>The measures, millimetres</summary>
        <div class="fields">
          {mm("paper-width", "Sheet, width", is.sheet.sheet.width, (width) => paper({ width }))}
          {mm("paper-height", "Sheet, height", is.sheet.sheet.height, (height) => paper({ height }))}
          {mm("label-width", "Label, width", is.sheet.label.width, (width) => label({ width }))}
          {mm("label-height", "Label, height", is.sheet.label.height, (height) => label({ height }))}
          <WholeField name="across" label="Labels across" least={1} value={is.sheet.across} keep={async (n) => (n ? own({ across: n }) : true)} />
          <WholeField name="down" label="Rows" least={1} value={is.sheet.down} keep={async (n) => (n ? own({ down: n }) : true)} />
          {mm("margin-left", "Margin, left", is.sheet.left, (left) => own({ left }))}
          {mm("margin-top", "Margin, top", is.sheet.top, (top) => own({ top }))}
          {mm("gap-across", "Gap between labels", is.sheet.gapX, (gapX) => own({ gapX }))}
          {mm("gap-down", "Gap between rows", is.sheet.gapY, (gapY) => own({ gapY }))}
        </div>
      </details>
      <div class="fields">
        <WholeField name="first-label" label="First label still there" least={1} value={is.first} keep={async (n) => (n ? set({ first: n }) : true)} />
        {mm("shift-x", "Shift to the right, mm", is.shift.x, (x) => set({ shift: { ...is.shift, x } }))}
        {mm("shift-y", "Shift down, mm", is.shift.y, (y) => set({ shift: { ...is.shift, y } }))}
        <Tick name="label-sender" on={is.sender} keep={(sender) => set({ sender })}>sender above the address</Tick>
        <Tick name="label-foot" on={is.foot} keep={(foot) => set({ foot })}>order number and copies below it</Tick>
      </div>
      {plan.doubt && <p class="trouble">{plan.doubt}</p>}
    </section>
  );
}

/** A length in millimetres with a point or a comma, below nothing as well: a printer may be off either way. */
function Millimetres({ name, label, value, keep }: { name: string; label: string; value: number; keep: Keep<number> }) {
  return <Field name={name} label={label} inputMode="decimal" value={String(value)} keep={keep} read={(typed) => {
    const text = typed.trim().replace(",", ".").replace("−", "-");
    return /^-?\d{1,4}(\.\d{1,3})?$/.test(text) ? { is: Number(text) } : { wrong: "Millimetres, such as 2.5 or −0.4." };
  }} />;
}

function Outcome({ style, plan }: { style: Style; plan: api.LabelPlan }) {
  if (plan.labels === 0) return <p class="outcome" role="status">No parcel is waiting for a label. Enter orders, and decide how many copies there are.</p>;
  return (
    <div class="outcome" role="status">
      <p><strong>{plural(plan.labels, "label")} on {plural(plan.sheets, "sheet")}</strong>, in shelf order{style.is.first > 1 && `, from label ${style.is.first} on`}.</p>
      <p class="quiet">Print at 100 %, not fitted to the page. Hold the test sheet with a sheet of labels against the light first, and correct what the printer is off.</p>
    </div>
  );
}

function ByHand({ list }: { list: readonly api.HandLabel[] }) {
  if (list.length === 0) return null;
  return (
    <section>
      <h3>{plural(list.length, "label")} to finish by hand</h3>
      <p class="quiet">Each has a line to write on where something cannot be set right; nothing is printed wrong. Letters are set one after the other from left to right: Latin, Greek, Cyrillic, Armenian, Georgian and Japanese.</p>
      <ul class="by-hand">{list.slice(0, 100).map((h, i) => <li key={i}><strong>Order {h.number}</strong> <span dir="auto">{h.name}</span>: {h.why.join(" ")}</li>)}</ul>
      {list.length > 100 && <p class="quiet">and {list.length - 100} more</p>}
    </section>
  );
}

/** The first sheet as it will come out: labels used up, those to be printed, those left. */
function Preview({ style: { sheet, first, shift }, plan }: { style: api.LabelStyle; plan: api.LabelPlan }) {
  const count = sheet.across * sheet.down;
  const words = `The first sheet: ${first - 1} of ${count} labels are used up.`;
  const places = Array.from({ length: count }, (_, n) => ({
    n, x: sheet.left + (n % sheet.across) * (sheet.label.width + sheet.gapX), y: sheet.top + Math.floor(n / sheet.across) * (sheet.label.height + sheet.gapY),
  }));
  const state = (n: number) => (n < first - 1 ? "used" : n < first - 1 + plan.labels ? "printed" : "left");
  return (
    <figure class="label-sheet">
      <svg viewBox={`0 0 ${sheet.sheet.width} ${sheet.sheet.height}`} role="img" aria-label={words}>
        <rect class="paper" width={sheet.sheet.width} height={sheet.sheet.height} />
        {places.map(({ n, x, y }) => (
          <g key={n} data-label={state(n)}>
            <rect x={x} y={y} width={sheet.label.width} height={sheet.label.height} rx={1.5} />
            {state(n) === "printed" && <g transform={`translate(${shift.x} ${shift.y})`}>
              {[0.34, 0.5, 0.66].map((at, i) => <line key={i} x1={x + 4} x2={x + sheet.label.width * (i === 1 ? 0.7 : 0.55)} y1={y + sheet.label.height * at} y2={y + sheet.label.height * at} />)}
            </g>}
            {state(n) === "used" && <text x={x + sheet.label.width / 2} y={y + sheet.label.height / 2 + 2}>used</text>}
          </g>
        ))}
      </svg>
      <figcaption class="quiet">{words}</figcaption>
    </figure>
  );
}
