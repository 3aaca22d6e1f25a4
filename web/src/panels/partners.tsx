import { useEffect, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { askedOf, blankAsked, leftAndRight, sideWords } from "../model/judged";
import { lying, type PhotoID } from "../model/sequence";
import { nameWords, type Balance } from "../model/weighing";
import { lyingText, plural, sentence } from "../model/words";
import * as program from "../net/program";
import { Reasons } from "./judged";
import { Print, Trouble, useDesk, Word } from "./parts";
import { Large, TrialLarge } from "./trial";
import { useWeights, Weights, weightsKey } from "./weights";

/** Who could face the chosen photo, and why. */
export function Partners({ desk }: { desk: Desk }) {
  useDesk(desk);
  const photo = askedOf(desk.session.sequence, desk.hand);
  const [weights, setWeights] = useWeights(desk);
  const [box, setBox] = useState(false);
  const [surprise, setSurprise] = useState(false);
  const { apart, keep } = useApart(desk);
  const blank = blankAsked(desk.session.sequence, desk.hand);
  const { answer, trouble } = useAnswer(desk, { photo, spread: blank?.spread ?? 0 }, weights, { box, surprise }, apart.length);
  const [shown, setShown] = useState<PhotoID>(0);
  useEffect(() => setShown(0), [photo]);
  useEffect(() => () => desk.trial.leave(), [photo]); // also when the panel closes
  const large = answer?.of === photo ? answer.partners.find((p) => p.photo === shown) : undefined;
  return (
    <aside class="side partners" data-panel="partners" aria-labelledby="partners-title">
      <header class="side-head">
        <h2 id="partners-title">{photo ? (blank ? `Who could fill the ${blank.side} page, beside ${photo}?` : `Who could face ${photo}?`) : "Who faces whom"}</h2>
        <Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word>
      </header>
      <Weights weights={weights} set={setWeights} surprise={{ on: surprise, set: setSurprise }} />
      <label class="check"><input type="checkbox" checked={box} onChange={(e) => setBox(e.currentTarget.checked)} /> look in the box, too</label>
      {!photo && <p class="empty">Choose a photo on the wall or the table, or a spread with a blank page; those who could face it come up here, with reasons.</p>}
      {photo !== 0 && trouble && <Trouble of={trouble} />}
      {photo !== 0 && answer && answer.of === photo && (
        <>
          {answer.partners.length === 0 && <p class="empty">Nobody can be proposed. Move a slider up, or bring more photographs in.</p>}
          <ol class="partner-list" onMouseLeave={() => setShown(0)}>
            {answer.partners.map((p) => <PartnerLine key={p.photo} desk={desk} photo={photo} partner={p} shown={shown === p.photo} show={setShown} never={() => keep([photo, p.photo], true)} />)}
          </ol>
          {answer.unjudged > 0 && <p class="quiet">{plural(answer.unjudged, "other photo shares", "other photos share")} no evidence with this one, so nothing can be said.</p>}
        </>
      )}
      {photo !== 0 && <KeptApart photo={photo} apart={apart} again={(other) => keep([photo, other], false)} />}
      {desk.trial.now ? desk.trial.now.large && <TrialLarge desk={desk} trial={desk.trial.now} /> : large && <Large desk={desk} photo={photo} partner={large} />}
    </aside>
  );
}

/** The pairs that are never proposed, and the way to say so or to take it back. */
export function useApart(desk: Desk) {
  const [apart, setApart] = useState<readonly [number, number][]>([]);
  useEffect(() => {
    const stop = new AbortController();
    program.apart(desk.title.id, stop.signal).then((a) => setApart(a.pairs), (err) => { if (!stop.signal.aborted) desk.notify(program.troubleOf(err)); });
    return () => stop.abort();
  }, [desk]);
  const keep = async (pair: [number, number], on: boolean) => {
    try {
      setApart((await program.keepApart(desk.title.id, pair, on)).pairs);
      desk.say(on ? `${pair[0]} and ${pair[1]} will not be proposed together.` : `${pair[0]} and ${pair[1]} may be proposed together again.`);
    } catch (err) {
      desk.notify(program.troubleOf(err));
    }
  };
  return { apart, keep };
}

function KeptApart({ photo, apart, again }: { photo: PhotoID; apart: readonly [number, number][]; again(other: PhotoID): void }) {
  const others = apart.filter((pair) => pair.includes(photo)).map(([one, other]) => (one === photo ? other : one));
  if (others.length === 0) return null;
  return (
    <p class="quiet kept-apart">Never with {photo}: {others.map((other) => (
      <Word key={other} act="allow" onClick={() => again(other)}>{other}, allow again</Word>
    ))}</p>
  );
}

/** Asks the program shortly after the last touch, and drops older questions. */
function useAnswer(desk: Desk, of: { photo: PhotoID; spread: number }, weights: Balance, how: { box: boolean; surprise: boolean }, apart: number) {
  const [answer, setAnswer] = useState<api.PartnerList>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const { photo, spread } = of;
  const revision = desk.session.waiting === 0 ? desk.session.sequence.revision : -1;
  useEffect(() => {
    if (photo === 0 || revision < 0) return undefined;
    const stop = new AbortController();
    const timer = setTimeout(() => {
      program.partners(desk.title.id, spread ? { spread } : { photo }, weights, how, 12, stop.signal).then(
        (a) => { setAnswer(a); setTrouble(undefined); },
        (err) => { if (!stop.signal.aborted) setTrouble(program.troubleOf(err)); });
    }, 120);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [desk, photo, spread, how.box, how.surprise, apart, revision, desk.photos.size, weightsKey(weights)]);
  return { answer, trouble };
}

interface LineProps {
  desk: Desk;
  photo: PhotoID;
  partner: api.Partner;
  shown: boolean;
  show(photo: PhotoID): void;
  never(): void;
}

function PartnerLine({ desk, photo, partner, shown, show, never }: LineProps) {
  const q = desk.session.sequence;
  const onWall = lying(q, photo).on === "page" || lying(q, partner.photo).on === "page";
  const [left, right] = leftAndRight(q, photo, partner);
  // What hangs stays where it is, so the side is the program's to propose only while both are loose.
  const want = onWall ? { want: "pairUp", photo, partner: partner.photo } as const : { want: "pairUp", photo: left, partner: right } as const;
  const { can, words } = desk.foretell(want);
  const pair = () => {
    if (desk.act(want)) show(0);
  };
  return (
    <li class="partner" data-partner={partner.photo} data-shown={shown ? "" : undefined} onMouseEnter={() => show(partner.photo)} onFocusCapture={() => show(partner.photo)}>
      <Print desk={desk} photo={partner.photo} />
      <div>
        <p class="partner-name"><strong>{partner.photo}</strong> <span class="quiet">{lyingText(q, partner.photo)}</span></p>
        {partner.surprise && <p class="quiet">A surprise by {nameWords(partner.surprise)}.</p>}
        <Reasons judged={partner} />
        <p class="quiet side-words">{sentence(sideWords(q, photo, partner))}</p>
        <p class="line-acts">
          {can && <Word act="pair" strong aria-label={`Pair ${photo} with ${partner.photo}`} onClick={pair}>Pair</Word>}
          {can && <Word act="try" aria-label={`Try it: ${partner.photo} beside ${photo}`} aria-pressed={desk.trial.now?.partner === partner.photo} onClick={() => desk.trial.hang(photo, partner.photo, want)}>Try it</Word>}
          <Word act="never" aria-label={`Never these two: ${photo} with ${partner.photo}`} onClick={never}>Never these two</Word>
          {words && <span class="quiet">{words}</span>}
        </p>
      </div>
    </li>
  );
}
