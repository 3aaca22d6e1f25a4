import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { allAlike, balanceOf, isOnly, kinds, mannerOf, only, relations, slides, turn, type Balance, type Kind, type Manner } from "../model/weighing";
import { sentence } from "../model/words";
import * as program from "../net/program";
import { useQuietly, Word } from "./parts";

/** The sliders' weights: at once here, and a little later with the title. */
export function useWeights(desk: Desk): [Balance, (w: Balance) => void] {
  const [weights, set] = useState(balanceOf(desk.title.weights));
  const touched = useRef(false);
  useEffect(() => {
    if (!touched.current) set(balanceOf(desk.title.weights)); // another window moved them
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

/** The weights as one text, to tell one balance from another. */
export function weightsKey(weights: Balance): string {
  return JSON.stringify(Object.entries(weights).sort());
}

interface Surprise {
  readonly on: boolean;
  set(on: boolean): void;
}

interface WeightsProps {
  weights: Balance;
  set(w: Balance): void;
  surprise?: Surprise;
}

/** How much each kind of evidence counts, and each relation it is made of. */
export function Weights({ weights, set, surprise }: WeightsProps) {
  return (
    <div class="weights" role="group" aria-label="How much each kind of evidence counts">
      {kinds.map((kind) => <KindWeight key={kind} kind={kind} weights={weights} set={set} />)}
      <p class="presets">
        <Word act="all-alike" onClick={() => set(allAlike)}>all alike</Word>
        {surprise && <Word act="surprise" aria-pressed={surprise.on} title="Good on one kind, far on the others" onClick={() => surprise.set(!surprise.on)}>surprise me</Word>}
      </p>
    </div>
  );
}

function KindWeight({ kind, weights, set }: { kind: Kind } & WeightsProps) {
  const [open, setOpen] = useState(false);
  const name = slides(weights, kind);
  const inside = relations[kind].filter((r) => (weights[r.name] ?? 0) > 0);
  return (
    <div class="kind" data-kind={kind}>
      <div class="weight">
        <Slider name={name} kind={kind} label={sentence(kind).slice(0, -1)} weights={weights} set={set} />
        <Word act={`only-${kind}`} aria-pressed={isOnly(weights, name)} aria-label={`Only ${kind}`} onClick={() => set(only(name))}>only</Word>
        <Word act={`unfold-${kind}`} aria-expanded={open} aria-label={`${open ? "Less" : "More"}: what ${kind} is made of`} onClick={() => setOpen(!open)}>{open ? "less" : "more"}</Word>
      </div>
      {!open && inside.length > 0 && <p class="quiet in-use">with {inside.map((r) => r.words).join(", ")}</p>}
      {open && (
        <div class="relations" role="group" aria-label={`What ${kind} is made of`}>
          {kind === "feeling" && <MannerChoice weights={weights} set={set} />}
          {relations[kind].map((r) => (
            <div class="weight relation" key={r.name}>
              <Slider name={r.name} label={r.words} weights={weights} set={set} />
              <Word act={`only-${r.name}`} aria-pressed={isOnly(weights, r.name)} aria-label={`Only ${r.words}`} onClick={() => set(only(r.name))}>only</Word>
            </div>
          ))}
        </div>
      )}
    </div>
  );
}

function Slider({ name, kind = name, label, weights, set }: { name: string; kind?: string; label: string } & WeightsProps) {
  const weight = weights[name] ?? 0;
  return (
    <label>
      <span>{label}</span>
      <input type="range" min="0" max="1" step="0.05" value={weight} data-weight={kind} aria-label={`How much ${label.toLowerCase()} counts`}
        onInput={(e) => set({ ...weights, [name]: Number(e.currentTarget.value) })} />
      <output>{Math.round(weight * 100)}</output>
    </label>
  );
}

const manners: readonly (readonly [Manner, string])[] = [["likeness", "alike"], ["contrast", "deliberately opposed"]];

function MannerChoice({ weights, set }: WeightsProps) {
  return (
    <fieldset class="manner">
      <legend class="unseen">Which feelings are looked for</legend>
      {manners.map(([manner, words]) => (
        <label key={manner}><input type="radio" name="manner" value={manner} checked={mannerOf(weights) === manner} onChange={() => set(turn(weights, manner))} /> {words}</label>
      ))}
    </fieldset>
  );
}
