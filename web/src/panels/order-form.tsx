import { useState } from "preact/hooks";
import { linesOf, massWords, newOrder, purposeWords, stateWords, type OrderState, type Purpose } from "../model/copies";
import type { Desk } from "../model/desk";
import { numberOf, readMoney, written } from "../model/money";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import type { Places } from "./edition";
import { Trouble, useAsked, Word } from "./parts";

interface FormProps {
  desk: Desk;
  shown: api.OrderShown | undefined; // a new order when left out
  places: Places;
  done(): void;
}

/** What is typed of an order, before it is one. */
interface Typed {
  readonly order: api.Order;
  readonly lines: string;
  readonly price: string;
  readonly postage: string;
  readonly currency: string;
  readonly copies: string;
}

function typedOf(order: api.Order, places: Places): Typed {
  const amount = (m: api.Money) => (m.currency ? numberOf(m, places.decimals) : "");
  return { order, lines: order.to.lines.join("\n"), price: amount(order.price), postage: amount(order.postage), currency: order.price.currency || order.postage.currency || "EUR", copies: String(order.copies) };
}

const nothing: api.Money = { minor: 0, currency: "" };

/** The order that was typed, or what cannot be read of it. */
function orderOf(t: Typed, places: Places): api.Order | { message: string; hint: string } {
  const money = (typed: string) => (typed.trim() === "" ? nothing : readMoney(typed, t.currency, places.decimals));
  const [price, postage] = [money(t.price), money(t.postage)];
  const copies = /^\d{1,4}$/.test(t.copies.trim()) ? Number(t.copies) : 0;
  if (copies < 1) return { message: "The number of copies cannot be read.", hint: "Say how many: 1, 2, 3." };
  if (!price || !postage) return { message: "An amount cannot be read.", hint: `Write it in ${t.currency}, such as 22.00 or 22,00.` };
  return { ...t.order, copies, price, postage, to: { ...t.order.to, lines: linesOf(t.lines) } };
}

/** An order as it is typed, kept by one button; it waits when too few copies are left and the maker says so. */
export function OrderForm({ desk, shown, places, done }: FormProps) {
  const [typed, setTyped] = useState(() => typedOf(shown?.order ?? newOrder(new Date().toISOString().slice(0, 10)), places));
  const [seen, setSeen] = useState(shown);
  const [trouble, setTrouble] = useState<{ code?: string; message: string; hint: string }>();
  const o = typed.order;
  const newer = shown && seen && shown.order.revision > seen.order.revision;
  const set = (some: Partial<Typed>) => setTyped({ ...typed, ...some });
  const say = (some: Partial<api.Order>) => set({ order: { ...o, ...some } });
  const keep = async (wait: boolean, more: Partial<api.Order> = {}) => {
    const order = orderOf({ ...typed, order: { ...o, ...more } }, places);
    if ("message" in order) return setTrouble(order);
    try {
      const now = o.id ? await program.changeOrder(desk.title.id, { order, wait }) : await program.enterOrder(desk.title.id, { order, wait });
      desk.changedCopies();
      desk.say(`Order ${now.order.number} is kept${now.marks.length > 0 ? `, with ${now.marks.join(", ")}` : ""}.`);
      if (!o.id) return done();
      setTrouble(undefined);
      setSeen(now);
      setTyped(typedOf(now.order, places));
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
    return undefined;
  };
  return (
    <form class="order-form" aria-label={o.id ? `Order ${o.number}` : "A new order"} onSubmit={(e) => { e.preventDefault(); void keep(false); }}>
      <div class="order-said">
        <Sale typed={typed} set={set} say={say} places={places} />
        {o.erased ? <p><em>The person of this order was erased.</em></p> : <Person typed={typed} set={set} say={say} places={places} />}
        {trouble && <Trouble of={trouble} />}
        {newer && <Trouble of={{ message: "This order was changed in another window.", hint: "Go back to all orders and open it again to see it as it is." }} />}
        <p class="line-acts">
          <button type="submit" class="word strong" data-act="keep-order">{o.id ? "Keep the changes" : "Enter it"}</button>
          {trouble?.code === "conflict" && <Word act="keep-waiting" onClick={() => void keep(true)}>Keep it all the same; it waits</Word>}
          {o.id > 0 && o.state === "open" && <Word act="sent-order" onClick={() => void keep(false, { state: "sent" })}>It is sent</Word>}
          {o.id > 0 && o.state !== "cancelled" && <Word act="cancel-order" onClick={() => void keep(false, { state: "cancelled" })}>Cancel the order</Word>}
          <Word act="leave-order" onClick={done}>Back to all orders</Word>
        </p>
      </div>
      {seen && <Kept desk={desk} shown={seen} places={places} />}
    </form>
  );
}

interface PartProps {
  typed: Typed;
  places: Places;
  set(some: Partial<Typed>): void;
  say(some: Partial<api.Order>): void;
}

function Text({ label, name, value, set, hint }: { label: string; name: string; value: string; set(v: string): void; hint?: string }) {
  return <label class="field"><span>{label}</span><input type="text" name={name} value={value} placeholder={hint} autoComplete="off" dir="auto" onInput={(e) => set(e.currentTarget.value)} /></label>;
}

function Choice<T extends string>({ label, name, value, of, set }: { label: string; name: string; value: T; of: readonly (readonly [T, string])[]; set(v: T): void }) {
  return (
    <label class="field"><span>{label}</span>
      <select name={name} value={value} onChange={(e) => set(e.currentTarget.value as T)}>{of.map(([is, words]) => <option key={is} value={is}>{words}</option>)}</select>
    </label>
  );
}

function Sale({ typed, set, say, places }: PartProps) {
  const o = typed.order;
  const purposes = (["sale", "friend", "press", "deposit", "shop"] as const).map((p) => [p, purposeWords[p]] as const);
  return (
    <fieldset class="part">
      <legend>The order</legend>
      <div class="fields">
        <Text label="Copies" name="copies" value={typed.copies} set={(copies) => set({ copies })} />
        <Choice<Purpose> label="They are" name="for" value={o.for} of={purposes} set={(p) => say({ for: p })} />
        <Text label={o.for === "shop" ? "The shop" : "Sold through"} name="channel" value={o.channel} set={(channel) => say({ channel })} hint="a shop, a fair, by hand" />
        <Text label="Order number" name="number" value={o.number} set={(number) => say({ number })} hint="the next one" />
        <label class="field"><span>Day</span><input type="date" name="day" value={o.day} onInput={(e) => say({ day: e.currentTarget.value })} /></label>
        <Choice label="Currency" name="currency" value={typed.currency} of={places.currencies} set={(currency) => set({ currency })} />
        <Text label="Paid for the copies" name="price" value={typed.price} set={(price) => set({ price })} hint="not said" />
        <Text label="Paid for postage" name="postage" value={typed.postage} set={(postage) => set({ postage })} hint="not said" />
        {o.id > 0 && <Choice<OrderState> label="It is" name="state" value={o.state} of={(["open", "sent", "cancelled"] as const).map((s) => [s, stateWords[s]] as const)} set={(state) => say({ state })} />}
      </div>
    </fieldset>
  );
}

function Person({ typed, set, say, places }: PartProps) {
  const { to, wish, note } = typed.order;
  const who = (some: Partial<api.Addressee>) => say({ to: { ...to, ...some } });
  return (
    <fieldset class="part">
      <legend>For whom</legend>
      <p class="quiet">Leave the address empty for copies that change hands in person.</p>
      <div class="fields">
        <Text label="Name" name="name" value={to.name} set={(name) => who({ name })} />
        <Text label="Company" name="company" value={to.company} set={(company) => who({ company })} />
        <label class="field wide"><span>Street and house, a line for each part</span><textarea name="lines" rows={3} dir="auto" value={typed.lines} onInput={(e) => set({ lines: e.currentTarget.value })} /></label>
        <Text label="Postcode" name="postcode" value={to.postcode} set={(postcode) => who({ postcode })} />
        <Text label="Town" name="town" value={to.town} set={(town) => who({ town })} />
        <Text label="Region, where it is written" name="region" value={to.region} set={(region) => who({ region })} />
        <Choice label="Country" name="country" value={to.country} of={places.countries} set={(country) => who({ country })} />
        <Text label="E-mail" name="email" value={to.email} set={(email) => who({ email })} />
        <Text label="Telephone" name="phone" value={to.phone} set={(phone) => who({ phone })} />
        <label class="field wide"><span>What they wish</span><textarea name="wish" rows={2} dir="auto" value={wish} onInput={(e) => say({ wish: e.currentTarget.value })} /></label>
        <label class="field wide"><span>Your own note</span><textarea name="note" rows={2} dir="auto" value={note} onInput={(e) => say({ note: e.currentTarget.value })} /></label>
      </div>
    </fieldset>
  );
}

/** What follows from an order that is kept: its copies, its label, its declaration; and the person's rights. */
function Kept({ desk, shown, places }: { desk: Desk; shown: api.OrderShown; places: Places }) {
  const { order } = shown;
  return (
    <aside class="order-kept" aria-label="What follows from it">
      <section aria-labelledby="kept-copies">
        <h3 id="kept-copies">Its copies</h3>
        <p data-marks="">{shown.marks.length > 0 ? shown.marks.join(", ") : "none"}{shown.marks.length < order.copies && order.state !== "cancelled" && <span class="quiet"> of {order.copies}; the rest is waited for</span>}</p>
      </section>
      {!order.erased && shown.label.length > 0 && (
        <section aria-labelledby="kept-label">
          <h3 id="kept-label">As a label has it</h3>
          <ul class="label" data-label="">{shown.label.map((line, i) => <li key={i} dir="auto">{line}</li>)}</ul>
          {shown.doubts.map((d) => <p key={d.words} class={d.stops ? "grave" : "quiet"}>{d.words}</p>)}
        </section>
      )}
      <Customs desk={desk} order={order.id} revision={order.revision} places={places} />
      {!order.erased && <Rights desk={desk} order={order} />}
    </aside>
  );
}

function Customs({ desk, order, revision, places }: { desk: Desk; order: number; revision: number; places: Places }) {
  const { found } = useAsked(() => program.declarations(desk.title.id, order), [desk, order, revision, desk.copiesMark]);
  if (!found) return null;
  return (
    <section aria-labelledby="kept-customs">
      <h3 id="kept-customs">For the customs</h3>
      {found.trouble && <p class="quiet">{found.trouble}</p>}
      {found.declarations.map((d, i) => (
        <div key={i} data-declaration={d.form || "none"}>
          <p>{d.form ? <strong>{d.form}</strong> : d.need.needed ? <strong>A declaration is needed.</strong> : "No declaration is needed."} {d.need.why}</p>
          {d.need.needed && d.items.map((item) => (
            <p class="quiet" key={item.words}>{item.quantity} × {item.words}, HS {item.hs}, {massWords(item.mass)} net, {massWords(d.mass)} in all{item.value.currency && `, ${written(item.value, places.decimals)}`}{d.sdr && `, ${d.sdr} SDR`}{item.origin && `, printed in ${item.origin}`}; {d.category}.</p>
          ))}
          {d.doubts.map((words) => <p class="quiet" key={words}>{words}</p>)}
          {d.need.needed && <p class="quiet">{d.caution}</p>}
        </div>
      ))}
    </section>
  );
}

/** What a person may ask for: all that is kept of them, and that it be erased. */
function Rights({ desk, order }: { desk: Desk; order: api.Order }) {
  const [known, setKnown] = useState<api.PersonOrders>();
  const [days, setDays] = useState(0);
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const [done, setDone] = useState<api.Erased>();
  const tried = async <T,>(work: Promise<T>, then: (is: T) => void) => {
    try {
      then(await work);
      setTrouble(undefined);
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  const save = (of: api.PersonOrders) => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(of, null, 2)], { type: "application/json" }));
    link.download = `what is kept of order ${order.number}.json`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  };
  if (done) return <Gone of={done} />;
  return (
    <section aria-labelledby="kept-rights">
      <h3 id="kept-rights">What is kept of this person</h3>
      {trouble && <Trouble of={trouble} />}
      <p class="line-acts">
        <Word act="person" onClick={() => void tried(program.person(desk.title.id, order.id), save)}>Give all of it as a file</Word>
        <Word act="erase" aria-expanded={known !== undefined} onClick={() => void tried(program.person(desk.title.id, order.id), setKnown)}>Erase this person</Word>
      </p>
      {known && (
        <div class="erasing" role="group" aria-label="Erasing">
          <p>{plural(known.orders.length, "order")} of {[...new Set(known.orders.map((o) => o.title))].join(", ")}. Name, address, e-mail, telephone, wish and note go for good, here and out of the backups. Number, day, copies, country and amounts stay: the tax adviser needs them, and the same table read again brings nobody back.</p>
          <label>Spare backups younger than <input type="number" name="days" min={0} max={3650} value={days} onInput={(e) => setDays(e.currentTarget.valueAsNumber || 0)} /> days</label>
          <p class="line-acts">
            <Word act="erase-for-good" strong onClick={() => void tried(program.erasePerson(desk.title.id, order.id, days), (is) => { setDone(is); desk.changedCopies(); desk.say("The person is erased."); })}>Erase for good</Word>
            <Word act="keep-person" onClick={() => setKnown(undefined)}>Leave it</Word>
          </p>
          <p class="quiet">Copies you made yourself of the data file, and tables from your shop, are yours to clear.</p>
        </div>
      )}
    </section>
  );
}

function Gone({ of }: { of: api.Erased }) {
  return (
    <section aria-label="Erased" data-erased="" role="status">
      <p>Erased out of {plural(of.orders, "order")} and {plural(of.backups, "backup")}.</p>
      {of.kept.length > 0 && <p>Still in {of.kept.join(", ")}, which you asked to spare; they go once ten newer ones are there.</p>}
      {of.leftOver.length > 0 && <p>These files cannot be read, so nothing could be taken out of them: {of.leftOver.join(", ")}. Delete them yourself when you no longer need them.</p>}
      {!of.settled && <p>Another window or program is reading just now: what is left in the free room of the data file goes at the next start.</p>}
    </section>
  );
}
