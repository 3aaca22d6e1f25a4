import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Make } from "./make";
import { Trouble, Word } from "./parts";

/** What whoever designs the cover is sent. */
export function ForDesigner({ desk, cover }: { desk: Desk; cover: api.CoverShown }) {
  const id = desk.title.id;
  const [ppi, setPPI] = useState(300);
  const fine = ppi >= 72 && ppi <= 400;
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(cover.brief);
      desk.say("The brief is copied.");
    } catch {
      desk.notify({ message: "The browser does not let the brief be copied.", hint: "Download it, or mark the text and copy it by hand." });
    }
  };
  return (
    <section aria-labelledby="cover-for">
      <h3 id="cover-for">For whoever designs it</h3>
      <pre class="brief" tabIndex={0} aria-label="The brief">{cover.brief}</pre>
      <p class="line-acts">
        <Word act="copy-brief" onClick={() => void copy()}>Copy the brief</Word>
        <Make desk={desk} act="make-brief" make={(stop) => program.coverBrief(id, stop)}>Download it</Make>
      </p>
      <p class="line-acts">
        <Make desk={desk} act="make-template" make={(stop) => program.coverTemplate(id, stop)}>Template as PDF</Make>
        <Make desk={desk} act="make-template-picture" ready={fine} make={(stop) => program.coverTemplatePicture(id, ppi, stop)}>Template as PNG</Make>
        <label>at <input type="number" name="ppi" min={72} max={400} value={ppi} aria-invalid={!fine} onInput={(e) => setPPI(e.currentTarget.valueAsNumber || 0)} /> pixels to the inch</label>
      </p>
      {!fine && <p class="quiet" role="alert">72 to 400 can be made.</p>}
    </section>
  );
}

const harms = { stops: "It cannot be printed so", ask: "Look at it and ask", note: "Good to know" } as const;

/** The file that came back from the designer, and what was found in it. */
export function Designer({ desk, cover, took }: { desk: Desk; cover: api.CoverShown; took(cover: api.CoverShown): void }) {
  const id = desk.title.id;
  const [trouble, setTrouble] = useState<program.Trouble>();
  const [looking, setLooking] = useState<AbortController>();
  useEffect(() => () => looking?.abort(), [looking]);
  const act = async (does: (stop: AbortSignal) => Promise<api.CoverShown>, said: (c: api.CoverShown) => string) => {
    const stop = new AbortController();
    setLooking(stop);
    try {
      const now = await does(stop.signal);
      took(now);
      setTrouble(undefined);
      desk.say(said(now));
    } catch (err) {
      if (!stop.signal.aborted) setTrouble(program.troubleOf(err));
    }
    setLooking(undefined);
  };
  const b = cover.brought;
  return (
    <section aria-labelledby="cover-back">
      <h3 id="cover-back">The file that came back</h3>
      {trouble && <Trouble of={trouble} />}
      {looking && <p role="status">Looking into the file. <Word act="stop-looking" onClick={() => looking.abort()}>Stop</Word></p>}
      {!b && !looking && <p>Bring in the designer's PDF: size, bleed, typefaces, pictures and colours are held against the figures above. The file stays where it is.</p>}
      {b && <Found brought={b} />}
      <p class="line-acts">
        <Choose act="bring-cover" accept=".pdf,application/pdf" words={b ? "Bring in another PDF" : "Bring in the PDF"} ready={!looking}
          chosen={(file) => void act((stop) => program.bringCover(id, file, stop), (c) => `${plural(c.brought?.objections.filter((o) => o.harm !== "note").length ?? 0, "thing")} to look at.`)} />
        <Choose act="view-cover" accept=".png,.jpg,.jpeg,.tif,.tiff,image/*" words={cover.view > 0 ? "Another picture of it" : "A picture of it, to see it around the block"} ready={!looking}
          chosen={(file) => void act((stop) => program.viewCover(id, file, stop), () => "The cover is seen around the block.")} />
        {(b || cover.view > 0) && <Word act="drop-cover" disabled={!!looking} onClick={() => void act(() => program.dropCover(id), () => "The file is forgotten.")}>Forget it</Word>}
      </p>
      {b && !b.shown && <p class="quiet">{cover.view > 0 ? "What is seen around the block is the picture that came beside the PDF, not the PDF." : "The program reads the PDF and does not draw it: for seeing it around the block, ask for a picture of the page beside it, PNG or JPEG, with its bleed."}</p>}
      {b?.shown && <p class="quiet">The PDF is one picture and nothing else, so it is seen around the block as it is; its colours may differ a little.</p>}
    </section>
  );
}

function Found({ brought: b }: { brought: api.CoverBrought }) {
  const serious = b.objections.filter((o) => o.harm !== "note").length;
  return (
    <>
      <p><strong class="path">{b.name}</strong>, {(b.bytes / 1e6).toFixed(1)} MB: {plural(b.pages, "page")}, {plural(b.fonts, "typeface")}, {plural(b.pictures, "picture")}{b.standard && `, ${b.standard}`}. {serious === 0 ? "Nothing in it speaks against printing." : `${plural(serious, "thing")} to look at.`}</p>
      <ol class="objections">
        {b.objections.map((o, i) => (
          <li key={i} data-harm={o.harm}>
            <span class="quiet">{harms[o.harm]}</span>
            <p><strong>{o.words}</strong> {o.why}</p>
            <p class="quiet">{o.hint}</p>
          </li>
        ))}
      </ol>
    </>
  );
}

/** A word that lets a file be chosen. */
function Choose({ act, accept, words, ready, chosen }: { act: string; accept: string; words: string; ready: boolean; chosen(file: File): void }) {
  const input = useRef<HTMLInputElement>(null);
  return (
    <>
      <Word act={act} disabled={!ready} onClick={() => input.current!.click()}>{words}</Word>
      <input ref={input} type="file" hidden accept={accept} data-file={act} aria-label={words}
        onChange={(e) => { const file = e.currentTarget.files?.[0]; e.currentTarget.value = ""; if (file) chosen(file); }} />
    </>
  );
}
