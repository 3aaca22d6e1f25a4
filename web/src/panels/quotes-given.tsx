import { useState } from "preact/hooks";
import { letterOf, printerName, quoteName } from "../model/inquiry";
import type * as api from "../net/api";
import * as program from "../net/program";
import { DayField, DecimalField, MoneyField, Pick, TextField, Tick, WholeField } from "./fields";
import { Word } from "./parts";
import { ProofsFrom } from "./quotes-asked";
import { Part, TakenOut, type Dealing } from "./quotes";

/** Quotes as they came. What was not said stays open, and is told as missing. */
export function Given(dealing: Dealing) {
  const { of, desk, act } = dealing;
  const [open, setOpen] = useState<number | undefined>(of.quotes.at(-1)?.number);
  if (of.printers.length === 0) return <p class="empty">A quote comes from a printer: add one under “Printers asked” first.</p>;
  const add = async (printer: number) => {
    const fresh: api.Quote = { printer, reference: "", day: of.today, currency: of.terms.is.currency, steps: [], differs: "", notes: "", papers: [] };
    await act(async () => {
      const now = await program.addQuote(desk.title.id, fresh);
      setOpen(now.quotes.at(-1)!.number);
      return now;
    });
  };
  return (
    <>
      <p class="rule">Type a quote in as it came. An empty field means that the printer said nothing of it; it is never taken for zero.</p>
      <p class="line-acts">{of.printers.map((p) => <Word key={p.number} act="add-quote" data-of={p.number} onClick={() => void add(p.number)}>A quote from {p.is.name}</Word>)}</p>
      {of.quotes.length === 0 && <p class="empty">No quote yet.</p>}
      <ul class="quotes">
        {of.quotes.map((q) => (
          <li key={q.number} data-quote={q.number}>
            <div class="entry-head">
              <h3><button type="button" class="word" data-act="open-quote" aria-expanded={open === q.number} onClick={() => setOpen(open === q.number ? undefined : q.number)}>{quoteName(of, q.number)}</button></h3>
              <ProofsFrom desk={desk} printer={of.printers.find((p) => p.number === q.is.printer)} />
              <Missing dealing={dealing} quote={q.number} />
              <Word act="take-out-quote" aria-label={`Take out the quote ${letterOf(of, q.number)}`}
                onClick={() => void act((now) => program.takeOut(desk.title.id, "quote", q.number, now.quotes.find((one) => one.number === q.number)!.act))}>Take out</Word>
            </div>
            {open === q.number && <QuoteForm dealing={dealing} shown={q} />}
          </li>
        ))}
      </ul>
      <TakenOut dealing={dealing} kind="quote" />
    </>
  );
}

function Missing({ dealing, quote }: { dealing: Dealing; quote: number }) {
  const left = dealing.of.comparison.rows.find((r) => r.quote === quote)?.leftOut ?? [];
  return <p class="quiet" data-left-out="">{left.length === 0 ? "Says everything that was asked." : `Does not say: ${left.join(", ")}.`}</p>;
}

/** Some of a quote as it is to be; undefined for what was not said. */
type Change = { [K in keyof api.Quote]?: api.Quote[K] | undefined };
/** Changes a quote; what is made from the quote is made from it as it then is, because the fields before may still be on their way. */
type Set = (change: (now: api.Quote) => Change) => Promise<boolean>;
interface FormProps {
  dealing: Dealing;
  is: api.Quote;
  set: Set;
}

function QuoteForm({ dealing, shown }: { dealing: Dealing; shown: api.QuoteShown }) {
  const { is, number } = shown;
  const { desk, act } = dealing;
  const set: Set = (change) => act((now) => {
    const q = now.quotes.find((one) => one.number === number)!;
    return program.changeQuote(desk.title.id, number, { seen: q.act, is: without({ ...q.is, ...change(q.is) }) });
  });
  const props = { dealing, is, set };
  return (
    <div class="quote-form">
      <Part title="The quote">
        <Pick label="From" name="quote-printer" value={String(is.printer)} of={dealing.of.printers.map((p) => [String(p.number), p.is.name] as const)} keep={(p) => set(() => ({ printer: Number(p) }))} />
        <TextField label="Its reference" name="reference" value={is.reference} keep={(reference) => set(() => ({ reference }))} />
        <DayField label="Of the day" name="quote-day" value={is.day} keep={(day) => set(() => ({ day }))} />
        <WholeField label="Holds, days" name="valid" value={is.valid} placeholder="not said" keep={(valid) => set(() => ({ valid }))} />
      </Part>
      <Currency {...props} />
      <Prices {...props} />
      <Part title="Besides printing">
        <ChargeField {...props} label="Proof" of="proof" />
        <ChargeField {...props} label="Finishing" of="finishing" />
        <ChargeField {...props} label="Delivery" of="delivery" />
      </Part>
      <Overs {...props} />
      <Part title="In words">
        <TextField label="Left out, or otherwise than asked" name="differs" lines={3} value={is.differs} keep={(differs) => set(() => ({ differs }))} />
        <TextField label="Notes from the visit" name="notes" lines={3} value={is.notes} keep={(notes) => set(() => ({ notes }))} />
      </Part>
      <Papers {...props} />
    </div>
  );
}

/** What was not said is left out, as the program keeps it. */
function without(q: Change): api.Quote {
  return Object.fromEntries(Object.entries(q).filter(([, value]) => value !== undefined)) as unknown as api.Quote;
}

function Currency({ dealing, is, set }: FormProps) {
  const home = dealing.of.terms.is.currency;
  const known = is.rate?.to === home ? is.rate : undefined; // one to an earlier currency of the maker's says nothing
  const [rate, setRate] = useState({ value: known?.value ?? "", day: known?.day ?? dealing.of.today });
  const tell = (change: Partial<typeof rate>) => {
    const next = { ...rate, ...change };
    setRate(next);
    return set((q) => ({ rate: next.value === "" ? undefined : { from: q.currency, to: home, ...next } }));
  };
  const empty = !is.setUp && !is.runOn && is.steps.length === 0 && !is.proof?.amount && !is.finishing?.amount && !is.delivery?.amount;
  return (
    <Part title="Money">
      {empty ? <Pick label="Currency" name="quote-currency" value={is.currency} of={dealing.of.currencies.map((c) => [c.code, c.code] as const)} keep={(currency) => set(() => ({ currency, rate: undefined }))} />
        : <p class="field"><span>Currency</span><span>{is.currency} <span class="quiet">Take the amounts out to change it.</span></span></p>}
      {is.currency !== home && (
        <>
          <DecimalField label={`One ${is.currency} in ${home}`} name="rate" value={known?.value ?? ""} placeholder="not known" keep={(value) => tell({ value })} />
          <DayField label="The rate of the day" name="rate-day" value={rate.day} keep={(day) => tell({ day })} />
        </>
      )}
      <Pick label="Tax" name="tax" value={!is.tax ? "" : is.tax.included ? "in" : "on"} of={[["", "not said"], ["in", "in the prices"], ["on", "comes on top"]]}
        keep={(how) => set((q) => ({ tax: how === "" ? undefined : { included: how === "in", percent: q.tax?.percent ?? "" } }))} />
      {is.tax && <DecimalField label="Rate of tax, %" name="tax-percent" value={is.tax.percent} placeholder="not said" keep={(percent) => set((q) => ({ tax: q.tax && { ...q.tax, percent } }))} />}
    </Part>
  );
}

function Prices({ dealing, is, set }: FormProps) {
  const { decimals } = dealing;
  const [more, setMore] = useState<readonly number[]>([]);
  const numbers = [...new Set([...dealing.of.specification.is.quantities, ...is.steps.map((s) => s.copies), ...more])].sort((a, b) => a - b);
  const step = (copies: number, amount: api.Money | undefined, each: boolean) => {
    return set((q) => {
      const others = q.steps.filter((s) => s.copies !== copies);
      return { steps: amount ? [...others, { copies, amount, each }].sort((a, b) => a.copies - b.copies) : others };
    });
  };
  return (
    <Part title="Printing">
      <MoneyField label="Set-up" name="set-up" value={is.setUp} currency={is.currency} decimals={decimals} keep={(setUp) => set(() => ({ setUp }))} />
      <MoneyField label="Unit price" name="run-on" value={is.runOn?.amount} currency={is.currency} decimals={decimals}
        keep={(amount) => set((q) => ({ runOn: amount && { amount, per: q.runOn?.per ?? 1 } }))} />
      {is.runOn && <Pick label="The unit price is for" name="run-on-per" value={String(is.runOn.per)} of={perOf(is.runOn.per)} keep={(per) => set((q) => ({ runOn: q.runOn && { ...q.runOn, per: Number(per) } }))} />}
      <div class="steps" role="group" aria-label="Prices for numbers of copies">
        {numbers.map((copies) => {
          const now = is.steps.find((s) => s.copies === copies);
          return (
            <div key={copies} class="step" data-step={copies}>
              <MoneyField label={`${copies} copies`} name={`step-${copies}`} value={now?.amount} currency={is.currency} decimals={decimals} keep={(amount) => step(copies, amount, now?.each ?? false)} />
              {now && <Pick bare label={`The price for ${copies} copies is`} name={`each-${copies}`} value={now.each ? "each" : "all"} of={[["all", "for all"], ["each", "for each"]]} keep={(how) => step(copies, now.amount, how === "each")} />}
            </div>
          );
        })}
        <WholeField label="Another number of copies" name="step-more" least={1} value={undefined} keep={async (copies) => { if (copies) setMore([...more, copies]); return true; }} />
      </div>
    </Part>
  );
}

function perOf(now: number): (readonly [string, string])[] {
  return [...new Set([1, 10, 100, 1000, now])].sort((a, b) => a - b).map((n) => [String(n), n === 1 ? "one copy" : `${n} copies`] as const);
}

type Kind = "" | "included" | "once" | "each";

/** Proof, finishing or delivery: not said, in the price, once, or for so many copies. */
function ChargeField({ dealing, is, set, label, of }: FormProps & { label: string; of: "proof" | "finishing" | "delivery" }) {
  const now = is[of];
  const kept: Kind = !now ? "" : now.included ? "included" : now.per === 0 ? "once" : "each";
  const [kind, setKind] = useState<Kind>(kept);
  const tell = (charge: api.Charge | undefined) => set(() => ({ [of]: charge }));
  const choose = (to: Kind) => {
    setKind(to);
    if (to === "") return tell(undefined);
    if (to === "included") return tell({ included: true, per: 0 });
    return now?.amount && tell({ included: false, amount: now.amount, per: to === "once" ? 0 : 1 });
  };
  const shown = kept !== "" && kept !== kind && now?.amount ? kept : kind; // undone elsewhere
  return (
    <div class="charge" data-charge={of}>
      <Pick label={label} name={of} value={shown} of={[["", "not said"], ["included", "in the price"], ["once", "once, for the order"], ["each", "for every copy"]]} keep={choose} />
      {(shown === "once" || shown === "each") && (
        <MoneyField label={`${label}, ${shown === "once" ? "for the order" : `for ${now && now.per > 1 ? `${now.per} copies` : "one copy"}`}`} name={`${of}-amount`} value={now?.amount} currency={is.currency} decimals={dealing.decimals}
          keep={(amount) => tell(amount && { included: false, amount, per: shown === "once" ? 0 : Math.max(1, now?.per ?? 1) })} />
      )}
      {shown === "each" && now?.amount && <Pick label="The amount is for" name={`${of}-per`} value={String(now.per)} of={perOf(now.per)} keep={(per) => tell({ ...now, per: Number(per) })} />}
    </div>
  );
}

function Overs({ is, set }: FormProps) {
  const now = is.tolerance;
  const tell = (change: { overs?: string; unders?: string; charged?: boolean | undefined }) => {
    return set((q) => {
      const { charged, ...rest } = { ...(q.tolerance ?? { overs: "", unders: "" }), ...change };
      const nothing = rest.overs === "" && rest.unders === "" && charged === undefined;
      return { tolerance: nothing ? undefined : charged === undefined ? rest : { ...rest, charged } };
    });
  };
  return (
    <Part title="Overs and unders">
      <DecimalField label="Unders, up to %" name="quote-unders" value={now?.unders ?? ""} placeholder="not said" keep={(unders) => tell({ unders })} />
      <DecimalField label="Overs, up to %" name="quote-overs" value={now?.overs ?? ""} placeholder="not said" keep={(overs) => tell({ overs })} />
      <Pick label="Overs are charged" name="charged" value={now?.charged === undefined ? "" : now.charged ? "yes" : "no"} of={[["", "not said"], ["yes", "yes"], ["no", "no"]]}
        keep={(how) => tell({ charged: how === "" ? undefined : how === "yes" })} />
    </Part>
  );
}

function Papers({ dealing, is, set }: FormProps) {
  const asked = dealing.of.specification.lines.find((l) => l.key === "text-paper")?.words ?? "";
  const change = (at: number, part: Partial<Omit<api.PaperSeen, "paper">> & { paper?: Partial<api.Paper> }) =>
    set((q) => ({ papers: q.papers.map((p, i) => (i === at ? { ...p, ...part, paper: { ...p.paper, ...part.paper } } : p)) }));
  const blank: api.PaperSeen = { paper: { name: "", finish: "", grammage: 0, caliper: 0, bulk: 0 }, felt: "", instead: true };
  return (
    <fieldset class="part">
      <legend>Papers touched or offered instead</legend>
      {asked && <p class="quiet">Asked for: {asked}.</p>}
      <ul class="rows">
        {is.papers.map((seen, i) => (
          <li key={i} data-paper={i}>
            <TextField label="Paper" name="paper-name" value={seen.paper.name} keep={(name) => change(i, { paper: { name } })} />
            <WholeField label="g/m²" name="paper-grammage" value={seen.paper.grammage || undefined} placeholder="not said" keep={(grammage = 0) => change(i, { paper: { grammage } })} />
            <TextField label="Finish" name="paper-finish" value={seen.paper.finish} keep={(finish) => change(i, { paper: { finish } })} />
            <TextField label="A word for how it felt" name="felt" value={seen.felt} keep={(felt) => change(i, { felt })} />
            <Tick name="instead" on={seen.instead} keep={(instead) => change(i, { instead })}>offered instead</Tick>
            <Word act="remove-paper" aria-label={`Take out the paper ${seen.paper.name || i + 1}`} onClick={() => void set((q) => ({ papers: q.papers.filter((_, j) => j !== i) }))}>Take out</Word>
          </li>
        ))}
      </ul>
      <p><Word act="add-paper" aria-label={`Add a paper of ${printerName(dealing.of, is.printer)}`} onClick={() => void set((q) => ({ papers: [...q.papers, blank] }))}>Add a paper</Word></p>
    </fieldset>
  );
}
