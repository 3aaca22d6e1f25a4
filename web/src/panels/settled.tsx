import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { readSpread } from "../model/sequence";
import { lyingText, plural, sentence } from "../model/words";
import { agoWords, daysBetween, heldWords } from "../model/weeks";
import * as program from "../net/program";
import { Facing, Print, settledRevision, SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";

const most = 12; // shown of each; the rest is counted

/** What the weeks tell of the wall: what holds, what never rests, what was broken after it had held long. */
export function Settled({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { found, trouble } = useSettled(desk);
  const r = found?.report;
  return (
    <SheetFrame name="settled" title="Settled and restless" wide close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      {r && !r.since && <p class="empty">Nothing has hung yet. After a few sittings this tells which pairs hold and which pages never rest.</p>}
      {r?.since && (
        <>
          <p class="quiet">Read off {plural(r.sittings, "sitting")} since {momentWords(r.since, new Date())}. Only how the wall was left at the end of a sitting counts.</p>
          <Holding desk={desk} hold={r.hold} />
          <Broken desk={desk} broken={r.broken} />
          <RestlessPages desk={desk} pages={r.restless} />
          <Sociable desk={desk} company={r.company} />
        </>
      )}
    </SheetFrame>
  );
}

function useSettled(desk: Desk) {
  const revision = settledRevision(desk);
  return useAsked(revision === undefined ? undefined : () => program.settled(desk.title.id), [desk, revision]);
}

/** Left and right photo of a pair as it hung last. */
function leftRight(h: api.Held): [number, number] {
  return [h.left, h.pair[0] === h.left ? h.pair[1] : h.pair[0]];
}

function Holding({ desk, hold }: { desk: Desk; hold: readonly api.Held[] }) {
  return (
    <section aria-labelledby="holding">
      <h3 id="holding">What holds</h3>
      {hold.length === 0 ? <p class="empty">No pair hangs now.</p> : (
        <ol class="proposed">
          {hold.slice(0, most).map((h) => {
            const [left, right] = leftRight(h);
            return (
              <li key={h.pair.join(" ")} data-held-pair={h.pair.join(" ")}>
                <Facing desk={desk} left={left} right={right} size={400} />
                <p>{left} and {right} {heldWords(h)}.</p>
              </li>
            );
          })}
        </ol>
      )}
      {hold.length > most && <p class="quiet">{plural(hold.length - most, "more pair hangs", "more pairs hang")}.</p>}
    </section>
  );
}

function Broken({ desk, broken }: { desk: Desk; broken: readonly api.Held[] }) {
  return (
    <section aria-labelledby="broken-long">
      <h3 id="broken-long">Broken after they had held</h3>
      {broken.length === 0 ? <p class="empty">No pair that held for two sittings has been broken.</p> : <p class="quiet">Worth another look: each of these faced each other at the end of two sittings or more.</p>}
      <ol class="proposed">{broken.slice(0, most).map((h) => <BrokenPair key={h.pair.join(" ")} desk={desk} held={h} />)}</ol>
      {broken.length > most && <p class="quiet">{plural(broken.length - most, "more pair was broken", "more pairs were broken")}.</p>}
    </section>
  );
}

function BrokenPair({ desk, held }: { desk: Desk; held: api.Held }) {
  const [left, right] = leftRight(held);
  const ago = held.until && agoWords(daysBetween(new Date(held.until), new Date()));
  const lie = [left, right].map((photo) => `${photo} is ${lyingText(desk.session.sequence, photo)}`).join(", ");
  const again = () => desk.act({ want: "rehang", of: { spreads: [readSpread({ id: 0, left, right })], behind: held.behind } });
  return (
    <li data-broken-pair={held.pair.join(" ")}>
      <Facing desk={desk} left={left} right={right} size={400} />
      <p>{left} and {right} {heldWords(held)}; broken {ago}.</p>
      <p class="quiet">Now {lie}.</p>
      <p class="line-acts"><Word act="hang-again" aria-label={`Hang it again: ${left} and ${right}`} onClick={again}>Hang it again</Word></p>
    </li>
  );
}

function RestlessPages({ desk, pages }: { desk: Desk; pages: readonly api.Restless[] }) {
  return (
    <section aria-labelledby="restless">
      <h3 id="restless">Pages that never rest</h3>
      {pages.length === 0 && <p class="empty">Every page rests: none got another photo between most of its sittings.</p>}
      <ol class="restless">
        {pages.slice(0, most).map((p) => (
          <li key={p.number} data-restless={p.number}>
            <p><strong>Page {p.number}</strong> changed between {p.changes} of {plural(p.of, "sitting")}.</p>
            <Row desk={desk} photos={p.photos} words={`lay on page ${p.number}, the latest last`} />
          </li>
        ))}
      </ol>
    </section>
  );
}

function Sociable({ desk, company }: { desk: Desk; company: readonly api.Company[] }) {
  if (company.length === 0) return null;
  return (
    <section aria-labelledby="company">
      <h3 id="company">Photos that have had most partners</h3>
      <ol class="restless">
        {company.slice(0, most).map((c) => (
          <li key={c.photo} data-company={c.photo}>
            <p><strong>{c.photo}</strong> {sentence(`has faced ${c.partners.join(", ")}`).replace(/^./, (l) => l.toLowerCase())}</p>
            <div class="with"><Row desk={desk} photos={[c.photo]} words="" /><Row desk={desk} photos={c.partners} words={`have faced ${c.photo}`} /></div>
          </li>
        ))}
      </ol>
    </section>
  );
}

function Row({ desk, photos, words }: { desk: Desk; photos: readonly number[]; words: string }) {
  return <ul class="print-strip" aria-label={words || undefined}>{photos.map((photo) => <li key={photo}><Print desk={desk} photo={photo} /></li>)}</ul>;
}
