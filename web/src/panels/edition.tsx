import { useState } from "preact/hooks";
import { gramsOf, keyOf, massWords, placeWords, purposeWords, readGrams, shownCopies, tallyWords, type Place, type Purpose, type Shown } from "../model/copies";
import type { Desk } from "../model/desk";
import type { Decimals } from "../model/money";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Field, MoneyField, Pick, TextField, Tick, WholeField } from "./fields";
import { SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";
import { useSaved } from "./saved";

/** Countries and currencies, which never change while the page is open. */
export function usePlaces() {
  const { found } = useAsked(() => program.countries(), []);
  const decimals: Decimals = new Map(found?.currencies.map((c) => [c.code, c.decimals]));
  const countries = [["", "not said"] as const, ...(found?.countries ?? []).map((c) => [c.code, c.name] as const)];
  const currencies = (found?.currencies ?? []).map((c) => [c.code, c.code] as const);
  return { there: found !== undefined, countries, currencies, decimals };
}
export type Places = ReturnType<typeof usePlaces>;

/** What was printed and where each copy is. */
export function EditionPanel({ desk }: { desk: Desk }) {
  useDesk(desk);
  const places = usePlaces();
  const id = desk.title.id;
  const { now, trouble, save } = useSaved(desk, () => program.edition(id));
  const keep = (some: Partial<api.Edition>) => save((is) => program.saveEdition(id, { revision: is.revision, edition: { ...is.edition, ...some } }), "Kept.");
  const move = (what: api.Move) => save(() => program.moveCopies(id, what), `${plural(what.copies.length, "copy", "copies")} changed.`);
  return (
    <SheetFrame name="edition" title="Edition" whole close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      {now && places.there ? (
        <div class="copies-room">
          <div class="copies-part">
            <Decided of={now} places={places} set={keep} />
            <OneCopy of={now} />
          </div>
          <Copies of={now} move={move} />
        </div>
      ) : !trouble && <p class="quiet" role="status">Looking at the copies.</p>}
    </SheetFrame>
  );
}

function Decided({ of, places, set }: { of: api.EditionShown; places: Places; set(some: Partial<api.Edition>): Promise<boolean> }) {
  const e = of.edition;
  const currency = e.price.currency || "EUR";
  return (
    <section aria-labelledby="edition-decided">
      <h3 id="edition-decided">What is made</h3>
      <div class="fields">
        <WholeField label="Numbered copies" name="size" value={e.size || undefined} keep={(n) => set({ size: n ?? 0 })} placeholder="none yet" />
        <WholeField label="Artist's proofs beside them" name="proofs" value={e.proofs || undefined} keep={(n) => set({ proofs: n ?? 0 })} placeholder="none" />
        <WholeField label="Copies outside the trade" name="outside" value={e.outside || undefined} keep={(n) => set({ outside: n ?? 0 })} placeholder="none" />
        <Pick label="The price is in" name="currency" value={currency} of={places.currencies} keep={(code) => set({ price: { minor: 0, currency: code } })} />
        <MoneyField label="Price of a copy" name="price" value={e.price.minor > 0 ? e.price : undefined} currency={currency} decimals={places.decimals}
          keep={(price) => set({ price: price ?? { minor: 0, currency } })} />
        <Field label="One finished copy on the scale, grams" name="weighed" value={gramsOf(e.weighed)} inputMode="decimal" placeholder="not weighed"
          read={(typed) => { const is = typed.trim() === "" ? 0 : readGrams(typed); return is === undefined ? { wrong: "Grams, such as 180.5." } : { is }; }} keep={(weighed) => set({ weighed })} />
        <Pick label="For the customs it is" name="goods" value={e.goods} of={[["book", "a printed book, HS 4901.99"], ["pictures", "loose pictures, HS 4911.91"]]} keep={(goods) => set({ goods })} />
        <Pick label="Printed in" name="origin" value={e.origin} of={places.countries} keep={(origin) => set({ origin })} />
        <WholeField label={`Pages; the wall makes ${of.pages}`} name="pages" value={e.pages || undefined} keep={(n) => set({ pages: n ?? 0 })} placeholder={String(of.pages)} />
        <Tick name="marked" on={e.marked} keep={(marked) => set({ marked })}>numbered by hand</Tick>
        <Tick name="signed" on={e.signed} keep={(signed) => set({ signed })}>signed</Tick>
      </div>
      <p class="quiet">Proofs are counted A.P. I, II, III, copies outside the trade H.C. 1, 2, 3: for the library that has a right to some, for friends, for the press. A series can be made shorter as long as nothing was done with the copies at its end.</p>
    </section>
  );
}

function OneCopy({ of }: { of: api.EditionShown }) {
  const { copied } = of;
  return (
    <section aria-labelledby="one-copy">
      <h3 id="one-copy">One copy</h3>
      <p data-copied=""><strong>{massWords(copied.mass)}</strong>, {Math.round(copied.thickness * 10) / 10} mm thick, {copied.size.width} × {copied.size.height} mm.
        {of.edition.weighed > 0 ? <span class="quiet"> As weighed; reckoned {massWords(copied.computed)}.</span> : <span class="quiet"> Reckoned; {massWords(copied.least)} to {massWords(copied.most)} when the paper is 5 % lighter or heavier.</span>}</p>
      <ul class="quiet">{copied.parts.map((part) => <li key={part.words}>{part.words}: {massWords(part.mass)}</li>)}</ul>
      {copied.doubts.map((words) => <p class="quiet" key={words}>{words}</p>)}
    </section>
  );
}

const shownWords: readonly (readonly [Shown, string])[] = [["all", "all copies"], ["free", "free to sell"], ["here", "here"], ["shop", "with a shop"], ["sold", "sold"], ["given", "given"], ["damaged", "damaged"]];

/** All copies, some of them chosen, and what to do with those. */
function Copies({ of, move }: { of: api.EditionShown; move(m: api.Move): Promise<boolean> }) {
  const [shown, setShown] = useState<Shown>("all");
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  if (of.copies.length === 0) return <section aria-labelledby="the-copies"><h3 id="the-copies">The copies</h3><p class="quiet">Say how many are printed, and each of them is listed here. Orders entered before wait for them.</p></section>;
  const list = shownCopies(of.copies, shown);
  const some = of.copies.filter((c) => chosen.has(keyOf(c)));
  const turn = (c: api.Copy, on: boolean) => {
    const next = new Set(chosen);
    if (on) next.add(keyOf(c));
    else next.delete(keyOf(c));
    setChosen(next);
  };
  return (
    <section class="copies-part" aria-labelledby="the-copies">
      <h3 id="the-copies">The copies</h3>
      <p data-tally="" role="status">{tallyWords(of.tally)}.</p>
      <p class="line-acts">
        <label>Show <select name="shown" value={shown} onChange={(e) => setShown(e.currentTarget.value as Shown)}>{shownWords.map(([is, words]) => <option key={is} value={is}>{words}</option>)}</select></label>
        <Word act="choose-copies" onClick={() => setChosen(new Set(list.map(keyOf)))}>Choose all {list.length} shown</Word>
        {some.length > 0 && <Word act="choose-no-copies" onClick={() => setChosen(new Set())}>Choose none</Word>}
      </p>
      <WithChosen some={some} move={async (m) => { if (await move({ ...m, copies: some.map(({ series, number }) => ({ series, number })) })) setChosen(new Set()); }} />
      <div class="copies-list" tabIndex={0} role="region" aria-label="The copies listed">
        <table>
          <thead><tr><th scope="col"><span class="unseen">Chosen</span></th><th scope="col">Copy</th><th scope="col">Is</th><th scope="col">For</th><th scope="col">Note</th></tr></thead>
          <tbody>
            {list.map((c) => (
              <tr key={keyOf(c)} data-copy={keyOf(c)}>
                <td><input type="checkbox" aria-label={`Copy ${c.mark}`} checked={chosen.has(keyOf(c))} onChange={(e) => turn(c, e.currentTarget.checked)} /></td>
                <th scope="row">{c.mark}</th>
                <td>{c.place === "shop" ? `with ${c.shop}` : placeWords[c.place]}</td>
                <td>{purposeWords[c.for]}</td>
                <td class="free-text"><bdi>{c.note}</bdi></td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function WithChosen({ some, move }: { some: readonly api.Copy[]; move(m: Omit<api.Move, "copies">): Promise<void> }) {
  const [place, setPlace] = useState<Exclude<Place, "sold">>("given");
  const [shop, setShop] = useState("");
  const [purpose, setPurpose] = useState<Exclude<Purpose, "shop">>("press");
  const [note, setNote] = useState("");
  const none = some.length === 0;
  const of = none ? "Choose copies below first." : `${plural(some.length, "copy", "copies")} chosen: ${some.slice(0, 8).map((c) => c.mark).join(", ")}${some.length > 8 ? " and more" : ""}.`;
  return (
    <div class="with-chosen" role="group" aria-label="With the copies chosen">
      <p class="quiet" role="status">{of}</p>
      <p class="line-acts">
        <Pick bare label="Where they are" name="place" value={place} of={(["here", "shop", "given", "damaged"] as const).map((p) => [p, placeWords[p]] as const)} keep={(p) => setPlace(p)} />
        {place === "shop" && <TextField bare label="The shop's name" name="shop" placeholder="the shop's name" value={shop} keep={async (name) => { setShop(name); return true; }} />}
        <Word act="move-copies" disabled={none || (place === "shop" && !shop.trim())} onClick={() => void move({ place, ...(place === "shop" ? { shop } : {}) })}>They are there</Word>
      </p>
      <p class="line-acts">
        <Pick bare label="What they are for" name="for" value={purpose} of={(["sale", "deposit", "friend", "press", "maker"] as const).map((p) => [p, purposeWords[p]] as const)} keep={(p) => setPurpose(p)} />
        <Word act="purpose-copies" disabled={none} onClick={() => void move({ for: purpose })}>Keep them for this</Word>
      </p>
      <p class="line-acts">
        <label class="unseen" for="copies-note">A note on them</label>
        <input id="copies-note" type="text" placeholder="a note" value={note} maxLength={2000} onInput={(e) => setNote(e.currentTarget.value)} />
        <Word act="note-copies" disabled={none} onClick={() => void move({ note })}>Write it on them</Word>
      </p>
      <p class="quiet">Copies are sold by entering an order; without an address it was hand to hand.</p>
    </div>
  );
}
