import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { grams, inHand, inTurn, parcelKey, progressWords } from "../model/packing";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { TextField } from "./fields";
import { SheetFrame, Trouble, useDesk, Word } from "./parts";

type Act = (make: () => Promise<api.TableShown>, said: string) => Promise<boolean>;

/** An afternoon's work: one parcel after the other, each kept as soon as it is packed. */
export function PackingTable({ desk }: { desk: Desk }) {
  useDesk(desk);
  const id = desk.title.id;
  const { found, trouble, setTrouble, setFound } = useTable(desk);
  const [later, setLater] = useState<readonly string[]>([]);
  const [taken, setTaken] = useState<string>();
  const busy = useRef(false);
  const act: Act = async (make, said) => {
    if (busy.current) return false; // a scanner sends Enter twice sooner than the program answers
    busy.current = true;
    try {
      setFound(await make()); // at once, so that the next Enter is for the next parcel
      setTrouble(undefined);
      desk.changedCopies();
      desk.say(said);
      return true;
    } catch (err) {
      setTrouble(program.troubleOf(err));
      return false;
    } finally {
      busy.current = false;
    }
  };
  const undo = () => {
    if (found?.undo) void act(() => program.undoParcel(id), `Order ${found.undo}: taken back.`);
  };
  const keys = (e: KeyboardEvent) => {
    const field = e.target as HTMLInputElement;
    if (!(e.ctrlKey || e.metaKey) || e.shiftKey || e.key.toLowerCase() !== "z" || (field.matches("input[type=text]") && field.value !== "")) return;
    e.preventDefault();
    undo();
  };
  const turn = found ? inTurn(found.waiting, later) : [];
  const hand = inHand(turn, taken);
  return (
    <SheetFrame name="packing" title="Packing table" whole close={() => desk.show({ sheet: undefined })} onKeyDown={keys}>
      {found && (
        <div class="pack-head">
          <p role="status" data-progress="">{progressWords(found)}</p>
          <progress aria-label="Parcels packed" max={Math.max(1, found.waiting.length + found.done.length)} value={found.done.length} />
          <Word act="undo-parcel" disabled={!found.undo} onClick={undo}>Undo{found.undo && <span class="quiet">: order {found.undo}</span>}</Word>
        </div>
      )}
      {trouble && <Trouble of={trouble} />}
      {found?.lacks.map((words) => <p key={words} class="trouble">{words} <span class="quiet">Under Copies, Packing shelf and postage.</span></p>)}
      {!found ? !trouble && <p class="quiet" role="status">Laying the table.</p> : (
        <div class="pack-room">
          {hand ? <Hand key={parcelKey(hand)} desk={desk} parcel={hand} act={act}
            put={turn.length > 1 ? () => { setLater([...later.filter((k) => k !== parcelKey(hand)), parcelKey(hand)]); setTaken(undefined); } : undefined} />
            : <Bare of={found} />}
          <div class="pack-lists">
            <Waiting turn={turn} hand={hand} take={setTaken} />
            <HeldUp list={found.held} />
            <Packed desk={desk} list={found.done} act={act} />
          </div>
        </div>
      )}
    </SheetFrame>
  );
}

/** The table as the program has it, asked anew whenever any window changed it. */
function useTable(desk: Desk) {
  const [found, setFound] = useState<api.TableShown>();
  const [trouble, setTrouble] = useState<program.Trouble>();
  useEffect(() => {
    let gone = false;
    program.packingTable(desk.title.id).then(
      (table) => { if (!gone) setFound(table); },
      (err: unknown) => { if (!gone) setTrouble(program.troubleOf(err)); });
    return () => { gone = true; };
  }, [desk, desk.copiesMark]);
  return { found, setFound, trouble, setTrouble };
}

function Bare({ of }: { of: api.TableShown }) {
  return (
    <section class="pack-hand">
      <h3>{of.done.length > 0 ? "All that can go is packed" : "Nothing to pack yet"}</h3>
      <p>{of.held.length > 0 ? "What is held up is listed with the reason." : of.done.length > 0 ? "Bring it to the post; tracking numbers can still be added to what is packed." : "Decide about the edition and enter orders first; each that has its copies and an address comes to this table."}</p>
    </section>
  );
}

interface HandProps {
  desk: Desk;
  parcel: api.ToPack;
  act: Act;
  put: (() => void) | undefined;
}

/** The parcel in the hand: weigh, Enter, scan or Enter, and the next one comes. */
function Hand({ desk, parcel, act, put }: HandProps) {
  const [mass, setMass] = useState("");
  const [tracking, setTracking] = useState("");
  const [weighed, setWeighed] = useState<api.Weighed>();
  const [wrong, setWrong] = useState("");
  const [ticked, setTicked] = useState<readonly string[]>([]);
  const scale = useRef<HTMLInputElement>(null);
  const told = useRef({ mass: "", answer: Promise.resolve(true) }); // the weight that was asked about last
  const number = useRef<HTMLInputElement>(null);
  useEffect(() => scale.current?.focus(), []);
  const said = (): api.ParcelSaid => ({ order: parcel.order, copies: parcel.copies, mass, tracking });
  const ask = async (): Promise<boolean> => {
    if (mass.trim() === "") {
      setWeighed(undefined);
      setWrong("");
      return true;
    }
    try {
      const is = await program.weighParcel(desk.title.id, said());
      setWeighed(is);
      setWrong("");
      desk.say(is.words || "As it should be.");
      return true;
    } catch (err) {
      const { message, hint } = program.troubleOf(err);
      setWeighed(undefined);
      setWrong(`${message} ${hint}`);
      return false;
    }
  };
  const weigh = () => {
    if (told.current.mass !== mass) told.current = { mass, answer: ask() };
    return told.current.answer;
  };
  const enterMass = async () => {
    if (await weigh()) number.current?.focus();
  };
  const pack = () => void act(() => program.packParcel(desk.title.id, said()), `Order ${parcel.number} is packed.`);
  const choice = weighed?.choice ?? (weighed ? undefined : parcel.posted?.choice);
  return (
    <section class="pack-hand" aria-label={`Parcel of order ${parcel.number}`} data-parcel={parcel.number}>
      <h3>Order {parcel.number}{parcel.parts > 1 && `, parcel ${parcel.part} of ${parcel.parts}`} <span class="quiet">{parcel.channel}</span></h3>
      <fieldset class="pack-copies">
        <legend>{plural(parcel.copies.length, "copy", "copies")} of the shelf</legend>
        {parcel.marks.map((mark) => (
          <label key={mark} class="tick"><input type="checkbox" checked={ticked.includes(mark)} onChange={(e) => setTicked(e.currentTarget.checked ? [...ticked, mark] : ticked.filter((m) => m !== mark))} /> <strong>{mark}</strong></label>
        ))}
      </fieldset>
      {parcel.wish && <p class="pack-wish"><span class="quiet">Wish</span> {parcel.wish}</p>}
      {parcel.note && <p class="pack-wish"><span class="quiet">Note</span> {parcel.note}</p>}
      {parcel.label.length > 0 ? <address class="pack-label">{parcel.label.map((line, i) => <span key={i} dir="auto">{line}</span>)}</address>
        : <p><strong dir="auto">{parcel.name || "No name"}</strong>: changes hands in person.</p>}
      {parcel.posted && <p>In {parcel.posted.parcel.contents.slice(1).map((c) => (c.count > 1 ? `${c.count} × ${c.name}` : c.name)).join(", ")}; should weigh {grams(parcel.posted.parcel.mass)}.</p>}
      {parcel.trouble && <p class="trouble">{parcel.trouble}</p>}
      <form class="pack-form" onSubmit={(e) => {
        e.preventDefault();
        if (document.activeElement === scale.current) void enterMass();
        else pack();
      }}>
        <label>On the scale, grams
          <input ref={scale} name="mass" type="text" inputMode="decimal" autoComplete="off" value={mass} aria-invalid={wrong !== ""} aria-describedby={wrong ? "mass-wrong" : undefined}
            onInput={(e) => setMass(e.currentTarget.value)} onChange={() => void weigh()} />
        </label>
        <label>Tracking number, typed or scanned
          <input ref={number} name="tracking" type="text" autoComplete="off" spellcheck={false} value={tracking} onInput={(e) => setTracking(e.currentTarget.value)} />
        </label>
        {wrong && <p class="wrong" id="mass-wrong" role="alert">{wrong}</p>}
        {weighed?.words && <p class="trouble" role="alert">{weighed.words}</p>}
        {choice && <p data-goes="">Goes by <strong>{choice.service}</strong>{choice.tracked ? ", tracked" : ""}. <span class="quiet">{choice.why}</span></p>}
        <p class="line-acts">
          <button type="submit" class="word strong" data-act="pack-parcel">Packed</button>
          {put && <Word act="put-off" onClick={put}>Put off</Word>}
        </p>
      </form>
      <p class="quiet">Enter goes from the scale to the tracking number, and from there to the next parcel. Stop whenever you like: what is packed is kept.</p>
    </section>
  );
}

const atOnce = 100; // rows drawn of each list

function Waiting({ turn, hand, take }: { turn: readonly api.ToPack[]; hand: api.ToPack | undefined; take(key: string): void }) {
  if (turn.length < 2) return null;
  return (
    <details open>
      <summary>Still to pack, in shelf order</summary>
      <ol class="pack-turn">
        {turn.slice(0, atOnce).map((p) => (
          <li key={parcelKey(p)}>
            <Word act={`take-${p.number}`} aria-current={p === hand ? "true" : undefined} onClick={() => take(parcelKey(p))}>{p.marks.join(", ")}</Word>{" "}
            <span class="quiet">order {p.number}, <span dir="auto">{p.name}</span></span>
          </li>
        ))}
      </ol>
      {turn.length > atOnce && <p class="quiet">and {turn.length - atOnce} more</p>}
    </details>
  );
}

function HeldUp({ list }: { list: readonly api.HeldUp[] }) {
  if (list.length === 0) return null;
  return (
    <details open>
      <summary>Held up</summary>
      <ul class="pack-held">{list.slice(0, atOnce).map((h) => <li key={h.order}><strong>Order {h.number}</strong> <span dir="auto">{h.name}</span>: {h.why}</li>)}</ul>
      {list.length > atOnce && <p class="quiet">and {list.length - atOnce} more</p>}
    </details>
  );
}

function Packed({ desk, list, act }: { desk: Desk; list: readonly api.Done[]; act: Act }) {
  if (list.length === 0) return null;
  const id = desk.title.id;
  const change = (d: api.Done, some: Partial<api.ParcelChanged>, said: string) =>
    act(() => program.changeParcel(id, d.id, { mass: d.mass ? String(d.mass / 1000) : "", service: d.service, postage: d.postage, tracking: d.tracking, ...some }), said);
  return (
    <details open>
      <summary>Packed</summary>
      <ol class="pack-done">
        {list.slice(0, atOnce).map((d) => (
          <li key={d.id} data-packed={d.number}>
            <p><strong>{d.marks.join(", ")}</strong> <span class="quiet">order {d.number}, <span dir="auto">{d.name}</span>{d.mass > 0 && `, ${grams(d.mass)}`}{d.service && `, ${d.service}`}</span></p>
            <TextField label={`Tracking number of order ${d.number}`} name={`tracking-${d.id}`} bare placeholder="no tracking number" value={d.tracking} keep={(tracking) => change(d, { tracking }, "The number is kept.")} />
            <Word act={`unpack-${d.number}`} onClick={() => void act(() => program.unpackParcel(id, d.id), `Order ${d.number} is to be packed again.`)}>Take apart</Word>
          </li>
        ))}
      </ol>
    </details>
  );
}
