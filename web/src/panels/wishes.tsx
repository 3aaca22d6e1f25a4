// What the maker wishes of an arrangement besides weights and order: the photos it
// begins and ends with, and the pairs it must not make.

import type { Desk } from "../model/desk";
import { chosenPhoto } from "../model/hand";
import type { PhotoID } from "../model/sequence";
import type * as api from "../net/api";
import { Print, Word } from "./parts";

type Plan = api.ArrangementAsked;
export type Pair = [number, number];

interface WishProps {
  desk: Desk;
  plan: Plan;
  set(part: Partial<Plan>): void;
}

/** The photos whose spreads come first and last. */
export function Ends({ desk, plan, set }: WishProps) {
  return (
    <fieldset class="choice ends">
      <legend>What begins, what ends?</legend>
      <End desk={desk} name="first" words="Begin with photo" photo={plan.first ?? 0} set={(first) => set({ first })} />
      <End desk={desk} name="last" words="End with photo" photo={plan.last ?? 0} set={(last) => set({ last })} />
      <p class="quiet">Leave them empty, and the order decides; it does not begin with the loudest picture.</p>
    </fieldset>
  );
}

function End({ desk, name, words, photo, set }: { desk: Desk; name: string; words: string; photo: PhotoID; set(photo: PhotoID): void }) {
  const chosen = chosenPhoto(desk.hand);
  const known = photo === 0 || desk.photos.has(photo);
  return (
    <div class="end">
      <label>{words} <input type="number" min="1" inputMode="numeric" data-plan={name} value={photo || ""} aria-invalid={!known} onInput={(e) => set(Math.max(0, Math.floor(Number(e.currentTarget.value)) || 0))} /></label>
      {chosen !== 0 && chosen !== photo && <Word act={`${name}-chosen`} onClick={() => set(chosen)}>{chosen}, the chosen one</Word>}
      {photo !== 0 && (known ? <Print desk={desk} photo={photo} /> : <span class="quiet" role="alert">There is no photo {photo}.</span>)}
    </div>
  );
}

interface ApartProps {
  refused: readonly Pair[]; // this time
  apart: readonly Pair[]; // for good
  allow(pair: Pair): void;
  again(pair: Pair): void;
}

/** The pairs that are not made, and the way to allow each again. */
export function NotTogether({ refused, apart, allow, again }: ApartProps) {
  if (refused.length === 0 && apart.length === 0) return null;
  return (
    <fieldset class="choice not-together">
      <legend>Not together</legend>
      {refused.length > 0 && <p>This time: {refused.map((pair) => <Word key={pair.join()} act="allow-now" onClick={() => allow(pair)}>{pair.join(" with ")}, allow</Word>)}</p>}
      {apart.length > 0 && <p>Never: {apart.map((pair) => <Word key={pair.join()} act="allow" onClick={() => again(pair)}>{pair.join(" with ")}, allow again</Word>)}</p>}
    </fieldset>
  );
}

/** Whether two pairs are one, whoever stands left. */
export function samePair(a: Pair, b: Pair): boolean {
  return (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0]);
}
