import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { dayOf, roundWords, verdicts } from "../model/proofs";
import type * as api from "../net/api";
import * as program from "../net/program";
import { DayField, Pick, TextField } from "./fields";
import { SheetFrame, settledRevision, Trouble, useDesk, Word } from "./parts";
import { Photograph } from "./proof-photograph";

/** What a part of this panel needs to act: run does one thing after the other, each with all of it as the one before left it, and shows it anew. */
export interface Bench {
  readonly desk: Desk;
  readonly shown: api.ProofsShown;
  run(does: (now: api.ProofsShown) => Promise<api.ProofsShown>, said: string): Promise<boolean>;
}

/** Rounds of proofs: what was sent, what came, what photographs of it tell, and what was decided. */
export function Proofs({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [shown, setShown] = useState<api.ProofsShown>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const latest = useRef<api.ProofsShown | undefined>(undefined);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const take = (now: api.ProofsShown) => setShown(latest.current = now);
  const run: Bench["run"] = (does, said) => {
    const work = queue.current.then(() => act(does, said));
    queue.current = work;
    return work;
  };
  const act: Bench["run"] = async (does, said) => {
    try {
      take(await does(latest.current!));
      setTrouble(undefined);
      desk.say(said);
      return true;
    } catch (err) {
      const why = program.troubleOf(err);
      setTrouble(why);
      if (why.code === "stale") await program.proofs(desk.title.id).then(take, () => undefined); // the trouble is shown
      return false;
    }
  };
  const wall = settledRevision(desk);
  useEffect(() => { // another window changed rounds, or what is told beside them
    queue.current = queue.current.then(() => program.proofs(desk.title.id).then(take, (err) => setTrouble(program.troubleOf(err))));
  }, [desk, desk.proofsMark, desk.inquiryMark, wall, desk.pages]);
  return (
    <SheetFrame name="proofs" title="Proofs" whole close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      {!shown && !trouble && <p class="quiet" role="status">Fetching the rounds.</p>}
      {shown && <Rounds bench={{ desk, shown, run }} />}
    </SheetFrame>
  );
}

function Rounds({ bench }: { bench: Bench }) {
  const { desk, shown, run } = bench;
  const id = desk.title.id;
  const last = shown.rounds.at(-1);
  const begin = () => run(() => program.addRound(id, { date: dayOf(new Date()), printer: last?.round.printer ?? "", kind: last?.round.kind ?? "", came: "", verdict: "", changes: "", looks: [], sent: { file: "", hash: "", version: 0 } }),
    "A round is begun, and the wall behind it is kept as a version.");
  return (
    <>
      {shown.rounds.length === 0 && <p>When a proof comes, begin a round. A photograph of one of its pages then tells how its colours and tones differ from the file, and the check list what else to look at.</p>}
      <p class="line-acts">
        <Word act="begin-round" strong={shown.rounds.length === 0} onClick={begin}>Begin a round</Word>
        {shown.takenOut.map((n) => <Word key={n} act="put-back-round" onClick={() => run(() => program.putBackRound(id, n), `Round ${n} is put back.`)}>Put round {n} back</Word>)}
      </p>
      {[...shown.rounds].reverse().map((r) => <Round key={r.number} bench={bench} of={r} />)}
      <p class="care">A photograph is no spectrophotometer. It tells the direction of a cast and about how large it is; what a sheet has to be is for the printer's instruments to say.</p>
    </>
  );
}

const kinds = [["", "not said"], ["digital", "digital proof"], ["wet", "wet proof"]] as const;

function Round({ bench, of: { number, round, known, findings, takenOut } }: { bench: Bench; of: api.RoundShown }) {
  const { desk, shown, run } = bench;
  const id = desk.title.id;
  const keep: Keep = (change, said = "It is kept.") => run((now) => {
    const is = now.rounds.find((one) => one.number === number)!;
    return program.changeRound(id, number, is.revision, { ...is.round, ...change(is.round) });
  }, said);
  const written = (fact: "date" | "printer" | "kind" | "came" | "changes") => (words: string) => keep(() => ({ [fact]: words }));
  const since = shown.versions[round.sent.version];
  return (
    <section class="round" data-round={number} aria-labelledby={`round-${number}`}>
      <h3 id={`round-${number}`}>{roundWords(number, round)}</h3>
      <div class="fields">
        <DayField label="Day it came" name="date" value={round.date} keep={written("date")} />
        <TextField label="Printer" name="printer" value={round.printer} list={shown.printers} keep={written("printer")} />
        <Pick label="Kind" name="kind" value={round.kind} of={kinds} keep={written("kind")} />
        <SentFile round={round} keep={keep} />
        <TextField label="What came" name="came" lines={2} value={round.came} keep={written("came")} />
      </div>
      {known && <p class="quiet">{round.printer} is one of the title’s printers. <Word act="to-quotes" onClick={() => desk.show({ sheet: "quotes" })}>Look at the quotes</Word></p>}
      {since && <p class="quiet">Behind it stands the version “{since.name}”. Since then: {since.words}.</p>}
      <Photographs bench={bench} round={number} takenOut={takenOut} />
      {[...findings].reverse().map((f) => <Photograph key={f.number} bench={bench} of={f} />)}
      <CheckList round={number} questions={shown.questions} looks={round.looks} keep={keep} />
      <fieldset class="verdict">
        <legend>Verdict</legend>
        {verdicts.map(([verdict, words]) => (
          <label key={verdict}><input type="radio" name={`verdict-${number}`} value={verdict} checked={round.verdict === verdict} onChange={() => keep(() => ({ verdict }), `The verdict is: ${words}.`)} /> {words}</label>
        ))}
        <TextField label="What is to be changed" name="changes" lines={3} value={round.changes} keep={written("changes")} />
      </fieldset>
      <p class="line-acts"><Word act="take-out-round" onClick={() => run(() => program.takeOutRound(id, number), `Round ${number} is taken out; it can be put back.`)}>Take this round out</Word></p>
    </section>
  );
}

/** Changes a round as it stands once what was kept before has arrived. */
type Keep = (change: (is: api.Round) => Partial<api.Round>, said?: string) => Promise<boolean>;

/** The file that was sent, known again by its hash. It is read here and goes nowhere. */
function SentFile({ round, keep }: { round: api.Round; keep: Keep }) {
  const file = useRef<HTMLInputElement>(null);
  const take = async (taken: File) => {
    const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", await taken.arrayBuffer()));
    const hash = Array.from(sum, (b) => b.toString(16).padStart(2, "0")).join("");
    void keep((is) => ({ sent: { ...is.sent, file: taken.name, hash } }), `It is kept that ${taken.name} was sent.`);
  };
  return (
    <div class="sent-file">
      <input ref={file} type="file" hidden accept=".pdf" aria-label="The file that was sent"
        onChange={(e) => { const taken = e.currentTarget.files?.[0]; e.currentTarget.value = ""; if (taken) void take(taken); }} />
      {round.sent.hash ? <span>Sent: {round.sent.file} <span class="quiet" title={round.sent.hash}>(SHA-256 {round.sent.hash.slice(0, 12)}…)</span></span> : <span class="quiet">Which file was sent is not noted.</span>}
      <Word act="sent-file" onClick={() => file.current!.click()}>{round.sent.hash ? "Another file" : "Note the file that was sent"}</Word>
    </div>
  );
}

/** Takes photographs of pages, one at a time. */
function Photographs({ bench, round, takenOut }: { bench: Bench; round: number; takenOut: readonly number[] }) {
  const { desk, shown, run } = bench;
  const file = useRef<HTMLInputElement>(null);
  const stop = useRef<AbortController>(undefined);
  const [page, setPage] = useState(shown.pages[0] ?? 0);
  const [busy, setBusy] = useState(false);
  const take = async (taken: File) => {
    stop.current = new AbortController();
    setBusy(true);
    const { signal } = stop.current;
    await run(() => program.measureProof(desk.title.id, round, page, taken, signal).catch((err) => {
      throw signal.aborted ? new program.Trouble("cancelled", "Measuring was stopped; nothing was kept.", "") : err;
    }), page ? `Page ${page} is measured.` : "The test strip is measured.");
    setBusy(false);
  };
  return (
    <div class="photographs">
      <p class="line-acts">
        <label>Page <select name="page" value={page} onChange={(e) => setPage(Number(e.currentTarget.value))}>
          <option value={0}>test strip</option>
          {shown.pages.map((p, i) => <option key={p} value={p}>{p}, photo {shown.photos[i]}</option>)}
        </select></label>
        <input ref={file} type="file" hidden accept="image/*,.heic,.tif,.tiff" aria-label="A photograph of this page of the proof"
          onChange={(e) => { const taken = e.currentTarget.files?.[0]; e.currentTarget.value = ""; if (taken) void take(taken); }} />
        <Word act="measure" disabled={busy} onClick={() => file.current!.click()}>Measure a photograph of this page</Word>
        {busy && <><span role="status">Finding the page and measuring it.</span><Word act="stop-measuring" onClick={() => stop.current?.abort()}>Stop</Word></>}
        {takenOut.map((n) => <Word key={n} act="put-back-photograph" onClick={() => run(() => program.putBackPhotograph(desk.title.id, n), "The photograph is put back.")}>Put photograph {n} back</Word>)}
      </p>
      <p class="quiet">Lay the page flat, bare paper in view, in even daylight without sun; show all of it, in focus, not overexposed. A grey card or a 24-patch colour target beside it makes the answer surer.</p>
      <p class="quiet">Better still: have <a href={program.stripAddress(desk.title.id)} download data-act="strip">the test strip</a> printed with the next proof, on the same paper. It holds greys, skin, sky and leaves, and the colours of what hangs now; photograph it and choose “test strip” as the page. What hangs when it is measured has to be what hung when it was made.</p>
    </div>
  );
}

/** What to look at on a proof, in plain words. */
function CheckList({ round, questions, looks, keep }: { round: number; questions: readonly api.Question[]; looks: readonly api.Look[]; keep: Keep }) {
  const of = (item: string) => looks.find((l) => l.item === item) ?? { item, seen: "", note: "" };
  const set = (look: api.Look) => keep((is) => ({ looks: [...is.looks.filter((l) => l.item !== look.item), look] }));
  const done = looks.filter((l) => l.seen !== "").length;
  return (
    <details class="check-list">
      <summary data-act="check-list">Check list: {done} of {questions.length} looked at</summary>
      {questions.map((q) => {
        const look = of(q.name);
        return (
          <fieldset key={q.name} data-question={q.name}>
            <legend>{q.ask}</legend>
            <p class="quiet">{q.how}</p>
            <p class="line-acts">
              {([["", "not yet"], ["good", "good"], ["not good", "not good"]] as const).map(([seen, words]) => (
                <label key={seen}><input type="radio" name={`look-${round}-${q.name}`} value={seen} checked={look.seen === seen} onChange={() => set({ ...look, seen })} /> {words}</label>
              ))}
            </p>
            <TextField label="Note" name={`note-${q.name}`} value={look.note} keep={(note) => set({ ...look, note })} />
          </fieldset>
        );
      })}
    </details>
  );
}
