import { useState } from "preact/hooks";
import { massWords } from "../model/copies";
import { numberOf, written } from "../model/money";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Trouble, useAsked } from "./parts";
import type { Lists } from "./postage";

/** How every order goes for the least, what all of them cost, and what another copy would change. */
export function Outlay({ desk, places }: Lists) {
  const { found, trouble } = useAsked(() => program.postage(desk.title.id), [desk, desk.copiesMark]);
  if (trouble) return <Trouble of={trouble} />;
  if (!found) return <p class="quiet" role="status">Making parcels.</p>;
  const money = (m: api.Money) => written(m, places.decimals);
  return (
    <div class="copies-part">
      {found.lacks.length > 0 && <section aria-labelledby="postage-lacks"><h3 id="postage-lacks">To be entered first</h3><ul>{found.lacks.map((words) => <li key={words}>{words}</li>)}</ul></section>}
      <section aria-labelledby="postage-all">
        <h3 id="postage-all">Everything still to be sent</h3>
        <p data-outlay="" role="status">{found.parcels === 0 ? "No parcel can be made yet." : <><strong>{plural(found.parcels, "parcel")}, {money(found.total)}</strong>: {found.zones.map((z) => `${plural(z.parcels, "parcel")} to ${z.zone} ${money(z.total)}`).join(", ")}.</>}
          {found.trouble > 0 && ` ${plural(found.trouble, "order")} cannot go.`}</p>
        {found.shipments.length > 0 && (
          <div class="copies-list" tabIndex={0} role="region" aria-label="How each order goes">
            <table>
              <thead><tr><th scope="col">Copies</th><th scope="col">To</th><th scope="col">Packed in</th><th scope="col">Weighs</th><th scope="col">Goes as</th><th scope="col">Costs</th><th scope="col">Why</th></tr></thead>
              <tbody>{alike(found.shipments).map(([key, list]) => <Row key={key} list={list} money={(m) => numberOf(m, places.decimals)} />)}</tbody>
            </table>
          </div>
        )}
      </section>
      <WhatIf desk={desk} places={places} />
    </div>
  );
}

/** Orders of as many copies to one country go alike. */
function alike(list: readonly api.Shipment[]): [string, api.Shipment[]][] {
  const by = new Map<string, api.Shipment[]>();
  for (const s of list) {
    const key = `${s.ask.to} ${s.ask.copies}`;
    by.set(key, [...(by.get(key) ?? []), s]);
  }
  return [...by].sort(([a], [b]) => (a < b ? -1 : 1));
}

function Row({ list, money }: { list: readonly api.Shipment[]; money(m: api.Money): string }) {
  const s = list[0]!;
  const first = s.parcels[0];
  const times = list.length > 1 ? `${list.length} × ` : "";
  return (
    <tr data-to={s.ask.to}>
      <td>{times}{s.ask.copies}</td><td>{s.ask.to || "?"}</td>
      <td>{s.parcels.map((p) => p.parcel.mailer).join(" + ")}</td>
      <td>{s.parcels.map((p) => massWords(p.parcel.mass)).join(" + ")}</td>
      <td>{first && `${first.choice.service}, ${first.choice.class}${first.choice.tracked ? ", tracked" : ""}`}</td>
      <td>{first && `${times}${money(s.total)}`}</td>
      <td class="free-text">{first ? <><span>{first.parcel.why} {first.choice.why}</span> {first.choice.refused.length > 0 && <span class="quiet">Not {first.choice.refused.map((r) => `${r.service}: ${r.why}`).join("; ")}. </span>}{first.choice.doubt && <strong>{first.choice.doubt}</strong>}</> : <strong>{s.trouble}</strong>}</td>
    </tr>
  );
}

function WhatIf({ desk, places }: Pick<Lists, "desk" | "places">) {
  const [typed, setTyped] = useState({ pages: "0", text: "", cover: "" });
  const [found, setFound] = useState<api.Difference>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const ask = async () => {
    const number = (text: string) => Number(text.trim().replace(",", ".")) || 0;
    try {
      setFound(await program.whatIf(desk.title.id, { pages: Math.round(number(typed.pages)), text: number(typed.text), cover: number(typed.cover) }));
      setTrouble(undefined);
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  const field = (name: keyof typeof typed, label: string, hint: string) => (
    <label class="field"><span>{label}</span><input type="text" inputMode="decimal" name={`if-${name}`} value={typed[name]} placeholder={hint} onInput={(e) => setTyped({ ...typed, [name]: e.currentTarget.value })} /></label>
  );
  return (
    <section aria-labelledby="what-if">
      <h3 id="what-if">What if a copy were another?</h3>
      <form class="copies-part" onSubmit={(e) => { e.preventDefault(); void ask(); }}>
        <div class="fields">
          {field("pages", "Pages more, or fewer with a minus", "0")}
          {field("text", "Text paper, g/m²", "as it is")}
          {field("cover", "Cover paper, g/m²", "as it is")}
        </div>
        <p><button type="submit" class="word" data-act="ask-what-if">Tell what it does to the postage</button></p>
      </form>
      {trouble && <Trouble of={trouble} />}
      {found && (
        <div role="status" data-difference="">
          <p>{found.words}</p>
          <ul>{found.effects.map((e, i) => <li key={i}>{plural(e.orders, "order")} of {plural(e.copies, "copy", "copies")}: {e.words} <span class="quiet">({numberOf(e.before, places.decimals)} now, {numberOf(e.after, places.decimals)} then)</span></li>)}</ul>
        </div>
      )}
    </section>
  );
}

