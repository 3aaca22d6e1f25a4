import { useState } from "preact/hooks";
import type * as api from "../net/api";
import { comparing, tauWords, type CompareRow, type Comparing, type SideOf } from "../model/comparing";
import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { chapterOf } from "../model/chapter";
import { hangSo, rehungChapter, rehungOf } from "../model/rehang";
import { readSequence, type Sequence, type Spread } from "../model/sequence";
import { versionName } from "../model/weeks";
import { sentence } from "../model/words";
import * as program from "../net/program";
import { Facing, settledRevision, SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";
import { useVersions } from "./versions";

/** Two versions, or a version and the present wall, held against each other. */
export function Compare({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { list } = useVersions(desk);
  const { later } = desk.compared;
  const same = desk.compared.earlier === later; // as one opens it: the last wall that was another
  const earlier = same ? (list?.versions.find((v) => v.id !== later && v.revision !== desk.session.sequence.revision)?.id ?? later) : desk.compared.earlier;
  const { found, trouble } = useComparison(desk, sideOf(earlier), sideOf(later));
  const set = (part: Partial<Desk["compared"]>) => desk.show({ compared: { ...desk.compared, ...part } });
  return (
    <SheetFrame name="compare" title="Compare two walls" wide close={() => desk.show({ sheet: undefined })}>
      {list && (
        <div class="ask">
          <Choice words="The earlier" of={earlier} list={list} set={(to) => set({ earlier: to })} />
          <Choice words="The later" of={later} list={list} set={(to) => set({ later: to })} />
        </div>
      )}
      {list?.versions.length === 0 && <p class="empty">There is no version yet to compare the wall with. Keep one under a name, or come back after this sitting.</p>}
      {earlier === later && list && list.versions.length > 0 && <p class="empty">Choose two different walls.</p>}
      {trouble && <Trouble of={trouble} />}
      {found && earlier !== later && <ComparisonView desk={desk} comparison={found} from={earlier !== "present"} />}
    </SheetFrame>
  );
}

function sideOf(of: SideOf): api.Side {
  return of === "present" ? {} : { version: of };
}

function Choice({ words, of, list, set }: { words: string; of: SideOf; list: api.VersionList; set(to: SideOf): void }) {
  return (
    <label class="which"><span>{words}</span>
      <select data-side-of={words} value={String(of)} onChange={(e) => set(e.currentTarget.value === "present" ? "present" : Number(e.currentTarget.value))}>
        <option value="present">the present wall</option>
        {list.versions.map((v) => <option key={v.id} value={String(v.id)}>{versionName(v)}, {momentWords(v.at, new Date())}</option>)}
      </select>
    </label>
  );
}

/** What the program says of two walls; asked anew when the present one has changed. */
export function useComparison(desk: Desk, earlier: api.Side, later: api.Side) {
  const revision = settledRevision(desk);
  return useAsked(revision === undefined ? undefined : () => program.compare(desk.title.id, earlier, later), [desk, revision, JSON.stringify([earlier, later])]);
}

type How = "beside" | "over";

/** Two walls side by side or laid over each other; from the earlier one, single spreads can be hung again. */
export function ComparisonView({ desk, comparison, from }: { desk: Desk; comparison: api.Comparison; from: boolean }) {
  const [how, setHow] = useState<How>("beside");
  const [earlier, later] = [readSequence(comparison.earlier), readSequence(comparison.later)];
  const held = comparing(earlier, later, comparison.diff);
  return (
    <section class="comparison">
      <p class="rule" data-words="">{sentence(comparison.words)}</p>
      <Figures diff={comparison.diff} />
      <fieldset class="how">
        <legend class="unseen">How to see them</legend>
        <label><input type="radio" name="how" value="beside" checked={how === "beside"} onChange={() => setHow("beside")} /> Side by side</label>
        <label><input type="radio" name="how" value="over" checked={how === "over"} onChange={() => setHow("over")} /> Laid over each other</label>
      </fieldset>
      {how === "beside" ? <Beside desk={desk} held={held} earlier={earlier} from={from} /> : <LaidOver desk={desk} held={held} />}
    </section>
  );
}

function Figures({ diff }: { diff: api.Diff }) {
  const tau = diff.tau;
  return (
    <dl class="figures">
      <div><dt>Pairs kept</dt><dd data-figure="kept">{diff.kept.length}</dd></div>
      <div><dt>broken</dt><dd data-figure="broken">{diff.broken.length}</dd></div>
      <div><dt>new</dt><dd data-figure="new">{diff.new.length}</dd></div>
      <div><dt>Photos come</dt><dd data-figure="come">{diff.come.length}</dd></div>
      <div><dt>gone</dt><dd data-figure="gone">{diff.gone.length}</dd></div>
      <div><dt>Fewest moves that explain the order</dt><dd data-figure="moved">{diff.moved}</dd></div>
      <div><dt>Order, Kendall’s tau from −1 to 1</dt><dd data-figure="tau">{tau === undefined ? "none" : tau.toFixed(2).replace("-", "−")}<span class="quiet"> {tauWords(tau)}</span></dd></div>
    </dl>
  );
}

function Beside({ desk, held, earlier, from }: { desk: Desk; held: Comparing; earlier: Sequence; from: boolean }) {
  const rows = Math.max(held.earlier.length, held.later.length, 1);
  return (
    <div class="beside" style={{ "--rows": rows }}>
      <Column desk={desk} name="The earlier wall" rows={held.earlier} old={from ? earlier : undefined} />
      <svg class="joins" viewBox={`0 0 10 ${rows}`} preserveAspectRatio="none" aria-hidden="true">
        {held.links.map(({ from: a, to: b, moved }) => <path key={`${a} ${b}`} data-moved={moved ? "" : undefined} d={`M0 ${a + 0.4} C5 ${a + 0.4} 5 ${b + 0.4} 10 ${b + 0.4}`} />)}
      </svg>
      <Column desk={desk} name="The later wall" rows={held.later} old={undefined} />
    </div>
  );
}

function Column({ desk, name, rows, old }: { desk: Desk; name: string; rows: readonly CompareRow[]; old: Sequence | undefined }) {
  return (
    <ol class="column" aria-label={name}>
      {rows.map((row) => (
        <li key={row.key} data-row={row.key} data-only={row.only ? "" : undefined} data-alone={row.spread.id < 0 ? "" : undefined}>
          <Facing desk={desk} left={row.spread.left} right={row.spread.right} across={row.spread.across} />
          <p><span class="quiet">{photosOf(row.spread)}</span> {row.words && <span class="became">{row.words}</span>}{" "}
            {old && row.spread.id > 0 && <Take desk={desk} old={old} spread={row.spread} />}
          </p>
        </li>
      ))}
    </ol>
  );
}

/** Takes a spread of an earlier wall into the present, or the chapter that begins with it. */
function Take({ desk, old, spread }: { desk: Desk; old: Sequence; spread: Spread }) {
  const now = desk.session.sequence;
  const whole = spread.chapter ? rehungChapter(old, spread.chapter) : undefined;
  const begins = whole?.spreads[0]?.id === spread.id ? chapterOf(old, spread.chapter) : undefined;
  const bare = spread.left === 0 && spread.right === 0;
  return (
    <>
      {!bare && !hangSo(now, [spread]) && (
        <Word act="hang-again" aria-label={`Hang it again: ${photosOf(spread)}`} onClick={() => desk.act({ want: "rehang", of: rehungOf(old, [spread.id]) })}>Hang it again</Word>
      )}
      {begins && !(hangSo(now, whole!.spreads) && chapterOf(now, begins.id)?.name === begins.name) && (
        <Word act="hang-chapter" aria-label={`Hang the chapter again: ${begins.name}`} onClick={() => desk.act({ want: "rehang", of: whole! })}>Hang the chapter again: {begins.name}</Word>
      )}
    </>
  );
}

function photosOf(s: Spread): string {
  return [s.left, s.right].filter(Boolean).join(" and ");
}

function LaidOver({ desk, held }: { desk: Desk; held: Comparing }) {
  const [over, setOver] = useState(50);
  const rows = Math.max(held.earlier.length, held.later.length);
  const words = over === 0 ? "the earlier wall" : over === 100 ? "the later wall" : `${over} of 100 parts the later wall`;
  return (
    <>
      <label class="over"><span>Earlier</span>
        <input type="range" min="0" max="100" step="5" value={over} data-over="" aria-label="From the earlier to the later wall" aria-valuetext={words} onInput={(e) => setOver(Number(e.currentTarget.value))} />
        <span>Later</span></label>
      <ol class="laid-over" style={{ "--over": over / 100 }}>
        {Array.from({ length: rows }, (_, i) => (
          <li key={i}>
            <div class="stack">
              {[held.earlier[i], held.later[i]].map((row, side) => (
                <div key={side} class={side === 0 ? "below" : "above"}>
                  <Facing desk={desk} left={row?.spread.left ?? 0} right={row?.spread.right ?? 0} across={row?.spread.across ?? false} size={400} />
                </div>
              ))}
            </div>
            <p class="quiet">{[held.earlier[i]?.words, held.later[i]?.words].filter(Boolean).join("; ")}</p>
          </li>
        ))}
      </ol>
    </>
  );
}
