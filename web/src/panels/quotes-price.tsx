import { useState } from "preact/hooks";
import { orMissing, otherCurrency, quoteName, recast } from "../model/inquiry";
import { written } from "../model/money";
import type * as api from "../net/api";
import * as program from "../net/program";
import { DecimalField, MoneyField, Pick, TextField, WholeField } from "./fields";
import { Word } from "./parts";
import { Part, type Dealing } from "./quotes";

type Change = { [K in keyof api.PricePlan]?: api.PricePlan[K] | undefined };
interface PlanProps {
  dealing: Dealing;
  set(change: Change | ((now: api.PricePlan) => Change)): Promise<boolean>;
}

/** What a copy has to sell for, and what each way of selling leaves. */
export function PriceOf(dealing: Dealing) {
  const { of, desk, act } = dealing;
  const set: PlanProps["set"] = (change) => act((now) => {
    const some = typeof change === "function" ? change(now.price.is) : change; // fields before may still have been on their way
    const is = Object.fromEntries(Object.entries({ ...now.price.is, ...some }).filter(([, value]) => value !== undefined)) as unknown as api.PricePlan;
    return program.keepPrice(desk.title.id, { seen: now.price.act, is });
  });
  const { reckoning, trouble } = of.price;
  return (
    <>
      <div class="two">
        <Plan dealing={dealing} set={set} />
        <section aria-labelledby="price-sum">
          <h3 id="price-sum">What it comes to</h3>
          {trouble && <p class="trouble" role="alert">{trouble}</p>}
          {trouble && otherCurrency(of.price.is, of.terms.is.currency) && (
            <p><Word act="recast" onClick={() => void set((now) => recast(now, of.terms.is.currency, dealing.decimals))}>Read these amounts as {of.terms.is.currency}</Word> <span class="quiet">The numbers stay; nothing is converted.</span></p>
          )}
          {reckoning && <Sum dealing={dealing} reckoning={reckoning} />}
        </section>
      </div>
      <Channels dealing={dealing} set={set} />
      {reckoning && <Left dealing={dealing} reckoning={reckoning} />}
      {reckoning && reckoning.whatIf.length > 0 && <WhatIf dealing={dealing} reckoning={reckoning} />}
    </>
  );
}

function Plan({ dealing, set }: PlanProps) {
  const { of, decimals } = dealing;
  const { is } = of.price;
  const { currency } = of.terms.is;
  return (
    <section aria-labelledby="price-plan">
      <h3 id="price-plan">Price and costs</h3>
      <Part title="The price">
        <MoneyField label="A reader pays, tax included" name="price" value={is.price} currency={currency} decimals={decimals} placeholder="not decided" keep={(price) => set({ price })} />
        <DecimalField label="Tax in it, %" name="price-tax" value={is.tax} placeholder="none" keep={(tax) => set({ tax })} />
        <WholeField label="Copies not sold: deposit, press, friends" name="free" value={is.free} keep={(free = 0) => set({ free })} />
      </Part>
      <Part title={`The run of ${of.terms.is.copies}`}>
        <Pick label="Costs as in" name="by-quote" value={String(is.quote)} of={[["0", "an amount of your own"], ...of.quotes.map((q) => [String(q.number), quoteName(of, q.number)] as const)]} keep={(quote) => set({ quote: Number(quote) })} />
        {is.quote === 0 && <MoneyField label="The whole run costs" name="cost" value={is.cost} currency={currency} decimals={decimals} placeholder="not known" keep={(cost) => set({ cost })} />}
      </Part>
      <Fees title="Paid once: scans, a number for the book trade, a launch" name="once" fees={is.once} dealing={dealing} keep={(change) => set((now) => ({ once: change(now.once) }))} />
      <Fees title="For every copy sold: mailer, card" name="per-copy" fees={is.perCopy} dealing={dealing} keep={(change) => set((now) => ({ perCopy: change(now.perCopy) }))} />
    </section>
  );
}

function Fees({ title, name, fees, dealing, keep }: { title: string; name: string; fees: readonly api.Fee[]; dealing: Dealing; keep(change: (fees: api.Fee[]) => api.Fee[]): Promise<boolean> }) {
  const { currency } = dealing.of.terms.is;
  const set = (at: number, change: Partial<api.Fee>) => keep((now) => now.map((fee, i) => (i === at ? { ...fee, ...change } : fee)));
  return (
    <fieldset class="part">
      <legend>{title}</legend>
      <ul class="rows">
        {fees.map((fee, i) => (
          <li key={i} data-fee={name}>
            <TextField label="For" name={`${name}-name`} value={fee.name} keep={(words) => set(i, { name: words })} />
            <MoneyField label="Amount" name={`${name}-amount`} value={fee.amount} currency={currency} decimals={dealing.decimals} keep={(amount) => set(i, { amount: amount ?? { minor: 0, currency } })} />
            <Word act="remove-fee" aria-label={`Take out ${fee.name || "this cost"}`} onClick={() => void keep((now) => now.filter((_, j) => j !== i))}>Take out</Word>
          </li>
        ))}
      </ul>
      <p><Word act={`add-${name}`} onClick={() => void keep((now) => [...now, { name: "", amount: { minor: 0, currency } }])}>Add a cost</Word></p>
    </fieldset>
  );
}

/** The costs, and the rule of thumb. */
function Sum({ dealing: { of, decimals }, reckoning: r }: { dealing: Dealing; reckoning: api.Reckoning }) {
  return (
    <>
      {r.doubts.map((words) => <p key={words} class="trouble">{words}</p>)}
      <dl class="figures-list">
        <div><dt>The run of {r.run}</dt><dd data-sum="cost">{orMissing(r.cost, decimals)}</dd></div>
        <div><dt>With what is paid once</dt><dd data-sum="fixed">{orMissing(r.fixed, decimals)}</dd></div>
        <div><dt>A copy, delivered to you</dt><dd data-sum="unit">{orMissing(r.unit, decimals)}</dd></div>
        <div><dt>Eight times that, the book trade's rule of thumb for a price</dt><dd data-sum="eight">{orMissing(r.eight, decimals)}</dd></div>
        <div><dt>Copies to sell</dt><dd data-sum="sold">{r.sold} of {of.terms.is.copies}</dd></div>
      </dl>
      <p class="quiet">Amounts are rounded to the cent, a half away from zero. The rule of eight is one an association of small publishers gave in 2002: with it, shops and wholesalers can be served.</p>
    </>
  );
}

/** The ways of selling; a shop commonly takes 40 %, a wholesaler 50 to 55 %. */
function Channels({ dealing, set }: PlanProps) {
  const { channels } = dealing.of.price.is;
  const { currency } = dealing.of.terms.is;
  const [more, setMore] = useState(false);
  const change = (at: number, part: { [K in keyof api.Channel]?: api.Channel[K] | undefined }) => set((now) => ({
    channels: now.channels.map((c, i) => {
      if (i !== at) return c;
      const { feeEach, ...rest } = { ...c, ...part };
      return { ...rest, ...(feeEach ? { feeEach } : {}) } as api.Channel;
    }),
  }));
  return (
    <fieldset class="part">
      <legend>Ways of selling</legend>
      <ul class="rows">
        {channels.map((c, i) => (
          <li key={i} data-channel={i}>
            <TextField label="Way" name="channel-name" value={c.name} keep={(name) => change(i, { name })} />
            <DecimalField label="The seller keeps, %" name="discount" value={c.discount} placeholder="nothing" keep={(discount) => change(i, { discount })} />
            <DecimalField label="Fee on what you are paid, %" name="fee" value={c.fee} placeholder="none" keep={(fee) => change(i, { fee })} />
            <MoneyField label="Fee for each copy" name="fee-each" value={c.feeEach} currency={currency} decimals={dealing.decimals} placeholder="none" keep={(feeEach) => change(i, { feeEach })} />
            <WholeField label="Share of the copies" name="share" value={c.share} keep={(share = 0) => change(i, { share })} />
            <Word act="remove-channel" aria-label={`Take out ${c.name || "this way of selling"}`} onClick={() => void set((now) => ({ channels: now.channels.filter((_, j) => j !== i) }))}>Take out</Word>
          </li>
        ))}
        {more && <li><TextField label="Name of the new way" name="channel-new" value="" keep={async (name) => { const kept = await set((now) => ({ channels: [...now.channels, { name, discount: "", fee: "", share: 0 }] })); if (kept) setMore(false); return kept; }} /></li>}
      </ul>
      {!more && <p><Word act="add-channel" onClick={() => setMore(true)}>Add a way of selling</Word></p>}
    </fieldset>
  );
}

const leftColumns = ["Without tax", "Seller keeps", "You get", "Fees and costs", "Leaves for the run", "After the copy's own cost", "Copies to break even", "Lowest price"];

/** What each way leaves of one copy. */
function Left({ dealing: { decimals }, reckoning: r }: { dealing: Dealing; reckoning: api.Reckoning }) {
  const even = (c: api.ChannelLeft) => {
    if (!c.leaves || !r.fixed) return "not known";
    if (c.even === 0) return "never";
    return c.within ? `${c.even}` : `${c.even}, more than there are`;
  };
  return (
    <div class="scrolled" tabIndex={0} role="region" aria-label="What each way of selling leaves">
      <table class="side-table left-table">
        <caption>What one copy leaves</caption>
        <thead><tr><th scope="col">Way</th>{leftColumns.map((words) => <th key={words} scope="col">{words}</th>)}</tr></thead>
        <tbody>
          {r.channels.map((c, i) => {
            const costs = c.fees && c.perCopy && { minor: c.fees.minor + c.perCopy.minor, currency: c.fees.currency };
            const cells = [...[c.net, c.discount, c.received, costs, c.leaves, c.after].map((m) => orMissing(m, decimals)), even(c), orMissing(c.floor, decimals, r.fixed ? "none does" : "not known")];
            return <tr key={i} data-left={i}><th scope="row">{c.name}</th>{cells.map((words, j) => <td key={j} data-label={leftColumns[j]} data-cell={j}><span>{words}</span></td>)}</tr>;
          })}
        </tbody>
      </table>
    </div>
  );
}

/** What is left in the end, by price and by how many copies were sold. */
function WhatIf({ dealing: { of, decimals }, reckoning: r }: { dealing: Dealing; reckoning: api.Reckoning }) {
  const { sold } = of.price;
  return (
    <div class="scrolled" tabIndex={0} role="region" aria-label="What if">
      <table class="side-table what-if">
        <caption>What is left in the end, sold by the shares above</caption>
        <thead><tr><th scope="col">At a price of</th>{sold.map((part) => <th key={part} scope="col">{Math.floor((r.sold * part) / 100)} sold</th>)}</tr></thead>
        <tbody>
          {r.whatIf.map((row) => (
            <tr key={row.price.minor} class={row.price.minor === of.price.is.price?.minor ? "strong" : undefined}>
              <th scope="row">{written(row.price, decimals)}</th>{row.left.map((left, i) => <td key={i} data-label={`${Math.floor((r.sold * sold[i]!) / 100)} sold`}><span>{written(left, decimals)}</span></td>)}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
