import { useEffect, useRef, useState } from "preact/hooks";
import { asDuration, lengthOfTime, readLength, typedLength } from "../model/clock";
import type { Desk } from "../model/desk";
import { of as named } from "../model/facts";
import { chosenPhotos } from "../model/hand";
import type { PhotoID } from "../model/sequence";
import { dayOf, spanWords } from "../model/when";
import { plural, sentence } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { NamesFrom } from "./credits";
import { Print, SheetFrame, Trouble, useDesk, useQuietly, Word } from "./parts";

type Lender = api.BorrowingAsked["from"];

/** What the maker allows when places are borrowed. */
interface Wish {
  readonly from: Lender;
  readonly gap: number; // seconds
  readonly offset: string; // as typed; "" to find it
  readonly chosenOnly: boolean;
}

const gaps: Readonly<Record<Lender, readonly number[]>> = { tracks: [60, 300, 600, 1800, 3600, 10_800], phone: [900, 1800, 3600, 7200] }; // seconds

/** Places for photos that have none, from GPX tracks or from a phone's photos of the same hour. */
export function Borrow({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [wish, setWish] = useState<Wish>({ from: "tracks", gap: 600, offset: "", chosenOnly: chosenPhotos(desk.hand).length > 1 });
  const [tracks, setTracks] = useTracks(desk);
  const { loan, trouble } = useLoan(desk, wish, tracks?.length ?? 0);
  const set = (change: Partial<Wish>) => setWish({ ...wish, ...change });
  const ready = wish.from === "phone" || (tracks?.length ?? 0) > 0;
  return (
    <SheetFrame name="borrow" title="Borrow places" wide close={() => desk.show({ sheet: undefined })}>
      <p class="quiet">A photo that knows its time and no place can borrow the place: from the track of the journey, or from a phone's photo of the same hour. Nothing changes until you take it, and one undo takes it back.</p>
      <fieldset class="things">
        <legend class="unseen">From what</legend>
        {([["tracks", "from tracks"], ["phone", "from a phone's photos"]] as const).map(([from, words]) => (
          <label key={from}><input type="radio" name="lender" value={from} checked={wish.from === from} onChange={() => set({ from, gap: from === "tracks" ? 600 : 3600 })} /><span>{words}</span></label>
        ))}
      </fieldset>
      {wish.from === "tracks" && <Tracks desk={desk} tracks={tracks} set={setTracks} />}
      {ready && <Allowed desk={desk} wish={wish} set={set} loan={loan} />}
      {trouble && <Trouble of={trouble} />}
      {ready && loan && <Offers desk={desk} loan={loan} from={wish.from} />}
    </SheetFrame>
  );
}

function useTracks(desk: Desk) {
  const [tracks, setTracks] = useState<api.Track[]>();
  useEffect(() => {
    program.tracks(desk.title.id).then((t) => setTracks(t.tracks), (err) => desk.notify(program.troubleOf(err)));
  }, [desk, desk.tracksMark]);
  return [tracks, setTracks] as const;
}

/** Asks anew whenever what is allowed, the tracks or the photos are others. */
function useLoan(desk: Desk, wish: Wish, tracks: number) {
  const [loan, setLoan] = useState<api.Loan>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const stop = useRef<AbortController>(undefined);
  const offset = wish.offset === "" ? undefined : readLength(wish.offset);
  const waits = (wish.from === "tracks" && tracks === 0) || (wish.offset !== "" && offset === undefined) || desk.session.waiting > 0;
  useEffect(() => () => stop.current?.abort(), []);
  useQuietly(() => {
    if (waits) return;
    stop.current?.abort();
    const mine = (stop.current = new AbortController());
    const asked: api.BorrowingAsked = { from: wish.from, gap: asDuration(wish.gap), fit: true };
    if (wish.chosenOnly) asked.photos = chosenPhotos(desk.hand);
    if (offset !== undefined) asked.offset = asDuration(offset);
    program.borrow(desk.title.id, asked, mine.signal).then(
      (l) => { setLoan(l); setTrouble(undefined); desk.say(`${plural(l.proposals.length, "place")} can be borrowed.`); },
      (err) => { if (!mine.signal.aborted) setTrouble(program.troubleOf(err)); });
  }, 250, [desk.photos, tracks, waits, wish.from, wish.gap, wish.chosenOnly, offset]);
  return { loan, trouble };
}

/** Hands track files over; shared with dropping them on the page. */
export async function addTracks(desk: Desk, files: readonly File[]): Promise<api.Track[] | undefined> {
  if (files.length === 0) return undefined;
  try {
    const { tracks } = await program.addTracks(desk.title.id, files);
    desk.say(`${plural(files.length, "file")} added; there ${tracks.length === 1 ? "is" : "are"} ${plural(tracks.length, "track")}.`);
    return tracks;
  } catch (err) {
    desk.notify(program.troubleOf(err));
    return undefined;
  }
}

function Tracks({ desk, tracks, set }: { desk: Desk; tracks: api.Track[] | undefined; set(tracks: api.Track[]): void }) {
  const files = useRef<HTMLInputElement>(null);
  const add = async (list: File[]) => {
    const now = await addTracks(desk, list);
    if (now) set(now);
  };
  const remove = async (id: number) => {
    try {
      set((await program.removeTrack(desk.title.id, id)).tracks);
    } catch (err) {
      desk.notify(program.troubleOf(err));
    }
  };
  return (
    <section aria-labelledby="tracks-title">
      <h3 id="tracks-title">Tracks</h3>
      {tracks?.length === 0 && <p class="empty">No track yet. Add the GPX files that a receiver or a phone wrote on the way, or drop them anywhere on the page. Their points are kept with the title, the files stay where they are.</p>}
      <ul class="tracks">
        {tracks?.map((t) => (
          <li key={t.id} data-track={t.id}>
            <p>{t.name || t.from} <span class="quiet">{t.name && t.name !== t.from ? `${t.from}, ` : ""}{plural(t.points, "point")}{span(t)}</span>
              {t.findings.map((f) => <span class="quiet finding" key={f.words}>{sentence(f.words)}</span>)}</p>
            <Word act="remove-track" aria-label={`Take away the track ${t.name || t.from}`} onClick={() => void remove(t.id)}>Take away</Word>
          </li>
        ))}
      </ul>
      <p>
        <Word act="add-tracks" strong={tracks?.length === 0} onClick={() => files.current!.click()}>Add GPX files</Word>
        <input ref={files} type="file" multiple hidden accept=".gpx,application/gpx+xml" onChange={(e) => { void add([...(e.currentTarget.files ?? [])]); e.currentTarget.value = ""; }} />
      </p>
    </section>
  );
}

function span({ start, end }: api.Track): string {
  if (!start || !end) return ", without times: it lends no place";
  const [from, to] = [new Date(start).toISOString(), new Date(end).toISOString()]; // a track knows no zone but UTC
  const days = spanWords(dayOf(from), dayOf(to));
  return from.slice(0, 10) === to.slice(0, 10) ? `, ${days}, ${from.slice(11, 16)} to ${to.slice(11, 16)} UTC` : `, ${days}`;
}

/** The clocks that were found, and what the maker allows. */
function Allowed({ desk, wish, set, loan }: { desk: Desk; wish: Wish; set(change: Partial<Wish>): void; loan: api.Loan | undefined }) {
  const chosen = chosenPhotos(desk.hand).length;
  const typed = wish.offset === "" ? undefined : readLength(wish.offset);
  const found = [...(loan?.clocks ?? [])].sort((a, b) => b.used - a.used).map((c) => readLength(c.offset)).find((s) => s !== undefined);
  const idle = loan?.clocks.filter((c) => c.lends === 0) ?? [];
  const turn = (by: number) => set({ offset: typedLength((typed ?? found ?? 0) + by) });
  return (
    <section aria-labelledby="clock-title">
      <h3 id="clock-title">{wish.from === "tracks" ? "The camera's clock" : "Which photos"}</h3>
      {wish.from === "tracks" && (
        <>
          <Clocks of={loan?.clocks.filter((c) => c.lends > 0) ?? []} />
          <p class="line-acts">
            <label>Add to what the cameras show <input type="text" class="short" placeholder="found by itself" data-clock-offset="" autoComplete="off" value={wish.offset} aria-invalid={wish.offset !== "" && typed === undefined}
              onInput={(e) => set({ offset: e.currentTarget.value })} /></label>
            <Word act="hour-less" onClick={() => turn(-3600)}>an hour less</Word>
            <Word act="hour-more" onClick={() => turn(3600)}>an hour more</Word>
            {wish.offset !== "" && <Word act="find-clock" onClick={() => set({ offset: "" })}>find it again</Word>}
          </p>
          {idle.length > 0 && (
            <details>
              <summary>{plural(idle.length, "other clock")} by which nothing can be borrowed</summary>
              <Clocks of={idle} />
            </details>
          )}
          {wish.offset !== "" && typed === undefined && <p class="quiet">Write it like −2:00:07, or 1 h 7 min.</p>}
        </>
      )}
      <p class="line-acts">
        <label>{wish.from === "tracks" ? "Allow a gap in the track of up to" : "Allow up to"} <select aria-label="Longest gap" value={wish.gap} onChange={(e) => set({ gap: Number(e.currentTarget.value) })}>
          {gaps[wish.from].map((s) => <option key={s} value={s}>{lengthOfTime(s)}</option>)}
        </select>{wish.from === "phone" && " between the two photos"}</label>
        {chosen > 0 && <label class="check"><input type="checkbox" checked={wish.chosenOnly} onChange={(e) => set({ chosenOnly: e.currentTarget.checked })} /> only for the {plural(chosen, "chosen photo")}</label>}
      </p>
    </section>
  );
}

function Clocks({ of }: { of: readonly api.Clock[] }) {
  return <ul class="clocks">{of.map((c) => <li key={c.camera} data-clock={c.camera}><strong>{c.camera || "A camera that names no model"}</strong>: {c.words}.</li>)}</ul>;
}

/** What can be borrowed: taken all, or those that stay ticked. */
function Offers({ desk, loan, from }: { desk: Desk; loan: api.Loan; from: Lender }) {
  const [left, setLeft] = useState<ReadonlySet<PhotoID>>(new Set());
  const labels = useLabels(loan.proposals);
  useEffect(() => setLeft(new Set()), [loan]);
  const taken = loan.proposals.filter((p) => !left.has(p.photo));
  const tick = (photo: PhotoID, on: boolean) => setLeft(new Set(on ? [...left].filter((id) => id !== photo) : [...left, photo]));
  const take = () => {
    const places = new Map(taken.map((p) => [p.photo, p.where]));
    desk.state([...places.keys()], "where", (p) => ({ where: places.get(p.number)! }), (n) => `borrow the ${n.length === 1 ? "place" : "places"} of ${named(n)} from ${from === "tracks" ? "tracks" : "phone photos"}`);
  };
  return (
    <section aria-labelledby="offers-title">
      <h3 id="offers-title">{loan.proposals.length === 0 ? "No place can be borrowed" : `${plural(loan.proposals.length, "place")} can be borrowed`}</h3>
      {loan.proposals.length > 0 && (
        <>
          <ul class="offers">
            {loan.proposals.map((p) => (
              <li key={p.photo} data-offer={p.photo}>
                <label>
                  <input type="checkbox" checked={!left.has(p.photo)} onChange={(e) => tick(p.photo, e.currentTarget.checked)} aria-label={`Take the place of photo ${p.photo}`} />
                  <Print desk={desk} photo={p.photo} />
                  <span><strong>{p.photo}</strong> {labels.get(p.photo) ?? ""}<span class="quiet">{sentence(p.words)} {sentence(p.sure)}</span></span>
                </label>
              </li>
            ))}
          </ul>
          <NamesFrom />
          <footer class="sheet-foot">
            <p>{taken.length} of {plural(loan.proposals.length, "place")} ticked.</p>
            <Word act="take-places" strong disabled={taken.length === 0} onClick={take}>{taken.length === loan.proposals.length ? "Take all" : `Take these ${taken.length}`}</Word>
          </footer>
        </>
      )}
      {loan.without.length > 0 && (
        <details open={loan.proposals.length === 0}>
          <summary>{plural(loan.without.length, "photo borrows", "photos borrow")} nothing</summary>
          <ul class="without">{reasons(loan.without).map(([why, photos]) => <li key={why}>{sentence(why)} <span class="quiet">{photos.length > 12 ? plural(photos.length, "photo") : photos.join(", ")}</span></li>)}</ul>
        </details>
      )}
    </section>
  );
}

function reasons(without: readonly api.Without[]): [string, PhotoID[]][] {
  const by = new Map<string, PhotoID[]>();
  for (const { photo, why } of without) by.set(why, [...(by.get(why) ?? []), photo]);
  return [...by];
}

/** The towns of the proposed places, one asked after the other. */
function useLabels(proposals: readonly api.Offer[]): ReadonlyMap<PhotoID, string> {
  const [labels, setLabels] = useState<ReadonlyMap<PhotoID, string>>(new Map());
  useEffect(() => {
    const stop = new AbortController();
    const ask = async () => {
      const found = new Map<PhotoID, string>();
      for (const p of proposals) {
        found.set(p.photo, (await program.townsAround(p.where.lat, p.where.lng, stop.signal)).label ?? "");
        if (found.size % 10 === 0 || found.size === proposals.length) setLabels(new Map(found));
      }
    };
    ask().catch(() => undefined); // without a name the proposal can still be judged
    return () => stop.abort();
  }, [proposals]);
  return labels;
}
