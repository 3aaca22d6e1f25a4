import { useState } from "preact/hooks";
import type * as api from "../net/api";
import { figures, type Figure } from "../model/judged";
import { sentence } from "../model/words";

type Judged = Pick<api.Partner, "evidence" | "reasons" | "missing" | "alike" | "warnings">;

/** Why two photos could face each other, in one sentence; what is not known, what may trouble the eye, and on demand the figures. */
export function Reasons({ judged }: { judged: Judged }) {
  return (
    <>
      <p class="reasons">{judged.reasons ? sentence(judged.reasons) : "Nothing that is known speaks for these two."}{judged.alike && !/same picture/i.test(judged.reasons) && " Nearly the same picture, so marked down."}</p>
      {judged.warnings.map((w) => <p key={w} class="quiet mind">Mind: {sentence(w)}</p>)}
      {judged.missing && <p class="quiet missing">{sentence(judged.missing)}</p>}
      <Figures evidence={judged.evidence} />
    </>
  );
}

/** Drawn when it is unfolded: a long proposal has thousands of figures. */
function Figures({ evidence }: Pick<Judged, "evidence">) {
  const [open, setOpen] = useState(false);
  return (
    <details class="figures" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary data-act="figures">the figures</summary>
      {open && <ul>{figures(evidence).map((f) => <FigureLine key={f.name} figure={f} />)}</ul>}
    </details>
  );
}

function FigureLine({ figure }: { figure: Figure }) {
  return (
    <li>
      <span class="figure-name">{figure.name}</span> <b>{figure.known ? figure.score : "not known"}</b> <span class="quiet">{figure.words}{figure.measure && !figure.words.includes(figure.measure) && `, ${figure.measure}`}</span>
      {figure.parts.length > 0 && <ul>{figure.parts.map((f) => <FigureLine key={f.name} figure={f} />)}</ul>}
    </li>
  );
}
