import { useLayoutEffect, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { beginTrial, lay, point, readTrial, remade, type Trial } from "../model/memory";
import { readWall } from "../model/session";
import { empty, onWall, type Sequence } from "../model/sequence";
import { plural, sentence } from "../model/words";
import * as program from "../net/program";
import { ComparisonView, useComparison } from "./compare";
import { Facing, Print, SheetFrame, Trouble, useDesk, Word } from "./parts";
import { NameForm } from "./titles";

const lineName = "From memory";

/** The sequence seen without names, numbers and figures, and remade from memory beside the wall. */
export function FreshEyes({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [trial, setTrial] = useTrial(desk);
  const [comparing, setComparing] = useState(false);
  const [gone, setGone] = useState<Trial>();
  const close = () => desk.show({ sheet: undefined });
  const begin = () => { setGone(undefined); setTrial(beginTrial(desk.session.sequence)); };
  const letGo = () => { setGone(trial); setTrial(undefined); setComparing(false); desk.say("Let go. The wall is as it was."); };
  const bare = onWall(desk.session.sequence).length < 2;
  return (
    <SheetFrame name="fresh" title="Fresh eyes" wide close={close}>
      {bare && !trial && <p class="empty">There is no sequence to look at yet. Hang at least two photos first.</p>}
      {gone && <p class="line-acts">It was let go. <Word act="take-back" onClick={() => { setTrial(gone); setGone(undefined); }}>Take it back</Word></p>}
      {!bare && !trial && <Leaf desk={desk} begin={begin} />}
      {trial && !comparing && <Remake desk={desk} trial={trial} set={setTrial} compare={() => setComparing(true)} letGo={letGo} />}
      {trial && comparing && <Outcome desk={desk} trial={trial} back={() => setComparing(false)} letGo={letGo} kept={() => { setTrial(undefined); setComparing(false); close(); }} />}
    </SheetFrame>
  );
}

/** The draft of a title, kept in this browser until it is kept as a version or let go. */
function useTrial(desk: Desk): [Trial | undefined, (t: Trial | undefined) => void] {
  const key = `pairwall-from-memory-${desk.title.id}`;
  const [trial, setTrial] = useState<Trial | undefined>(() => {
    try {
      return readTrial(JSON.parse(localStorage.getItem(key) ?? "null"));
    } catch {
      return undefined; // a browser that keeps nothing, or something else under our name
    }
  });
  const set = (t: Trial | undefined) => {
    setTrial(t);
    try {
      if (t) localStorage.setItem(key, JSON.stringify(t));
      else localStorage.removeItem(key);
    } catch {
      desk.notify({ message: "This browser keeps no drafts.", hint: "Do not reload the page before you have kept what you remade as a version." });
    }
  };
  return [trial, set];
}

/** The spreads one after the other, with nothing written on them. */
function Leaf({ desk, begin }: { desk: Desk; begin(): void }) {
  const spreads = viewsOf(desk.session.sequence);
  const [at, setAt] = useState(0);
  const i = Math.min(at, spreads.length - 1);
  const s = spreads[i]!;
  const go = (by: number) => setAt((from) => Math.max(0, Math.min(spreads.length - 1, from + by)));
  const key = (e: KeyboardEvent) => {
    if (e.key === "ArrowRight") go(1);
    else if (e.key === "ArrowLeft") go(-1);
  };
  useLayoutEffect(() => { // before anybody sees the pages
    const dialog = document.querySelector<HTMLElement>('[data-panel="fresh"]')!;
    dialog.addEventListener("keydown", key);
    return () => dialog.removeEventListener("keydown", key);
  });
  return (
    <section class="leafing" aria-label="The sequence without names">
      <p class="quiet">No numbers, no names, no figures: only what faces what, and what follows. Turn the pages, then put the book away and remake it.</p>
      <div class="plain" data-alone={s.alone ? "" : undefined}><Facing desk={desk} left={s.left} right={s.right} across={s.across} size={1600} /></div>
      <p class="line-acts">
        <Word act="turn-back" disabled={i === 0} onClick={() => go(-1)}>Turn back</Word>
        <Word act="turn-on" disabled={i === spreads.length - 1} onClick={() => go(1)}>Turn the page</Word>
        <span class="quiet" aria-live="polite">{i + 1} of {spreads.length}</span>
        <Word act="remake" strong={i === spreads.length - 1} onClick={begin}>Remake it from memory</Word>
      </p>
    </section>
  );
}

function viewsOf(q: Sequence): { left: number; right: number; across: boolean; alone: boolean }[] {
  const alone = (left: number, right: number) => (left || right ? [{ left, right, across: false, alone: true }] : []);
  return [...alone(0, q.opening), ...q.spreads.filter((s) => !empty(s)).map((s) => ({ ...s, alone: false })), ...alone(q.closing, 0)];
}

interface RemakeProps {
  desk: Desk;
  trial: Trial;
  set(t: Trial): void;
  compare(): void;
  letGo(): void;
}

/** An empty wall and a heap. A photo of the heap goes to the marked page; a page pointed at is marked, and gives its photo back. */
function Remake({ desk, trial, set, compare, letGo }: RemakeProps) {
  const put = (photo: number) => {
    const page = trial.next;
    if (page >= trial.pages.length) return desk.say("Every page is full. Point at one to take its photo back.");
    set(lay(trial, photo));
    desk.say(`Photo ${photo} lies on page ${page + 1}.`);
  };
  const aim = (page: number) => {
    const photo = trial.pages[page];
    set(point(trial, page));
    desk.say(photo ? `Photo ${photo} is back in the heap; page ${page + 1} is next.` : `Page ${page + 1} is next.`);
  };
  return (
    <section class="remake" aria-label="Remake it from memory">
      <p class="quiet">The wall itself stays as it is. Point at a photo and it goes to the marked page; point at a page to mark it, or to take its photo back. What you have laid is still here after a reload.</p>
      <ol class="blank-wall" aria-label="The empty wall">
        {spreadsOf(trial.pages.length).map((pages) => (
          <li key={pages[0]} class={pages.length === 1 ? (pages[0] === 0 ? "first" : "last") : ""}>
            {pages.map((page) => <PageButton key={page} desk={desk} photo={trial.pages[page]!} page={page} next={trial.next === page} aim={() => aim(page)} />)}
          </li>
        ))}
      </ol>
      <h3>The heap</h3>
      <ul class="heap" aria-label="The heap">
        {trial.heap.map((photo) => <li key={photo}><button type="button" data-heap={photo} aria-label={`Lay photo ${photo} on page ${trial.next + 1}`} onClick={() => put(photo)}><Print desk={desk} photo={photo} /></button></li>)}
      </ul>
      {trial.heap.length === 0 && <p class="empty">Every photo lies on a page.</p>}
      <footer class="sheet-foot">
        <p>{trial.heap.length === 0 ? "All laid." : `${plural(trial.heap.length, "photo")} left in the heap.`}</p>
        <Word act="compare-memory" strong={trial.heap.length === 0} disabled={trial.pages.every((p) => p === 0)} onClick={compare}>Compare with the wall</Word>
        <Word act="let-go" onClick={letGo}>Let it go</Word>
      </footer>
    </section>
  );
}

/** Page 1 alone, then two by two, then the last alone; counted from 0. */
function spreadsOf(pages: number): number[][] {
  const list: number[][] = [[0]];
  for (let i = 1; i + 1 < pages; i += 2) list.push([i, i + 1]);
  return [...list, [pages - 1]];
}

function PageButton({ desk, photo, page, next, aim }: { desk: Desk; photo: number; page: number; next: boolean; aim(): void }) {
  const words = photo ? `Page ${page + 1}, photo ${photo}: take it back` : `Page ${page + 1}, blank${next ? ", the next one" : ""}`;
  return <button type="button" class="leaf" data-memory-page={page} data-next={next ? "" : undefined} aria-label={words} aria-pressed={next} onClick={aim}>{photo ? <Print desk={desk} photo={photo} size={400} /> : next ? <span class="next">next</span> : null}</button>;
}

function asSent(q: Sequence): api.Sequence {
  return { ...q, spreads: [...q.spreads], box: [...q.box], chapters: [...q.chapters] };
}

interface OutcomeProps {
  desk: Desk;
  trial: Trial;
  back(): void;
  letGo(): void;
  kept(): void;
}

/** What stayed in memory, held against the wall; kept as a version on a line of its own, or let go. */
function Outcome({ desk, trial, back, letGo, kept }: OutcomeProps) {
  const made = asSent(remade(trial));
  const { found, trouble } = useComparison(desk, {}, { sequence: made });
  const keep = async (name: string) => {
    const { changed, version } = await program.keepAside(desk.title.id, { revision: desk.session.sequence.revision, sequence: made, line: lineName, name });
    desk.session.replace(readWall(changed.wall));
    desk.changedVersions();
    desk.say(`Kept as ${version.name}. The wall is as it was.`);
    kept();
  };
  const today = new Date().toLocaleDateString("en-GB", { day: "numeric", month: "long" });
  return (
    <>
      <p class="quiet">Earlier is the wall as it hangs; later is what you remade. A pair that came back by itself is a pair that holds.</p>
      {trouble && <Trouble of={trouble} />}
      {found && <ComparisonView desk={desk} comparison={found} from={false} />}
      <footer class="sheet-foot">
        <NameForm label="Keep what you remade as a version" value={sentence(`from memory, ${today}`).slice(0, -1)} submit="Keep" save={keep} />
        <Word act="back-to-heap" onClick={back}>Go on remaking</Word>
        <Word act="let-go" onClick={letGo}>Let it go</Word>
      </footer>
    </>
  );
}
