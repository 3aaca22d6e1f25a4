import { useEffect, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { choose, chosenPhoto } from "../model/hand";
import { lossWords } from "../model/judged";
import { onWall, type PhotoID } from "../model/sequence";
import { lyingText, plural, sentence } from "../model/words";
import * as program from "../net/program";
import { Print, Trouble, useDesk, Word } from "./parts";

const mostSpared = 12; // as many as partners: a handful more than one looks at

/** What leaves the wall with a photo; with none chosen, which could best be spared. It advises and decides nothing. */
export function Loss({ desk }: { desk: Desk }) {
  useDesk(desk);
  const photo = chosenPhoto(desk.hand);
  const { answer, trouble } = useLosses(desk, photo);
  const look = (id: PhotoID) => desk.setHand(choose({ kind: "photo", photo: id }));
  return (
    <aside class="side loss-side" data-panel="loss" aria-labelledby="loss-title">
      <header class="side-head">
        <h2 id="loss-title">{photo ? `What would be lost with ${photo}` : "What could be spared"}</h2>
        <Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word>
      </header>
      {trouble && <Trouble of={trouble} />}
      {answer && answer.of === photo && (photo ? <One desk={desk} loss={answer.losses[0]!} look={look} /> : <Spared desk={desk} losses={answer.losses} look={look} />)}
    </aside>
  );
}

interface Shown {
  desk: Desk;
  look(photo: PhotoID): void;
}

function One({ desk, loss, look }: Shown & { loss: api.Loss }) {
  const hangs = onWall(desk.session.sequence).includes(loss.photo);
  return (
    <>
      {!hangs && <p class="quiet">It does not hang on the wall; this is what the wall lacks without it.</p>}
      {loss.only.length > 0
        ? <><p>On the wall it is</p><ul class="only">{loss.only.map((o) => <li key={o.words}>{o.words}</li>)}</ul></>
        : <p>Nothing is its alone: of its place, day, colours and kind there are others on the wall.</p>}
      <h3>{loss.same.length > 0 ? "These say the same" : "No other says the same"}</h3>
      <ul class="partner-list">
        {loss.same.map((s) => (
          <li class="partner" key={s.photo} data-same={s.photo}>
            <Print desk={desk} photo={s.photo} />
            <div>
              <p class="partner-name"><Word act="choose-same" onClick={() => look(s.photo)}>{s.photo}</Word> <span class="quiet">{lyingText(desk.session.sequence, s.photo)}</span></p>
              <p class="reasons">{sentence(s.words)}</p>
            </div>
          </li>
        ))}
      </ul>
      <p><Word act="all-losses" onClick={() => desk.setHand({ ...desk.hand, chosen: undefined, more: [] })}>Which could best be spared?</Word></p>
    </>
  );
}

function Spared({ desk, losses, look }: Shown & { losses: readonly api.Loss[] }) {
  if (losses.length === 0) return <p class="empty">Nothing hangs yet. Choose a photo to see what the wall lacks without it.</p>;
  return (
    <>
      <p class="quiet">Fewer can be stronger. Those come first whose saying others repeat. Choose a photo to see what would leave with it.</p>
      <ol class="partner-list">
        {losses.slice(0, mostSpared).map((l) => (
          <li class="partner" key={l.photo} data-loss={l.photo}>
            <Print desk={desk} photo={l.photo} />
            <div>
              <p class="partner-name"><Word act="choose-loss" onClick={() => look(l.photo)}>{l.photo}</Word> <span class="quiet">{lyingText(desk.session.sequence, l.photo)}</span></p>
              <p class="reasons">{lossWords(l)}</p>
            </div>
          </li>
        ))}
      </ol>
      {losses.length > mostSpared && <p class="quiet">{plural(losses.length - mostSpared, "more photo hangs", "more photos hang")} on the wall.</p>}
    </>
  );
}

function useLosses(desk: Desk, photo: PhotoID) {
  const [answer, setAnswer] = useState<{ of: PhotoID; losses: api.Loss[] }>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const revision = desk.session.waiting === 0 ? desk.session.sequence.revision : -1;
  useEffect(() => {
    if (revision < 0) return undefined;
    const stop = new AbortController();
    program.losses(desk.title.id, photo, stop.signal).then(
      (a) => { setAnswer({ of: photo, losses: a.losses }); setTrouble(undefined); },
      (err) => { if (!stop.signal.aborted) setTrouble(program.troubleOf(err)); });
    return () => stop.abort();
  }, [desk, photo, revision, desk.photos.size]);
  return { answer, trouble };
}
