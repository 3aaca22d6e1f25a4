import { useEffect, useRef, useState } from "preact/hooks";
import { fieldAt, matched, tableWords, type Field } from "../model/copies";
import type { Desk } from "../model/desk";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { TextField } from "./fields";
import { Trouble, Word } from "./parts";

const signs: readonly (readonly [string, string])[] = [[",", "commas"], [";", "semicolons"], ["\t", "tabs"], ["|", "upright strokes"]];
const orders: readonly (readonly [api.Table["days"], string])[] = [["", "cannot be told"], ["dmy", "the day"], ["mdy", "the month"]];

/** Reads a shop's table: first what it holds and what its columns mean, then, when asked, its orders. */
export function ReadTable({ desk, done }: { desk: Desk; done(): void }) {
  const [file, setFile] = useState<File>();
  const [read, setRead] = useState<api.OrderTable>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const [busy, setBusy] = useState(false);
  const input = useRef<HTMLInputElement>(null);
  const turn = useRef(0);
  const wanted = useRef<program.ReadingAsked | undefined>(undefined); // asked for and not answered yet
  const look = async (at: File, how: program.ReadingAsked | undefined, take = false): Promise<boolean> => {
    const mine = ++turn.current;
    setFile(at);
    setBusy(true);
    try {
      const is = await program.readOrders(desk.title.id, at, how, take);
      if (mine !== turn.current) return true; // a later question has this one's answer in it
      wanted.current = undefined;
      setRead(is);
      setTrouble(undefined);
      if (is.took) {
        desk.changedCopies();
        desk.say(`${plural(is.took.list.orders, "order")} taken.`);
      }
      setBusy(false);
      return true;
    } catch (err) {
      if (mine !== turn.current) return true;
      setTrouble(program.troubleOf(err));
      setBusy(false);
      return false;
    }
  };
  useEffect(() => {
    desk.takesFiles = (files) => { if (files[0]) void look(files[0], undefined); };
    return () => { desk.takesFiles = undefined; };
  }, [desk]);
  const again = async (some: program.ReadingAsked) => {
    if (!file || !read) return false;
    wanted.current = { ...(wanted.current ?? askedOf(read.table)), ...some };
    return look(file, wanted.current);
  };
  return (
    <div class="copies-part" aria-busy={busy}>
      <p>
        <Word act="choose-table" strong={!read} onClick={() => input.current!.click()}>{read ? "Another table" : "Choose the table"}</Word>
        <input ref={input} type="file" hidden accept=".csv,.tsv,.txt,text/csv" aria-label="The shop's table"
          onChange={(e) => { const taken = e.currentTarget.files?.[0]; e.currentTarget.value = ""; if (taken) void look(taken, undefined); }} />
        <span class="quiet"> A CSV export of any shop, or dropped here. Nothing is kept until you take it.</span>
      </p>
      {trouble && <Trouble of={trouble} />}
      {read?.took ? <Took of={read} done={done} /> : read && (
        <>
          <How read={read} again={again} />
          <Columns read={read} again={again} />
          <Found read={read} ready={!busy} take={() => void look(file!, askedOf(read.table), true)} />
        </>
      )}
    </div>
  );
}

function askedOf({ encoding, separator, columns, channel, currency, item, days }: api.Table): program.ReadingAsked {
  return { encoding, separator, columns, channel, currency, item, days };
}

interface HowProps {
  read: api.OrderTable;
  again(some: program.ReadingAsked): Promise<boolean>;
}

function How({ read, again }: HowProps) {
  const t = read.table;
  const said = (name: keyof program.ReadingAsked) => (words: string) => again({ [name]: words.trim() });
  return (
    <section aria-labelledby="how-read">
      <h3 id="how-read">How it was read</h3>
      <p data-read="" role="status">{tableWords(t)}. {read.matched && "A table like it was read before, and this one is read the same way."}</p>
      <div class="fields">
        <label class="field"><span>Letters look wrong? Its encoding</span><select name="encoding" value={t.encoding} onChange={(e) => void again({ encoding: e.currentTarget.value })}>{read.encodings.map((e) => <option key={e}>{e}</option>)}</select></label>
        <label class="field"><span>Columns are parted by</span><select name="separator" value={t.separator} onChange={(e) => void again({ separator: e.currentTarget.value })}>{signs.map(([is, words]) => <option key={is} value={is}>{words}</option>)}</select></label>
        <label class="field"><span>In 3/4/2026 there comes first</span><select name="days" value={t.days} onChange={(e) => void again({ days: e.currentTarget.value as api.Table["days"] })}>{orders.map(([is, words]) => <option key={is} value={is}>{words}</option>)}</select></label>
        <TextField label="Sold through" name="channel" value={t.channel} placeholder="the shop's name" keep={said("channel")} />
        <TextField label="Prices are in, unless a row says" name="currency" longest={3} value={t.currency} placeholder="EUR" keep={(words) => said("currency")(words.toUpperCase())} />
        <TextField label="Only rows whose item holds" name="item" value={t.item} placeholder="all rows" keep={said("item")} />
      </div>
    </section>
  );
}

/** What stands in a column of the first rows. */
function samplesOf(t: api.Table, column: number): string {
  return [...new Set(t.sample.map((row) => row[column] ?? "").filter(Boolean))].map((cell) => cell.slice(0, 40)).join(" · ");
}

function Columns({ read, again }: HowProps) {
  const t = read.table;
  return (
    <section aria-labelledby="columns">
      <h3 id="columns">What its columns mean</h3>
      <ul class="column-rows">
        {t.header.map((name, i) => (
          <li key={i}>
            <bdi class="of">{name || `column ${i + 1}`}</bdi>
            <select aria-label={`Column ${name || i + 1} means`} data-column={i} value={fieldAt(t.columns, i)} onChange={(e) => void again({ columns: matched(t.columns, i, e.currentTarget.value as Field | "") })}>
              <option value="">is left out</option>
              {read.fields.map((f) => <option key={f} value={f}>{f}</option>)}
            </select>
            <span class="quiet"><bdi>{samplesOf(t, i)}</bdi></span>
          </li>
        ))}
      </ul>
    </section>
  );
}

const badAtOnce = 100;

function Found({ read, ready, take }: { read: api.OrderTable; ready: boolean; take(): void }) {
  const { orders: list, bad, other } = read.table;
  const fresh = list.length - read.known.length;
  return (
    <section aria-labelledby="table-holds">
      <h3 id="table-holds">What it holds</h3>
      <p data-content="">{plural(fresh, "new order")}, {plural(list.reduce((n, o) => n + o.copies, 0), "copy", "copies")} in all; {read.known.length} known already by their numbers{other > 0 && `; ${plural(other, "row")} of other goods`}.</p>
      {bad.length > 0 && (
        <>
          <p><strong>{plural(bad.length, "row")} cannot be read and would be left out.</strong> Put them right in the table and read it again: what is known by then is not taken twice.</p>
          <ul class="bad-rows" tabIndex={0} aria-label="Rows that cannot be read">{bad.slice(0, badAtOnce).map((b, i) => <li key={i} data-bad={b.line}>Line {b.line}{b.number && <>, order <bdi>{b.number}</bdi></>}: {b.why}</li>)}</ul>
          {bad.length > badAtOnce && <p class="quiet">And {bad.length - badAtOnce} more.</p>}
        </>
      )}
      <p><Word act="take-table" strong disabled={fresh === 0 || !ready} onClick={take}>Take {plural(fresh, "order")}</Word></p>
    </section>
  );
}

function Took({ of, done }: { of: api.OrderTable; done(): void }) {
  const took = of.took!;
  return (
    <section aria-label="Taken" role="status" data-took="">
      <p><strong>{plural(took.list.orders, "order")} taken.</strong> {took.known.length > 0 && `${took.known.length} were known already.`} How the table was read is remembered.</p>
      {took.waiting > 0 && <p>{plural(took.waiting, "copy", "copies")} ordered beyond those there are: these orders are kept and wait.</p>}
      <p><Word act="to-orders" strong onClick={done}>See all orders</Word></p>
    </section>
  );
}
