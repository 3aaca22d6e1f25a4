import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { chosenPhoto } from "../model/hand";
import { at, lying, type PhotoID } from "../model/sequence";
import { facing, lyingText, plural, sentence } from "../model/words";
import * as program from "../net/program";
import { Facing, Print, Trouble, useDesk, useQuietly, Word } from "./parts";

export const kinds = ["colour", "place", "time"] as const;

/** How the title weighs the kinds of evidence; a kind it never weighed counts fully. */
export function weightsOf(title: api.Title): Record<string, number> {
  return Object.fromEntries(kinds.map((kind) => [kind, title.weights[kind] ?? 1]));
}

/** Who could face the chosen photo, and why. */
export function Partners({ desk }: { desk: Desk }) {
  useDesk(desk);
  const photo = chosenPhoto(desk.hand);
  const [weights, setWeights] = useWeights(desk);
  const [box, setBox] = useState(false);
  const { answer, trouble } = useAnswer(desk, photo, weights, box);
  const [shown, setShown] = useState<PhotoID>(0);
  useEffect(() => setShown(0), [photo]);
  return (
    <aside class="side partners" data-panel="partners" aria-labelledby="partners-title">
      <header class="side-head">
        <h2 id="partners-title">{photo ? `Who could face ${photo}?` : "Who faces whom"}</h2>
        <Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word>
      </header>
      <Weights weights={weights} set={setWeights} />
      <label class="check"><input type="checkbox" checked={box} onChange={(e) => setBox(e.currentTarget.checked)} /> look in the box, too</label>
      {!photo && <p class="empty">Choose a photo on the wall or the table; those who could face it come up here, with reasons.</p>}
      {photo !== 0 && trouble && <Trouble of={trouble} />}
      {photo !== 0 && answer && answer.of === photo && (
        <>
          {answer.partners.length === 0 && <p class="empty">Nobody can be proposed. Move a slider up, or bring more photographs in.</p>}
          <ol class="partner-list" onMouseLeave={() => setShown(0)}>
            {answer.partners.map((p) => <PartnerLine key={p.photo} desk={desk} photo={photo} partner={p} shown={shown === p.photo} show={setShown} />)}
          </ol>
          {answer.unjudged > 0 && <p class="quiet">{plural(answer.unjudged, "other photo shares", "other photos share")} no evidence with this one, so nothing can be said.</p>}
        </>
      )}
      {shown !== 0 && photo !== 0 && <Large desk={desk} photo={photo} partner={shown} />}
    </aside>
  );
}

/** The sliders' weights: at once here, and a little later with the title. */
export function useWeights(desk: Desk): [Record<string, number>, (w: Record<string, number>) => void] {
  const [weights, set] = useState(weightsOf(desk.title));
  const touched = useRef(false);
  useEffect(() => {
    if (!touched.current) set(weightsOf(desk.title)); // another window moved them
  }, [desk.title]);
  useQuietly(() => {
    if (!touched.current) return;
    program.amendTitle(desk.title.id, { weights }).then((title) => {
      touched.current = false;
      desk.title = title;
    }, (err) => desk.notify(program.troubleOf(err)));
  }, 600, [weights]);
  return [weights, (w) => { touched.current = true; set(w); }];
}

/** Asks the program shortly after the last touch, and drops older questions. */
function useAnswer(desk: Desk, photo: PhotoID, weights: Record<string, number>, box: boolean) {
  const [answer, setAnswer] = useState<api.PartnerList>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const revision = desk.session.waiting === 0 ? desk.session.sequence.revision : -1;
  useEffect(() => {
    if (photo === 0 || revision < 0) return undefined;
    const stop = new AbortController();
    const timer = setTimeout(() => {
      program.partners(desk.title.id, photo, weights, box, 12, stop.signal).then(
        (a) => { setAnswer(a); setTrouble(undefined); },
        (err) => { if (!stop.signal.aborted) setTrouble(program.troubleOf(err)); });
    }, 120);
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [desk, photo, box, revision, desk.photos.size, ...kinds.map((k) => weights[k])]);
  return { answer, trouble };
}

/** How much each kind of evidence counts. */
export function Weights({ weights, set }: { weights: Record<string, number>; set(w: Record<string, number>): void }) {
  const only = (one: string) => set(Object.fromEntries(kinds.map((kind) => [kind, kind === one ? 1 : 0])));
  return (
    <div class="weights">
      {kinds.map((kind) => (
        <div class="weight" key={kind}>
          <label>
            <span>{sentence(kind).slice(0, -1)}</span>
            <input type="range" min="0" max="1" step="0.05" value={weights[kind]} data-weight={kind} aria-label={`How much ${kind} counts`}
              onInput={(e) => set({ ...weights, [kind]: Number(e.currentTarget.value) })} />
            <output>{Math.round((weights[kind] ?? 0) * 100)}</output>
          </label>
          <Word act={`only-${kind}`} onClick={() => only(kind)}>only</Word>
        </div>
      ))}
      <Word act="all-alike" onClick={() => set(Object.fromEntries(kinds.map((kind) => [kind, 1])))}>all alike</Word>
    </div>
  );
}

interface LineProps {
  desk: Desk;
  photo: PhotoID;
  partner: api.Partner;
  shown: boolean;
  show(photo: PhotoID): void;
}

function PartnerLine({ desk, photo, partner, shown, show }: LineProps) {
  const want = { want: "pairUp", photo, partner: partner.photo } as const;
  const { can, words } = desk.foretell(want);
  const pair = () => {
    if (desk.act(want)) show(0);
  };
  return (
    <li class="partner" data-partner={partner.photo} data-shown={shown ? "" : undefined} onMouseEnter={() => show(partner.photo)} onFocusCapture={() => show(partner.photo)}>
      <Print desk={desk} photo={partner.photo} />
      <div>
        <p class="partner-name"><strong>{partner.photo}</strong> <span class="quiet">{lyingText(desk.session.sequence, partner.photo)}</span></p>
        <Reasons judged={partner} />
        <p class="line-acts">
          {can && <Word act="pair" strong aria-label={`Pair ${photo} with ${partner.photo}`} onClick={pair}>Pair</Word>}
          {words && <span class="quiet">{words}</span>}
        </p>
      </div>
    </li>
  );
}

/** Why two photos could face each other: what speaks for it in words, and how strongly each kind of evidence does, 0..1. */
export function Reasons({ judged }: { judged: Pick<api.Partner, "evidence" | "reasons" | "alike"> }) {
  const known = judged.evidence.filter((e) => e.known).map((e) => e.words);
  return (
    <>
      <p class="reasons">{sentence(known.length > 0 ? known.join("; ") : judged.reasons)}{judged.alike && " Nearly the same picture, so marked down."}</p>
      <p class="numbers">{judged.evidence.map((e) => <span key={e.kind}>{e.known ? <>{e.kind} <b>{e.score.toFixed(2)}</b></> : `no ${e.kind} known`}</span>)}</p>
    </>
  );
}

/** The two side by side, large, as they would face each other. */
function Large({ desk, photo, partner }: { desk: Desk; photo: PhotoID; partner: PhotoID }) {
  const q = desk.session.sequence;
  const stays = lying(q, photo).on === "page" || lying(q, partner).on !== "page" ? photo : partner;
  const lies = lying(q, stays);
  const other = stays === photo ? partner : photo;
  const onRight = lies.on === "page" && lies.page.side === "right";
  const face = lies.on === "page" ? facing(lies.page) : undefined;
  const displaced = face ? at(q, face) : 0;
  const [left, right] = onRight ? [other, stays] : [stays, other];
  const ref = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const bar = document.querySelector(".head-bar");
    if (bar) ref.current!.style.setProperty("--from", `${bar.getBoundingClientRect().bottom}px`);
  });
  return (
    <div class="large" aria-hidden="true" ref={ref}>
      <Facing desk={desk} left={left} right={right} size={1600} />
      <p>{left} and {right}{displaced && displaced !== other ? `, in place of ${displaced}` : ""}</p>
    </div>
  );
}
