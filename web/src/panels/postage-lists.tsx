import { useRef, useState } from "preact/hooks";
import { gramsOf, linesOf, readGrams, readMm } from "../model/copies";
import type * as api from "../net/api";
import * as program from "../net/program";
import { DayField, DecimalField, Field, MoneyField, Pick, TextField, Tick, WholeField } from "./fields";
import { Make } from "./make";
import { Trouble, Word } from "./parts";
import type { Lists } from "./postage";

interface Bare<T> {
  label: string;
  name: string;
  value: T;
  keep(v: T): Promise<boolean>;
  hint?: string;
}

function Grams({ label, name, value, keep, hint = "grams" }: Bare<number>) {
  return <Field label={label} name={name} value={gramsOf(value)} inputMode="decimal" placeholder={hint} keep={keep}
    read={(typed) => { const is = typed.trim() === "" ? 0 : readGrams(typed); return is === undefined ? { wrong: "Grams, such as 22.5." } : { is }; }} />;
}

function Mm({ label, name, value, keep, hint = "mm" }: Bare<number>) {
  return <Field label={label} name={name} value={value === 0 ? "" : String(value)} inputMode="decimal" placeholder={hint} keep={keep}
    read={(typed) => { const is = typed.trim() === "" ? 0 : readMm(typed); return is === undefined ? { wrong: "Millimetres, such as 240 or 0.3." } : { is }; }} />;
}

/** A list with one of it another, or gone. */
function with1<T>(list: readonly T[], at: number, some: Partial<T> | undefined): T[] {
  return list.flatMap((one, i) => (i !== at ? [one] : some ? [{ ...one, ...some }] : []));
}

const kinds = [["mailer", "mailer"], ["board", "board"], ["card", "card"], ["sticker", "sticker"], ["sleeve", "sleeve"]] as const;
const nothing: api.Money = { minor: 0, currency: "" };

/** What lies on the packing shelf, weighed and measured. */
export function Shelf({ of, places, keep }: Lists) {
  const list = of.materials;
  const change = (at: number) => (some: Partial<api.Material> | undefined) => keep((is) => ({ materials: with1(is.materials, at, some) }));
  const add = (kind: api.Material["kind"]) => {
    let n = list.length + 1;
    while (list.some((m) => m.name === `${kind} ${n}`)) n++;
    const inside = { width: 240, height: 330 };
    const mailer = kind === "mailer" ? { inside, outside: { width: 250, height: 345 }, deepest: 20, wall: 2, each: 0 } : { inside: { width: 0, height: 0 }, outside: { width: 0, height: 0 }, deepest: 0, wall: 0, each: 1 };
    void keep((is) => ({ materials: [...is.materials, { name: `${kind} ${n}`, kind, mass: 0, letter: false, price: nothing, ...mailer }] }));
  };
  return (
    <section class="copies-part" aria-labelledby="shelf">
      <h3 id="shelf">The packing shelf</h3>
      <p class="quiet">Weigh one of each, with its tape. Copies lie flat, one on the other, in the smallest mailer that holds them; what goes in with every parcel says how many.</p>
      <ul class="shelf">{list.map((m, i) => <OnShelf key={m.name} of={m} places={places} keep={change(i)} />)}</ul>
      <p class="line-acts">{kinds.map(([kind, words]) => <Word key={kind} act={`add-${kind}`} onClick={() => add(kind)}>Add a {words}</Word>)}</p>
    </section>
  );
}

function OnShelf({ of: m, places, keep }: { of: api.Material; places: Lists["places"]; keep(some: Partial<api.Material> | undefined): Promise<boolean> }) {
  const currency = m.price.currency || "EUR";
  return (
    <li class="part" data-material={m.name}>
      <div class="fields">
        <TextField label="Name" name="name" value={m.name} keep={(name) => keep({ name })} />
        <Pick label="It is a" name="kind" value={m.kind} of={kinds} keep={(kind) => keep({ kind })} />
        <Grams label="Weighs, grams" name="mass" value={m.mass} keep={(mass) => keep({ mass })} hint="weigh one" />
        {m.kind === "mailer" ? (
          <>
            <Mm label="Inside, width" name="inside-width" value={m.inside.width} keep={(width) => keep({ inside: { ...m.inside, width } })} />
            <Mm label="Inside, height" name="inside-height" value={m.inside.height} keep={(height) => keep({ inside: { ...m.inside, height } })} />
            <Mm label="Holds up to, thick" name="deepest" value={m.deepest} keep={(deepest) => keep({ deepest })} />
            <Mm label="Outside, width" name="outside-width" value={m.outside.width} keep={(width) => keep({ outside: { ...m.outside, width } })} />
            <Mm label="Outside, height" name="outside-height" value={m.outside.height} keep={(height) => keep({ outside: { ...m.outside, height } })} />
            <Mm label="Adds to the thickness" name="wall" value={m.wall} keep={(wall) => keep({ wall })} />
          </>
        ) : (
          <>
            <WholeField label={m.kind === "sleeve" ? "Around each copy" : "In each parcel"} name="each" value={m.each} keep={(each) => keep({ each: each ?? 0 })} />
            <Mm label="Is thick" name="wall" value={m.wall} keep={(wall) => keep({ wall })} />
            <Tick name="letter" on={m.letter} keep={(letter) => keep({ letter })}>a personal message: not as printed matter</Tick>
          </>
        )}
        <MoneyField label={`Costs, ${currency}`} name="price" value={m.price.minor > 0 ? m.price : undefined} currency={currency} decimals={places.decimals} keep={(price) => keep({ price: price ?? nothing })} />
      </div>
      <Word act="remove-material" onClick={() => void keep(undefined)}>Take {m.name} off the shelf</Word>
    </li>
  );
}

const classes = [["letter", "letter"], ["small packet", "small packet"], ["printed matter", "printed matter"], ["parcel", "parcel"]] as const;

/** The maker's own price table, typed or read from CSV. */
export function Prices({ desk, of, places, keep }: Lists) {
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const file = useRef<HTMLInputElement>(null);
  const { tariff } = of;
  const set = (some: (is: api.Tariff) => Partial<api.Tariff>) => keep((is) => ({ tariff: { ...is.tariff, ...some(is.tariff) } }));
  const change = (at: number) => (some: Partial<api.Price> | undefined) => set((is) => ({ prices: with1(is.prices, at, some) }));
  const read = async (taken: File) => {
    try {
      const is = await program.readPrices(desk.title.id, taken);
      setTrouble(undefined);
      await set(() => ({ zones: is.zones, prices: is.prices }));
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  const add = () => void set((is) => {
    const last = is.prices.at(-1);
    const zone = last?.zone ?? is.zones[0]?.name;
    if (zone === undefined) return {};
    const next: api.Price = last ? { ...last, upTo: last.upTo + 250_000 }
      : { service: "Letter", class: "letter", tracked: false, zone, upTo: 250_000, price: { minor: 0, currency: "EUR" }, longest: 0, thickest: 0 };
    return { prices: [...is.prices, next] };
  });
  return (
    <div class="copies-part">
      {trouble && <Trouble of={trouble} />}
      <Zones of={tariff} places={places} set={set} />
      <section class="copies-part" aria-labelledby="prices">
        <h3 id="prices">Prices by service, zone and weight</h3>
        <div class="fields">
          <TextField label="Where they were read" name="source" value={tariff.source} keep={(source) => set(() => ({ source }))} />
          <DayField label="When" name="day" value={tariff.day} keep={(day) => set(() => ({ day }))} />
          <Tick name="tracked-only" on={of.tracked} keep={(tracked) => keep(() => ({ tracked }))}>only services that are tracked</Tick>
        </div>
        <ul class="price-rows">
          {tariff.prices.map((p, i) => (
            <li key={i} data-price={i}>
              <TextField label="Service" name="service" value={p.service} keep={(service) => change(i)({ service })} />
              <Pick label="Goes as" name="class" value={p.class} of={classes} keep={(c) => change(i)({ class: c })} />
              <Pick label="To" name="zone" value={p.zone} of={tariff.zones.map((z) => [z.name, z.name] as const)} keep={(zone) => change(i)({ zone })} />
              <Grams label="Up to, grams" name="upTo" value={p.upTo} keep={(upTo) => change(i)({ upTo })} />
              <MoneyField label={`Price, ${p.price.currency}`} name="price" value={p.price} currency={p.price.currency} decimals={places.decimals} keep={(price) => change(i)({ price: price ?? { ...p.price, minor: 0 } })} />
              <Tick name="tracked" on={p.tracked} keep={(tracked) => change(i)({ tracked })}>tracked</Tick>
              <Word act="remove-price" aria-label={`Remove ${p.service} to ${p.zone} up to ${gramsOf(p.upTo)} g`} onClick={() => void change(i)(undefined)}>Remove</Word>
            </li>
          ))}
        </ul>
        <p class="line-acts">
          <Word act="add-price" disabled={tariff.zones.length === 0} onClick={add}>Add a price</Word>
          <Word act="read-prices" onClick={() => file.current!.click()}>Read a price table (CSV)</Word>
          <Make desk={desk} act="prices-csv" make={(stop) => program.sentPrices(desk.title.id, stop)}>As a table (CSV)</Make>
          <input ref={file} type="file" hidden accept=".csv,text/csv" aria-label="The price table" onChange={(e) => { const taken = e.currentTarget.files?.[0]; e.currentTarget.value = ""; if (taken) void read(taken); }} />
        </p>
        <p class="quiet">A table has the columns service, class (letter, small packet, printed matter, parcel), tracked, zone, up to g, price, currency, longest mm, thickest mm.</p>
      </section>
    </div>
  );
}

function freeName(zones: readonly api.Zone[]): string {
  let n = zones.length + 1;
  while (zones.some((z) => z.name === `zone ${n}`)) n++;
  return `zone ${n}`;
}

function Zones({ of, places, set }: { of: api.Tariff; places: Lists["places"]; set(some: (is: api.Tariff) => Partial<api.Tariff>): Promise<boolean> }) {
  const byName = new Map(places.countries.flatMap(([code, name]) => (code ? [[code.toLowerCase(), code] as const, [name.toLowerCase(), code] as const] : [])));
  const change = (at: number, some: Partial<api.Zone> | undefined) => set((is) => {
    const was = is.zones[at]!.name;
    const prices = some ? is.prices.map((p) => (p.zone === was ? { ...p, zone: some.name ?? was } : p)) : is.prices.filter((p) => p.zone !== was);
    return { zones: with1(is.zones, at, some), prices };
  });
  const read = (typed: string) => {
    const words = typed.split(/[,;\n]+/).map((w) => w.trim()).filter(Boolean);
    const unknown = words.find((w) => !byName.has(w.toLowerCase()));
    return unknown ? { wrong: `“${unknown}” is no country of the list.` } : { is: [...new Set(words.map((w) => byName.get(w.toLowerCase())!))] };
  };
  return (
    <section class="copies-part" aria-labelledby="zones">
      <h3 id="zones">Zones</h3>
      <ul class="price-rows">
        {of.zones.map((z, i) => (
          <li class="zone" key={z.name} data-zone={z.name}>
            <TextField label="Zone" name="zone-name" value={z.name} keep={(name) => change(i, { name })} />
            <Field label="Countries, by name or code" name="zone-countries" value={z.countries.join(", ")} read={read} keep={(countries) => change(i, { countries })} />
            <Tick name="rest" on={z.rest} keep={(rest) => change(i, { rest })}>all others</Tick>
            <Word act="remove-zone" onClick={() => void change(i, undefined)}>Remove {z.name} and its prices</Word>
          </li>
        ))}
      </ul>
      <p><Word act="add-zone" onClick={() => void set((is) => ({ zones: [...is.zones, { name: freeName(is.zones), countries: [], rest: false }] }))}>Add a zone</Word></p>
    </section>
  );
}

/** What classes of mail may weigh and measure. */
export function Limits({ of, places, keep }: Lists) {
  const change = (at: number) => (some: Partial<api.Limit> | undefined) => keep((is) => ({ limits: with1(is.limits, at, some) }));
  const add = () => void keep((is) => ({ limits: [...is.limits, { class: "letter", from: of.sender.country, inland: of.sender.country !== "", heaviest: 0, longest: 0, sum: 0, thickest: 0, shortFace: 0, longFace: 0, source: "", day: "" }] }));
  return (
    <section class="copies-part" aria-labelledby="limits">
      <h3 id="limits">Limits</h3>
      <p class="quiet">The international ones hold for items abroad from any country unless yours has a row of its own. What holds within your country is for you to enter. An empty field is no limit.</p>
      <ul class="shelf">
        {of.limits.map((l, i) => (
          <li class="part" key={i} data-limit={i}>
            <div class="fields">
              <Pick label="For" name="class" value={l.class} of={classes} keep={(c) => change(i)({ class: c })} />
              <Pick label="Posted in" name="from" value={l.from} of={places.countries.map(([code, name]) => [code, code ? name : "any country"] as const)} keep={(from) => change(i)({ from, inland: l.inland && from !== "" })} />
              <Grams label="At most, grams" name="heaviest" value={l.heaviest} keep={(heaviest) => change(i)({ heaviest })} hint="no limit" />
              <Mm label="Longest side" name="longest" value={l.longest} keep={(longest) => change(i)({ longest })} hint="no limit" />
              <Mm label="All three sides together" name="sum" value={l.sum} keep={(sum) => change(i)({ sum })} hint="no limit" />
              <Mm label="Thickness" name="thickest" value={l.thickest} keep={(thickest) => change(i)({ thickest })} hint="no limit" />
              <Mm label="Face at least, shorter side" name="shortFace" value={l.shortFace} keep={(shortFace) => change(i)({ shortFace })} hint="no limit" />
              <Mm label="Face at least, longer side" name="longFace" value={l.longFace} keep={(longFace) => change(i)({ longFace })} hint="no limit" />
              <TextField label="Where it was read" name="source" value={l.source} keep={(source) => change(i)({ source })} />
              <DayField label="When" name="day" value={l.day} keep={(day) => change(i)({ day })} />
              {l.from !== "" && <Tick name="inland" on={l.inland} keep={(inland) => change(i)({ inland })}>within that country</Tick>}
            </div>
            <Word act="remove-limit" aria-label={`Remove the limits of ${l.class}`} onClick={() => void change(i)(undefined)}>Remove</Word>
          </li>
        ))}
      </ul>
      <p><Word act="add-limit" onClick={add}>Add limits</Word></p>
    </section>
  );
}

/** What one SDR was worth: which customs form it is depends on it. */
export function Rates({ of, places, keep }: Lists) {
  const change = (at: number) => (some: Partial<api.SDRRate> | undefined) => keep((is) => ({ rates: with1(is.rates, at, some) }));
  const left = places.currencies.map(([code]) => code).filter((code) => !of.rates.some((r) => r.currency === code));
  const next = of.rates.length === 0 && left.includes("EUR") ? "EUR" : left[0];
  const add = () => { if (next) void keep((is) => ({ rates: [...is.rates, { currency: next, worth: "1", day: new Date().toISOString().slice(0, 10), source: "" }] })); };
  return (
    <section class="copies-part" aria-labelledby="rates">
      <h3 id="rates">What one SDR is worth</h3>
      <p class="quiet">The value of a parcel decides between CN 22 (below 300 SDR) and CN 23. The International Monetary Fund publishes the rate each working day; exactly 300 SDR is read both ways.</p>
      <ul class="price-rows">
        {of.rates.map((r, i) => (
          <li key={r.currency} data-rate={r.currency}>
            <Pick label="In" name="rate-currency" value={r.currency} of={[[r.currency, r.currency], ...left.map((c) => [c, c] as const)]} keep={(currency) => change(i)({ currency })} />
            <DecimalField label="One SDR is" name="worth" value={r.worth} keep={(worth) => change(i)({ worth })} />
            <DayField label="On" name="rate-day" value={r.day} keep={(day) => change(i)({ day })} />
            <TextField label="Where it was read" name="rate-source" value={r.source} keep={(source) => change(i)({ source })} />
            <Word act="remove-rate" aria-label={`Remove the rate of ${r.currency}`} onClick={() => void change(i)(undefined)}>Remove</Word>
          </li>
        ))}
      </ul>
      <p><Word act="add-rate" disabled={!next} onClick={add}>Add a rate</Word></p>
    </section>
  );
}

/** Who posts: its country is that of posting. */
export function Sender({ of, places, keep }: Lists) {
  const s = of.sender;
  const set = (some: Partial<api.Addressee>) => keep((is) => ({ sender: { ...is.sender, ...some } }));
  return (
    <section class="copies-part" aria-labelledby="sender">
      <h3 id="sender">Who sends</h3>
      <div class="fields">
        <TextField label="Name" name="name" value={s.name} keep={(name) => set({ name })} />
        <TextField label="Company" name="company" value={s.company} keep={(company) => set({ company })} />
        <Field label="Street and house, a line for each part" name="lines" value={s.lines.join("\n")} lines={3} read={(typed) => ({ is: linesOf(typed) })} keep={(lines) => set({ lines })} />
        <TextField label="Postcode" name="postcode" value={s.postcode} keep={(postcode) => set({ postcode })} />
        <TextField label="Town" name="town" value={s.town} keep={(town) => set({ town })} />
        <TextField label="Region, where it is written" name="region" value={s.region} keep={(region) => set({ region })} />
        <Pick label="Country of posting" name="country" value={s.country} of={places.countries} keep={(country) => set({ country })} />
        <TextField label="E-mail" name="email" value={s.email} keep={(email) => set({ email })} />
        <TextField label="Telephone" name="phone" value={s.phone} keep={(phone) => set({ phone })} />
      </div>
      <p class="quiet">It stays in the data file and is left out when the title is packed for others.</p>
    </section>
  );
}
