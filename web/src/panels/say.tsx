// The lines in which the maker says what they know: each states one fact of all
// chosen photos as one act, which the wall's undo takes back.

import type { ComponentChildren } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import {
  actWords, feelingsUsed, feelingsWith, frameFrom, held, lengthWords, of, readFeelings, townRadius, whereWords, type Photo,
} from "../model/facts";
import type { PhotoID, Refusal, Spread } from "../model/sequence";
import { longestNote } from "../model/chapter";
import { dayFrom, readWhen, typedWhen, whenWords } from "../model/when";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Trouble, Word } from "./parts";
import { Towns, type Named } from "./towns";

interface Of {
  desk: Desk;
  photos: readonly Photo[];
}

function numbers(photos: readonly Photo[]): PhotoID[] {
  return photos.map((p) => p.number);
}

function Line({ send, children }: { send(): unknown; children: ComponentChildren }) {
  return <form class="say" onSubmit={(e) => { e.preventDefault(); send(); }}>{children}</form>;
}

export function SayWhen({ desk, photos }: Of) {
  const shared = held(photos, "taken");
  const [typed, setTyped] = useState(shared.length === 1 && shared[0]!.value.taken ? typedWhen(shared[0]!.value.taken) : "");
  const [touched, setTouched] = useState(false);
  const [refusal, setRefusal] = useState<Refusal>();
  const read = readWhen(typed, dayFrom(new Date()));
  const say = (taken: api.When | undefined) => desk.state(numbers(photos), "taken", () => (taken ? { taken } : {}));
  const send = () => {
    setRefusal(read.ok ? undefined : read.refusal);
    if (read.ok) say(read.value.is === "time" ? read.value.when : undefined);
  };
  return (
    <Line send={send}>
      <input type="text" aria-label="When, in your words" aria-describedby="when-read" placeholder="7 May 2026, or 3–9 May 2026" autoComplete="off" data-say="taken" value={typed}
        onInput={(e) => { setTyped(e.currentTarget.value); setTouched(true); setRefusal(undefined); }} />
      <button type="submit" class="word" data-act="say-taken">Say so</button>
      <Word act="forget-taken" onClick={() => say(undefined)}>Nobody knows</Word>
      <p class="quiet read" id="when-read">{touched && read.ok ? `Read as ${understood(read.value)}` : "A minute, a day, some days, a month or a year."}</p>
      {refusal && <Trouble of={refusal} />}
    </Line>
  );
}

function understood(typed: { is: "unknown" } | { is: "time"; when: api.When }): string {
  if (typed.is === "unknown") return "unknown.";
  const close = { instant: "to the minute", day: "to the day", span: "some time in these days", unknown: "" }[typed.when.precision];
  return `${whenWords(typed.when)}, ${close}.`;
}

const radii = [100, 250, 500, 1000, 2000, 5000, 10_000, 25_000, 100_000]; // metres

export function SayWhere({ desk, photos }: Of) {
  const [named, setNamed] = useState<Named>();
  const near = useMemo(() => [...desk.photos.values()].flatMap((p) => p.where ?? []), [desk.photos]);
  const [radius, setRadius] = useState(0); // 0: as large as the town
  const [refusal, setRefusal] = useState<Refusal>();
  const wide = radius || (named ? (named.people > 0 || !/\d/.test(named.words) ? townRadius(named.people) : 100) : 2000);
  const send = () => {
    setRefusal(named ? undefined : { code: "invalid", message: "No town is chosen.", hint: "Type the beginning of its name and take one of those proposed." });
    if (!named) return;
    const where: api.Where = { lat: named.lat, lng: named.lng, radius: wide, source: "maker" };
    desk.state(numbers(photos), "where", () => ({ where }), (of) => actWords(of, "where", { where }, named.words));
  };
  return (
    <Line send={send}>
      <Towns near={near} named={named} name={(place) => { setNamed(place); setRefusal(undefined); }} />
      <select aria-label="How closely" value={wide} onChange={(e) => setRadius(Number(e.currentTarget.value))}>
        {radii.map((r) => <option key={r} value={r}>within {lengthWords(r)}</option>)}
      </select>
      <button type="submit" class="word" data-act="say-place">Say so</button>
      <p class="line-acts">
        <Word act="map" onClick={() => desk.show({ sheet: "map" })}>Point at it on the map</Word>
        <Word act="borrow" onClick={() => desk.show({ sheet: "borrow" })}>From a track or phone</Word>
        <Word act="forget-where" onClick={() => desk.state(numbers(photos), "where", () => ({}))}>Nobody knows</Word>
      </p>
      {refusal && <Trouble of={refusal} />}
    </Line>
  );
}

export function SayRoll({ desk, photos }: Of) {
  const shared = held(photos, "roll");
  const [typed, setTyped] = useState(shared.length === 1 ? (shared[0]!.value.text ?? "") : "");
  const rolls = [...new Set([...desk.photos.values()].map((p) => p.roll).filter(Boolean))].sort();
  const text = typed.trim();
  const one = shared.length === 1 ? shared[0]!.value.text : undefined;
  return (
    <Line send={() => text && desk.state(numbers(photos), "roll", () => ({ text }))}>
      <input type="text" aria-label="Roll" list="rolls" autoComplete="off" maxLength={200} placeholder="Roll" data-say="roll" value={typed} onInput={(e) => setTyped(e.currentTarget.value)} />
      <datalist id="rolls">{rolls.map((r) => <option key={r} value={r} />)}</datalist>
      <button type="submit" class="word" data-act="say-roll-name" disabled={text === ""}>Say so</button>
      {photos.some((p) => p.roll) && <Word act="forget-roll" onClick={() => desk.state(numbers(photos), "roll", () => ({}))}>Of no roll</Word>}
      {one && <Word act="reverse-roll" onClick={() => void reverseRoll(desk, one)}>Reverse the order of roll {one}</Word>}
    </Line>
  );
}

/** Numbers a roll's frames backwards: a lab that scanned it from its tail counted the wrong way. */
export async function reverseRoll(desk: Desk, roll: string): Promise<void> {
  try {
    const change = await program.reverseRoll(desk.title.id, roll);
    const frames = new Map((change.says ?? []).map((s) => [s.photo, s.now]));
    desk.state([...frames.keys()], "frame", (p) => frames.get(p.number)!, () => change.act);
  } catch (err) {
    desk.notify(program.troubleOf(err));
  }
}

export function SayFrame({ desk, photos }: Of) {
  const many = photos.length > 1;
  const [typed, setTyped] = useState(many ? "" : photos[0]!.frame);
  const [backwards, setBackwards] = useState(false);
  const [refusal, setRefusal] = useState<Refusal>();
  const order = numbers(photos).sort((a, b) => a - b);
  const text = typed.trim();
  const last = many ? frameFrom(text, order.length - 1, backwards) : text;
  const send = () => {
    if (text === "") return;
    const bad = many && last === undefined;
    setRefusal(bad ? { code: "invalid", message: "They cannot be numbered on from that.", hint: "Begin with a number large enough to count down from, such as 36." } : undefined);
    if (bad) return;
    const words = many ? (n: PhotoID[]) => `say that ${of(n)} are frames ${text} to ${last}` : undefined;
    desk.state(order, "frame", (_, i) => ({ text: many ? frameFrom(text, i, backwards)! : text }), words);
  };
  return (
    <Line send={send}>
      <input type="text" class="short" aria-label={many ? "First frame; the others are numbered on from it" : "Frame"} placeholder={many ? "From frame" : "Frame"} autoComplete="off" maxLength={20} data-say="frame"
        value={typed} onInput={(e) => setTyped(e.currentTarget.value)} />
      <button type="submit" class="word" data-act="say-frame" disabled={text === ""}>{many ? "Number on" : "Say so"}</button>
      {photos.some((p) => p.frame) && <Word act="forget-frame" onClick={() => desk.state(order, "frame", () => ({}))}>No frame known</Word>}
      {many && <label class="check"><input type="checkbox" checked={backwards} onChange={(e) => setBackwards(e.currentTarget.checked)} /> counting down</label>}
      {refusal && <Trouble of={refusal} />}
    </Line>
  );
}

const mostOffered = 14;

export function SayFeelings({ desk, photos }: Of) {
  const [typed, setTyped] = useState("");
  const used = feelingsUsed(photos);
  const offered = useOffered(desk, photos);
  const others = offered.filter((f) => !used.some((u) => u.word === f.word)).slice(0, mostOffered);
  const say = (more: string[], less: string[] = []) => desk.state(numbers(photos), "feeling", (p) => feelingsWith(p, more, less), (n) =>
    `say that ${of(n)} ${n.length === 1 ? (less.length ? "does not feel" : "feels") : less.length ? "do not feel" : "feel"} ${[...more, ...less].join(" and ")}`);
  const send = () => {
    const words = readFeelings(typed);
    if (words.length > 0 && say(words)) setTyped("");
  };
  return (
    <Line send={send}>
      {used.length === 0 && <p class="value quiet">No word yet.</p>}
      {used.length > 0 && (
        <p class="feelings" role="group" aria-label="Words on what is chosen">
          {used.map((f) => {
            const all = f.photos.length === photos.length;
            return (
              <Word key={f.word} act="feeling" aria-pressed={all} title={all ? "Take it away" : "Say it of all"} onClick={() => (all ? say([], [f.word]) : say([f.word]))}>
                {f.word}{!all && <span class="quiet"> {f.photos.length} of {photos.length}</span>}
              </Word>
            );
          })}
        </p>
      )}
      <input type="text" aria-label="Words for how it feels, between commas" placeholder="cold, loud, waiting" autoComplete="off" data-say="feeling" value={typed} onInput={(e) => setTyped(e.currentTarget.value)} />
      <button type="submit" class="word" data-act="say-feelings">Add</button>
      {others.length > 0 && (
        <p class="feelings" role="group" aria-label="Words used in this title"><span class="quiet">Used already:</span>
          {others.map((f) => <Word key={f.word} act="feeling" title={f.like.length > 0 ? `As ${of(f.like)}, which ${f.like.length === 1 ? "feels" : "feel"} much like this one` : undefined} onClick={() => say([f.word])}>{f.word}</Word>)}
        </p>
      )}
    </Line>
  );
}

interface Offered {
  readonly word: string;
  readonly like: readonly PhotoID[]; // photos that feel much like this one
}

/** The words used in this title, those first that the program finds likeliest for the first of the photos. */
function useOffered(desk: Desk, photos: readonly Photo[]): Offered[] {
  const words = feelingsUsed(desk.photos.values()).map((f): Offered => ({ word: f.word, like: [] }));
  const [likely, setLikely] = useState<{ of: PhotoID; words: Offered[] }>();
  const photo = photos[0]?.number ?? 0;
  const settled = desk.session.waiting === 0;
  useEffect(() => {
    if (photo === 0 || !settled) return undefined;
    const stop = new AbortController();
    program.feelingsFor(desk.title.id, photo, stop.signal).then((s) => setLikely({ of: photo, words: s.suggestions }), () => undefined); // then as often as they are used
    return () => stop.abort();
  }, [desk, photo, settled, words.map((w) => w.word).join()]);
  if (likely?.of !== photo) return words;
  return [...likely.words, ...words.filter((w) => !likely.words.some((l) => l.word === w.word))];
}

export function SayCaption({ desk, photo }: { desk: Desk; photo: Photo }) {
  const [typed, setTyped] = useState(photo.caption);
  const text = typed.trim();
  return (
    <Line send={() => desk.state([photo.number], "caption", () => (text ? { text } : {}))}>
      <textarea rows={3} maxLength={2000} aria-label="Caption" placeholder={`Photo ${photo.number}, ${whereWords(photo)}`} data-say="caption" value={typed} onInput={(e) => setTyped(e.currentTarget.value)} />
      <button type="submit" class="word" data-act="say-caption">Write it</button>
    </Line>
  );
}

/** A note on one photo, for the maker alone. */
export function SayNote({ desk, photo }: { desk: Desk; photo: Photo }) {
  return <Note name="note" label={`Note on photo ${photo.number}`} was={photo.note ?? ""} write={(text) => desk.state([photo.number], "note", () => (text ? { text } : {}))} />;
}

/** Why two photos face each other; it stays with their spread. */
export function SayWhy({ desk, spread }: { desk: Desk; spread: Spread }) {
  return <Note name="why" label="Why these two" was={spread.note} write={(note) => desk.act({ want: "note", spread: spread.id, note })} />;
}

function Note({ name, label, was, write }: { name: string; label: string; was: string; write(text: string): unknown }) {
  const [typed, setTyped] = useState(was);
  const text = typed.trim();
  return (
    <Line send={() => text !== was && write(text)}>
      <textarea rows={3} maxLength={longestNote} aria-label={label} placeholder="For you alone; it is never printed" data-say={name} value={typed} onInput={(e) => setTyped(e.currentTarget.value)} />
      <button type="submit" class="word" data-act={`say-${name}`} disabled={text === was}>Write it</button>
      {was !== "" && <Word act={`forget-${name}`} onClick={() => write("")}>Take it away</Word>}
    </Line>
  );
}
