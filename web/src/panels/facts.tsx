import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { chosenSpread } from "../model/commands";
import type { Desk } from "../model/desk";
import { held, takenNote, whereNote, whereWords, type Fact, type Held, type Photo } from "../model/facts";
import { whenWords } from "../model/when";
import { plural } from "../model/words";
import { NamesFrom } from "./credits";
import { useDesk, Word } from "./parts";
import { SayCaption, SayFeelings, SayFrame, SayNote, SayRoll, SayWhen, SayWhere, SayWhy } from "./say";

/** What is known of the chosen photos, who says so, and the place to say it better. */
export function Facts({ desk }: { desk: Desk }) {
  useDesk(desk);
  const photos = desk.chosenPhotos;
  const spread = chosenSpread(desk);
  const ref = useAsked(desk);
  const key = photos.map((p) => p.number).join();
  const which = photos.length === 0 ? "" : photos.length === 1 ? ` of ${photos[0]!.number}` : ` of ${photos.length} photos`;
  return (
    <aside class="side facts-side" data-panel="facts" aria-labelledby="facts-title" ref={ref}>
      <header class="side-head">
        <h2 id="facts-title">What is known{which}</h2>
        <Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word>
      </header>
      {spread && <Section fact="why" title={spread.left && spread.right ? "Why these two" : "Why this spread"}><SayWhy key={`${spread.id} ${spread.note}`} desk={desk} spread={spread} /></Section>}
      {photos.length === 0 ? !spread && <Nobody desk={desk} /> : (
        <>
          {photos.length === 1 && <File photo={photos[0]!} />}
          <Section fact="taken" title="When"><Values photos={photos} fact="taken" show={when} /><SayWhen key={key} desk={desk} photos={photos} /></Section>
          <Section fact="where" title="Where"><Values photos={photos} fact="where" show={where} /><SayWhere key={key} desk={desk} photos={photos} /></Section>
          <Section fact="roll" title="Roll and frame">
            <Values photos={photos} fact="roll" show={(h) => ({ words: h.value.text ? `roll ${h.value.text}` : "no roll known", note: "" })} />
            <SayRoll key={key} desk={desk} photos={photos} />
            {photos.length === 1 && <Values photos={photos} fact="frame" show={(h) => ({ words: h.value.text ? `frame ${h.value.text}` : "no frame known", note: "" })} />}
            <SayFrame key={`frame ${key}`} desk={desk} photos={photos} />
          </Section>
          <Section fact="feeling" title="Feelings"><SayFeelings key={key} desk={desk} photos={photos} /></Section>
          {photos.length === 1 && <Section fact="caption" title="Caption"><SayCaption key={key} desk={desk} photo={photos[0]!} /></Section>}
          {photos.length === 1 && <Section fact="note" title="Note on this photo"><SayNote key={`${key} ${photos[0]!.note ?? ""}`} desk={desk} photo={photos[0]!} /></Section>}
          <NamesFrom />
        </>
      )}
    </aside>
  );
}

function Nobody({ desk }: { desk: Desk }) {
  return (
    <p class="empty">
      Choose one photo or several; what is known of them comes up here, and you can say what you know better. <Word act="choose-by" onClick={() => desk.show({ side: "choose" })}>Choose by day, roll, place…</Word>
    </p>
  );
}

function File({ photo }: { photo: Photo }) {
  const by = photo.scan ? "scanned with" : "taken with";
  return <p class="quiet">{photo.name}{photo.camera && `, ${by} ${photo.camera}`}</p>;
}

function Section({ fact, title, children }: { fact: Fact | "why"; title: string; children: ComponentChildren }) {
  return (
    <section class="fact" data-fact={fact} aria-labelledby={`fact-${fact}`}>
      <h3 id={`fact-${fact}`}>{title}</h3>
      {children}
    </section>
  );
}

interface Shown { words: string; note: string }

function when({ value }: Held): Shown {
  return value.taken ? { words: whenWords(value.taken), note: takenNote(value.taken) } : { words: "date unknown", note: "" };
}

function where({ value, photos }: Held, by: ReadonlyMap<number, Photo>): Shown {
  const photo = by.get(photos[0]!);
  return value.where && photo ? { words: whereWords(photo), note: whereNote(value.where) } : { words: "place unknown", note: "" };
}

const mostShown = 5;

/** The value all share with its source; or that they are mixed, and what there is. */
function Values({ photos, fact, show }: { photos: readonly Photo[]; fact: Fact; show(h: Held, by: ReadonlyMap<number, Photo>): Shown }) {
  const by = new Map(photos.map((p) => [p.number, p]));
  const lines = merged(held(photos, fact).map((h) => ({ ...show(h, by), photos: h.photos.length })));
  if (lines.length === 1) return <p class="value">{lines[0]!.words} <span class="quiet">{lines[0]!.note}</span></p>;
  return (
    <div class="value mixed">
      <p>Mixed:</p>
      <ul>
        {lines.slice(0, mostShown).map((l) => <li key={l.words}>{l.words} <span class="quiet">{plural(l.photos, "photo")}{l.note && `; ${l.note}`}</span></li>)}
        {lines.length > mostShown && <li class="quiet">and {plural(lines.length - mostShown, "other value")}</li>}
      </ul>
    </div>
  );
}

/** Positions a few metres apart have the same words: told once. */
function merged(lines: readonly (Shown & { photos: number })[]): (Shown & { photos: number })[] {
  const by = new Map<string, Shown & { photos: number }>();
  for (const line of lines) {
    const same = by.get(line.words);
    by.set(line.words, same ? { words: line.words, note: same.note === line.note ? line.note : "", photos: same.photos + line.photos } : line);
  }
  return [...by.values()].sort((a, b) => b.photos - a.photos);
}

/** Brings the fact that was asked for into sight and gives it the focus. */
function useAsked(desk: Desk) {
  const ref = useRef<HTMLElement>(null);
  useEffect(() => {
    if (!desk.asking) return;
    const section = ref.current?.querySelector(`[data-fact="${desk.asking}"]`);
    section?.scrollIntoView({ block: "nearest" });
    section?.querySelector<HTMLElement>("input, textarea")?.focus({ preventScroll: true });
    desk.asking = undefined;
  });
  return ref;
}

