import { useState } from "preact/hooks";
import { cardWords, figure, mapFields, outline, rowsOf } from "../model/proofs";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Word } from "./parts";
import type { Bench } from "./proofs";

/** What one photograph of a page told. */
export function Photograph({ bench, of }: { bench: Bench; of: api.FindingShown }) {
  const { desk, run } = bench;
  const id = desk.title.id;
  const { number, page, name, finding, words } = of;
  const [card, setCard] = useState<api.Point>();
  const proposed = finding.card;
  const again = (told: api.MeasuredWith, said: string) => run(() => program.measureAgain(id, number, told), said);
  return (
    <article class="measured" data-photograph={number} data-base={finding.base} aria-labelledby={`measured-${number}`}>
      <h4 id={`measured-${number}`}>{page ? `Page ${page}` : "Test strip"}, from {name}</h4>
      <div class="columns">
        <div>
          <Picture id={id} of={of} card={card} pick={card && setCard} />
          <p class="line-acts">
            <Word act="grey-card" aria-expanded={card !== undefined} onClick={() => setCard(card ? undefined : proposed ?? { x: 0.5, y: 0.5 })}>{card ? "There is no grey card" : cardWords(finding)}</Word>
          </p>
          {card && (
            <p class="line-acts">
              <span>{proposed ? "The ring lies on what may be a grey card. If it is none, press the middle of the card in the photograph, or say where it is:" : "Press the middle of the card in the photograph, or say where it is:"}</span>
              <label>from the left <input type="number" name="card-x" min={0} max={100} value={Math.round(card.x * 100)} onInput={(e) => setCard({ ...card, x: Number(e.currentTarget.value) / 100 })} /> %</label>
              <label>from the top <input type="number" name="card-y" min={0} max={100} value={Math.round(card.y * 100)} onInput={(e) => setCard({ ...card, y: Number(e.currentTarget.value) / 100 })} /> %</label>
              <Word act="by-card" strong onClick={async () => { if (await again({ target: "", card }, "It is measured by the grey card.")) setCard(undefined); }}>Measure by this card</Word>
            </p>
          )}
        </div>
        <div>
          <ul class="told">{words.says.map((w) => <li key={w}>{w}</li>)}</ul>
          <p class="quiet">{words.trust}</p>
          {of.since && <div class="since"><h5>Against round {of.since.round}</h5><ul>{of.since.words.map((w) => <li key={w}>{w}</li>)}</ul></div>}
          {of.beside && <div class="beside"><h5>Beside page {of.beside.page}, if it was photographed in the same light</h5><ul>{of.beside.words.map((w) => <li key={w}>{w}</li>)}</ul></div>}
          {words.printer.length > 0 && <div><h5>To say to the printer</h5><ul class="printer">{words.printer.map((w) => <li key={w}>{w}</li>)}</ul>
            <p><Word act="copy-words" onClick={() => void navigator.clipboard.writeText(`Page ${page}\n${words.printer.join("\n")}`).then(() => desk.say("The words are copied."), () => desk.say("The browser does not let words be copied; choose them with the mouse."))}>Copy these words</Word></p></div>}
          {words.instead.length > 0 && <div><h5>What it may be instead</h5><ul>{words.instead.map((w) => <li key={w}>{w}</li>)}</ul></div>}
        </div>
      </div>
      <Figures finding={finding} />
      <Shifts map={finding.map} page={page} />
      <p class="line-acts">
        {finding.base === "target" && <Word act="older-target" onClick={() => again({ target: "before2014" }, "Measured by the target as it was made before November 2014.")}>The target was made before November 2014</Word>}
        <Word act="again" onClick={() => again({ target: "" }, "It is measured again, against the page as it is now.")}>Measure it again</Word>
        <Word act="take-out-photograph" onClick={() => run(() => program.takeOutPhotograph(id, number), "The photograph is taken out; it can be put back.")}>Take it out</Word>
      </p>
    </article>
  );
}

/** The photograph with the page as it was found, and the grey card while it is sought. */
function Picture({ id, of, card, pick }: { id: number; of: api.FindingShown; card: api.Point | undefined; pick: ((at: api.Point) => void) | undefined }) {
  const press = (e: MouseEvent) => {
    const box = (e.currentTarget as HTMLElement).getBoundingClientRect();
    pick?.({ x: (e.clientX - box.left) / box.width, y: (e.clientY - box.top) / box.height });
  };
  return (
    <div class="of-page" data-picking={pick ? "" : undefined} onClick={press}>
      <img src={program.proofAddress(id, of.number)} alt={`The photograph of ${of.page ? `page ${of.page}` : "the test strip"}; a line shows where the page was found.`} draggable={false} />
      <svg viewBox="0 0 100 100" preserveAspectRatio="none" aria-hidden="true">
        <polygon points={outline(of.finding.corners)} class="under" /><polygon points={outline(of.finding.corners)} />
        {card && <><circle cx={card.x * 100} cy={card.y * 100} r="1.6" class="under" /><circle cx={card.x * 100} cy={card.y * 100} r="1.6" /></>}
      </svg>
    </div>
  );
}

function Figures({ finding }: { finding: api.Measurement }) {
  return (
    <table class="shift-figures">
      <caption>More than in the file, in Lab for D50 beside the bare paper</caption>
      <thead><tr><th scope="col">Where</th><th scope="col">L*</th><th scope="col">a*</th><th scope="col">b*</th><th scope="col">ΔE00</th><th scope="col">Unsure by</th><th scope="col">Of the picture</th></tr></thead>
      <tbody>{rowsOf(finding).map((r) => <tr key={r.name}><th scope="row">{r.name}</th>{r.figures.map((f, i) => <td key={i}>{f}</td>)}</tr>)}</tbody>
    </table>
  );
}

/** Where on the page it is shifted by how much. */
function Shifts({ map, page }: { map: api.Map; page: number }) {
  return (
    <details class="shift-map">
      <summary data-act="shift-map">Where on the page: ΔE00 from the file</summary>
      <svg viewBox={`0 0 ${map.columns * 10} ${map.rows * 10}`} role="img" aria-label={`A map of page ${page}: the darker a field, the further it is from the file; each says its ΔE00.`}>
        {mapFields(map).map((f) => (
          <g key={`${f.x} ${f.y}`}>
            <rect x={f.x * 10} y={f.y * 10} width="10" height="10" fill={f.shade}><title>{f.words}</title></rect>
            <text x={f.x * 10 + 5} y={f.y * 10 + 6.4} fill={f.ink}>{figure(f.deltaE)}</text>
          </g>
        ))}
      </svg>
    </details>
  );
}
