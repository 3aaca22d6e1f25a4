import { useState } from "preact/hooks";
import type * as api from "../net/api";
import { figures, missing, type Figure } from "../model/judged";
import { sentence } from "../model/words";

type Judged = Pick<api.Partner, "evidence" | "reasons" | "alike" | "warnings">;

/** Why two photos could face each other, in one sentence; what is not known, what may trouble the eye, and on demand the figures. */
export function Reasons({ judged }: { judged: Judged }) {
  const unknown = missing(judged.evidence).filter((words) => !judged.reasons.includes(words));
  return (
    <>
      <p class="reasons">{sentence(judged.reasons)}{judged.alike && !/same picture/i.test(judged.reasons) && " Nearly the same picture, so marked down."}</p>
      {judged.warnings.map((w) => <p key={w} class="quiet mind">Mind: {sentence(w)}</p>)}
      {unknown.length > 0 && <p class="quiet missing">{sentence(unknown.join("; "))}</p>}
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
      <span class="figure-name">{figure.name}</span> <b>{figure.known ? figure.score : "not known"}</b> <span class="quiet">{figure.words}</span>
      {figure.parts.length > 0 && <ul>{figure.parts.map((f) => <FigureLine key={f.name} figure={f} />)}</ul>}
    </li>
  );
}
