import { useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { readMoney, written } from "../model/money";
import type * as api from "../net/api";
import * as program from "../net/program";
import { usePlaces, type Places } from "./edition";
import { DayField, DecimalField, Field, MoneyField, Pick, TextField, type Reading } from "./fields";
import { Make } from "./make";
import { SheetFrame, Trouble, useDesk, Word } from "./parts";
import { useSaved } from "./saved";

type Kind = api.Entered["kind"];
const kinds: readonly (readonly [Kind, string])[] = [
  ["copies", "copies sold"], ["carriage", "postage buyers paid"], ["printing", "printing"], ["packing", "packing"], ["postage", "postage"], ["fees", "fees"], ["other", "other"],
];
const kindWords = (kind: string) => kinds.find(([is]) => is === kind)?.[1] ?? kind;

/** Which rows are shown: all, or those a sum was made of. */
interface Traced {
  readonly words: string;
  readonly rows: readonly number[];
}

/** What came in, what went out and what is left; every sum leads to its rows. */
export function MoneyPanel({ desk }: { desk: Desk }) {
  useDesk(desk);
  const id = desk.title.id;
  const places = usePlaces();
  const { now, trouble, save } = useSaved(desk, () => program.money(id));
  const [traced, setTraced] = useState<Traced>();
  const keep: Part["keep"] = (change) => {
    setTraced(undefined); // rows count anew
    return save((is) => program.saveMoney(id, { revision: is.revision, book: { ...is.book, ...change(is.book) } }), "Kept.");
  };
  const table = (form: "csv" | "json") => (stop: AbortSignal) => program.moneyTable(id, form, stop);
  return (
    <SheetFrame name="money" title="Money at the end" whole close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      {!now || !places.there ? !trouble && <p class="quiet" role="status">Adding up.</p> : (
        <div class="copies-room">
          <div class="copies-part">
            <Sums of={now.account} places={places} trace={setTraced} />
            <p class="line-acts">
              <Make desk={desk} act="make-money-csv" ready={now.account.rows.length > 0} make={table("csv")}>Table for the tax adviser (CSV)</Make>
              <Make desk={desk} act="make-money-json" make={table("json")}>All of it as JSON</Make>
            </p>
            <Rows of={now.account} places={places} traced={traced} all={() => setTraced(undefined)} />
          </div>
          <div class="copies-part">
            <Entries book={now.book} places={places} keep={keep} />
            <Fees book={now.book} places={places} keep={keep} />
            <Rates book={now.book} lacking={now.account.lacking} places={places} keep={keep} />
          </div>
        </div>
      )}
    </SheetFrame>
  );
}

function Sums({ of, places, trace }: { of: api.Account; places: Places; trace(t: Traced): void }) {
  const show = (m: api.Money) => written(m, places.decimals);
  const groups = [["By kind", of.kinds, kindWords], ["By channel", of.channels, (name: string) => name || "no channel"], ["By country", of.countries, (name: string) => name || "no country"]] as const;
  return (
    <section>
      <p class="rule" role="status" data-left="">{show(of.total.left)} left</p>
      <p class="quiet">{show(of.total.in)} came in, {show(of.total.out)} went out; {of.sold} copies paid for.</p>
      {groups.map(([title, sums, words]) => sums.length > 0 && (
        <table class="money-table money-sums" key={title}>
          <caption>{title}</caption>
          <thead><tr><th scope="col">What</th><th scope="col">In</th><th scope="col">Out</th><th scope="col">Left</th></tr></thead>
          <tbody>
            {sums.map((s) => (
              <tr key={s.name}>
                <th scope="row"><Word act={`trace-${title.slice(3)}-${s.name}`} onClick={() => trace({ words: words(s.name), rows: s.rows })}>{words(s.name)}</Word></th>
                <td class="figure">{show(s.in)}</td><td class="figure">{show(s.out)}</td><td class="figure">{show(s.left)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </section>
  );
}

const atOnce = 200;

function Rows({ of, places, traced, all }: { of: api.Account; places: Places; traced: Traced | undefined; all(): void }) {
  const rows = (traced?.rows ?? of.rows.map((_, i) => i)).map((i) => [i, of.rows[i]!] as const);
  if (of.rows.length === 0) return <p class="quiet">No row yet. Orders bring their own; enter what the printer was paid, and whatever else there was.</p>;
  return (
    <section data-rows={rows.length}>
      <h3>{traced ? `The rows of: ${traced.words}` : "Every row"} {traced && <Word act="all-rows" onClick={all}>Show all</Word>}</h3>
      <table class="money-table money-rows">
        <thead><tr><th scope="col">Day</th><th scope="col">What</th><th scope="col">From</th><th scope="col">Channel</th><th scope="col">Amount</th><th scope="col">Counted</th></tr></thead>
        <tbody>
          {rows.slice(0, atOnce).map(([i, r]) => (
            <tr key={i}>
              <td class="figure">{r.day}</td><th scope="row">{kindWords(r.kind)} <span class="quiet" dir="auto">{r.words}</span></th><td>{r.from}</td><td>{r.channel} <span class="quiet">{r.country}</span></td>
              <td class="figure">{written(r.amount, places.decimals)}</td><td class="figure">{r.counted ? written(r.counted, places.decimals) : "no rate"}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > atOnce && <p class="quiet">and {rows.length - atOnce} more; the table for the tax adviser has them all.</p>}
    </section>
  );
}

interface Part {
  book: api.Cashbook;
  places: Places;
  /** Changes the book as it stands once what was kept before has arrived. */
  keep(change: (book: api.Cashbook) => Partial<api.Cashbook>): Promise<boolean>;
}

/** The list with one row changed or, with undefined, without it. */
function changed<T>(list: readonly T[], at: number, row: T | undefined): T[] {
  return list.flatMap((is, i) => (i !== at ? [is] : row === undefined ? [] : [row]));
}

function Entries({ book, places, keep }: Part) {
  const set = (i: number, some: Partial<api.Entered>) => keep((is) => ({ entered: changed(is.entered, i, { ...is.entered[i]!, ...some }) }));
  return (
    <section>
      <h3>Entered by hand</h3>
      <ul class="rows">
        {book.entered.map((e, i) => (
          <li key={i}>
            <DayField label="Day" name={`entered-day-${i}`} value={e.day} keep={(day) => set(i, { day })} />
            <Pick label="For" name={`entered-kind-${i}`} value={e.kind} of={kinds} keep={(kind) => set(i, { kind })} />
            <TextField label="Words" name={`entered-words-${i}`} value={e.words} keep={(words) => set(i, { words })} />
            <Field<api.Money> label="Amount, with − for what went out" name={`entered-amount-${i}`} inputMode="decimal" value={written(e.amount, places.decimals).replace(`${e.amount.currency} `, "")} keep={(amount) => set(i, { amount })}
              read={(typed): Reading<api.Money> => { const is = readMoney(typed, e.amount.currency, places.decimals); return is && is.minor !== 0 ? { is } : { wrong: `An amount in ${e.amount.currency}, such as −1234.50.` }; }} />
            <TextField label="Channel" name={`entered-channel-${i}`} value={e.channel} keep={(channel) => set(i, { channel })} />
            <Word act={`drop-entered-${i}`} onClick={() => void keep((is) => ({ entered: changed(is.entered, i, undefined) }))}>Take out</Word>
          </li>
        ))}
      </ul>
      <NewEntry book={book} places={places} keep={keep} />
    </section>
  );
}

/** A row is kept once it has an amount, because one without says nothing. */
function NewEntry({ book, places, keep }: Part) {
  const [kind, setKind] = useState<Kind>("printing");
  const [typed, setTyped] = useState("");
  const [way, setWay] = useState<"out" | "in">("out");
  const amount = readMoney(typed, book.in, places.decimals);
  const add = async () => {
    if (!amount || amount.minor === 0) return;
    const minor = way === "out" ? -Math.abs(amount.minor) : Math.abs(amount.minor);
    if (await keep((is) => ({ entered: [...is.entered, { day: "", kind, words: "", channel: "", amount: { ...amount, minor } }] }))) setTyped("");
  };
  return (
    <form class="fields new-entry" onSubmit={(e) => { e.preventDefault(); void add(); }}>
      <label class="field"><span>New row, for</span><select name="new-kind" value={kind} onChange={(e) => setKind(e.currentTarget.value as Kind)}>{kinds.map(([is, words]) => <option key={is} value={is}>{words}</option>)}</select></label>
      <label class="field"><span>Which way</span><select name="new-way" value={way} onChange={(e) => setWay(e.currentTarget.value as "out" | "in")}><option value="out">went out</option><option value="in">came in</option></select></label>
      <label class="field"><span>Amount in {book.in}</span><input name="new-amount" type="text" inputMode="decimal" autoComplete="off" value={typed} onInput={(e) => setTyped(e.currentTarget.value)} /></label>
      <button type="submit" class="word" data-act="add-entry" disabled={!amount || amount.minor === 0}>Enter it</button>
    </form>
  );
}

function Fees({ book, places, keep }: Part) {
  const set = (i: number, some: Partial<api.ChannelFee>) => keep((is) => ({ fees: changed(is.fees, i, { ...is.fees[i]!, ...some }) }));
  return (
    <section>
      <h3>What channels keep</h3>
      <p class="quiet">Of every order of that channel: so many per cent of price and postage, and an amount for each.</p>
      <ul class="rows">
        {book.fees.map((f, i) => (
          <li key={i}>
            <TextField label="Channel" name={`fee-channel-${i}`} value={f.channel} keep={(channel) => set(i, { channel })} />
            <DecimalField label="Per cent" name={`fee-percent-${i}`} value={f.percent} keep={(percent) => set(i, { percent })} />
            <MoneyField label="For each order" name={`fee-each-${i}`} value={f.each.currency ? f.each : undefined} currency={f.each.currency || book.in} decimals={places.decimals} keep={(each) => set(i, { each: each ?? { minor: 0, currency: "" } })} />
            <Word act={`drop-fee-${i}`} onClick={() => void keep((is) => ({ fees: changed(is.fees, i, undefined) }))}>Take out</Word>
          </li>
        ))}
      </ul>
      <p><Word act="add-fee" onClick={() => void keep((is) => ({ fees: [...is.fees, { channel: "", percent: "", each: { minor: 0, currency: "" } }] }))}>Another channel</Word></p>
    </section>
  );
}

function Rates({ book, lacking, places, keep }: Part & { lacking: readonly string[] }) {
  return (
    <section>
      <h3>Currencies</h3>
      <div class="fields"><Pick label="Sums are told in" name="money-in" value={book.in} of={places.currencies} keep={(currency) => keep(() => ({ in: currency, rates: [] }))} /></div>
      {lacking.length > 0 && <p class="trouble">Amounts in {lacking.join(", ")} are in no sum: say what one is worth in {book.in}.</p>}
      <ul class="rows">
        {[...book.rates.map((r) => r.from), ...lacking].map((from) => {
          const at = book.rates.findIndex((r) => r.from === from);
          const rate = book.rates[at];
          const put = (some: Partial<api.Rate>) => {
            return keep((is) => {
              const next = { from, to: is.in, value: "", day: "", ...is.rates.find((r) => r.from === from), ...some };
              const rest = is.rates.filter((r) => r.from !== from);
              return { rates: next.value === "" ? rest : [...rest, next] };
            });
          };
          return (
            <li key={from}>
              <DecimalField label={`1 ${from} in ${book.in}`} name={`rate-${from}`} value={rate?.value ?? ""} keep={(value) => put({ value })} />
              {rate && <DayField label="Looked up on" name={`rate-day-${from}`} value={rate.day} keep={(day) => put({ day })} />}
            </li>
          );
        })}
      </ul>
      <p class="quiet">No rate is ever fetched. Each row is counted by the rate entered, rounded as invoices are; sums add up what was counted. This is no bookkeeping in the sense of the law: your tax adviser knows what is.</p>
    </section>
  );
}
