import { useEffect, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { missing } from "../model/facts";
import { plural, sentence } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Folders } from "./folders";
import { Print, SheetFrame, Trouble, useDesk, Word } from "./parts";

/** A quiet line as long as originals are missing. */
export function Missing({ desk }: { desk: Desk }) {
  useDesk(desk);
  const n = [...desk.photos.values()].filter(missing).length;
  if (n === 0 || desk.sheet === "originals") return null;
  return (
    <section class="notices" aria-label="Missing originals">
      <div class="notice" data-missing-originals={n}>
        <p><strong>{plural(n, "original is", "originals are")} no longer where {n === 1 ? "it was" : "they were"}.</strong> The cards stay, and all that is known.</p>
        <Word act="originals" onClick={() => desk.show({ sheet: "originals" })}>Find {n === 1 ? "it" : "them"} again</Word>
      </div>
    </section>
  );
}

/** Originals that were moved: found again by what is in them, below a folder the maker points at. */
export function Originals({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [lost, setLost] = useState<api.Originals>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const running = desk.search?.state === "running";
  useEffect(() => {
    program.originals(desk.title.id).then(setLost, (err) => setTrouble(program.troubleOf(err)));
  }, [desk, running]);
  const look = (folder: string) => {
    setTrouble(undefined);
    const before = desk.search;
    const begun = (search: api.Search) => desk.search === before && desk.searched(search); // a short search has ended before its beginning is answered
    program.findOriginals(desk.title.id, folder).then(begun, (err) => setTrouble(program.troubleOf(err)));
  };
  return (
    <SheetFrame name="originals" title="Find originals again" close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      {lost && lost.missing.length + lost.changed.length === 0 && <p>Every original is where it was, and as it was.</p>}
      {lost && lost.missing.length > 0 && <Lost desk={desk} title={`${plural(lost.missing.length, "original is", "originals are")} not where we read ${lost.missing.length === 1 ? "it" : "them"}`} lost={lost.missing} />}
      {lost && lost.changed.length > 0 && <Lost desk={desk} title={`${plural(lost.changed.length, "original has", "originals have")} changed since`} lost={lost.changed} />}
      {desk.search && <p role="status" data-search={desk.search.state}>{sentence(desk.search.words)}</p>}
      {running && desk.search && (
        <div class="under">
          <p>{desk.search.files > 0 ? `${desk.search.looked} of ${plural(desk.search.files, "file")} looked at` : "Listing the files"}</p>
          <progress {...(desk.search.files > 0 ? { max: desk.search.files, value: desk.search.looked } : {})} aria-label="Files looked at" />
          <Word act="cancel-search" onClick={() => void program.stopSearch(desk.title.id).catch((err) => setTrouble(program.troubleOf(err)))}>Stop</Word>
        </div>
      )}
      {lost && lost.missing.length + lost.changed.length > 0 && (
        <section aria-labelledby="look-below">
          <h3 id="look-below">Where do they lie now?</h3>
          <p class="quiet">We look through all files below the folder and know each original by what is in it, whatever it is called now. Nothing is written there.</p>
          <Folders choose={look} act="look-in-folder" words="Look below this folder" disabled={running} />
        </section>
      )}
    </SheetFrame>
  );
}

const mostShown = 60;

function Lost({ desk, title, lost }: { desk: Desk; title: string; lost: readonly api.Lost[] }) {
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      <ul class="lost-list">
        {lost.slice(0, mostShown).map((l) => (
          <li key={l.photo} data-lost={l.photo}><Print desk={desk} photo={l.photo} /><p><strong>{l.photo}</strong> <span class="quiet path">{l.path}</span></p></li>
        ))}
      </ul>
      {lost.length > mostShown && <p class="quiet">and {plural(lost.length - mostShown, "other")}</p>}
    </section>
  );
}
