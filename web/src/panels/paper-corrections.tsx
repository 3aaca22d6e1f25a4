import { useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { beside, facingNext, hanging as hangs, setApart, shifted, spreadOf, swapped, turnedAcross, without, written, type Hanging } from "../model/hanging";
import { correct, name, rewritten, type Paper } from "../model/paper";
import type { PhotoID } from "../model/sequence";
import { Facing, Print, Word } from "./parts";

interface Props {
  desk: Desk;
  paper: Paper;
  hanging: Hanging;
  slips?: boolean; // the text cannot be read: a correction would write over it
}

/** What was read as spreads with their pictures, and what can be done with the number that is chosen. */
export function Corrections({ desk, paper, hanging, slips = false }: Props) {
  if (hangs(hanging).length === 0 && paper.marks.length === 0) return null;
  return (
    <section class="paper-read" aria-labelledby="paper-read-title">
      <h3 id="paper-read-title">As it was read</h3>
      <div class="paper-chosen" data-chosen-number={paper.chosen ? ("photo" in paper.chosen ? paper.chosen.photo : "?") : undefined}>
        {slips ? <p class="quiet">Mend the text first, then correct here.</p> : paper.chosen ? <Chosen key={JSON.stringify(paper.chosen)} desk={desk} paper={paper} hanging={hanging} /> : <p class="quiet">Choose a number here{paper.reading ? " or in the photograph" : ""} to correct it, to change whom it faces, or to move it.</p>}
      </div>
      <ol class="read-spreads">
        {hanging.opening !== 0 && <li><Facing desk={desk} left={0} right={hanging.opening} /><Numbers desk={desk} paper={paper} of={[hanging.opening]} /></li>}
        {hanging.spreads.map((s, i) => (
          <li key={i}><Facing desk={desk} left={s.left} right={s.right} across={s.across} /><Numbers desk={desk} paper={paper} of={[s.left, s.right]} /></li>
        ))}
        {hanging.closing !== 0 && <li><Facing desk={desk} left={hanging.closing} right={0} /><Numbers desk={desk} paper={paper} of={[hanging.closing]} /></li>}
      </ol>
    </section>
  );
}

function Numbers({ desk, paper, of }: { desk: Desk; paper: Paper; of: readonly PhotoID[] }) {
  const chosen = paper.chosen && "photo" in paper.chosen ? paper.chosen.photo : 0;
  return (
    <p class="read-numbers">
      {of.map((id, i) => id !== 0 && (
        <Word key={i} act="choose-number" data-number={id} aria-pressed={chosen === id} onClick={() => desk.setPaper({ ...paper, chosen: chosen === id ? undefined : { photo: id } })}>{id}</Word>
      ))}
    </p>
  );
}

function Chosen({ desk, paper, hanging }: Props) {
  const { chosen } = paper;
  if (!chosen) return null;
  const put = (now: Paper, h: Hanging, words: string) => {
    desk.setPaper(rewritten(now, h));
    desk.say(words);
  };
  if ("mark" in chosen) {
    return <NumberForm label="The number on this print" submit="Add it" put={(n) => { const now = name(paper, hanging, chosen.mark, n); put(now.paper, now.h, `${n} hangs there.`); }} />;
  }
  const { photo } = chosen;
  const act = (h: Hanging, words: string) => put(paper, h, words);
  return (
    <>
      <div class="paper-which"><Print desk={desk} photo={photo} /><strong>{photo}</strong></div>
      <Moves paper={paper} hanging={hanging} photo={photo} act={act} gone={() => put({ ...paper, chosen: undefined }, without(hanging, photo), `${photo} does not hang.`)} />
      <NumberForm label={`Another number than ${photo}`} submit="Correct" put={(n) => { const now = correct(paper, hanging, photo, n); put(now.paper, now.h, `${photo} is ${n}.`); }} />
      <NumberForm label={`A print missed behind ${photo}`} submit="Add" put={(n) => act(beside(hanging, n, photo), `${n} hangs behind ${photo}.`)} />
    </>
  );
}

interface MovesProps {
  paper: Paper;
  hanging: Hanging;
  photo: PhotoID;
  act(h: Hanging, words: string): void;
  gone(): void;
}

/** Whom it faces and where it hangs. What would change nothing cannot be pressed. */
function Moves({ hanging, photo, act, gone }: MovesProps) {
  const spread = spreadOf(hanging, photo);
  const paired = spread !== undefined && spread.left !== 0 && spread.right !== 0;
  const ways: [act: string, words: string, h: Hanging, said: string][] = [
    ["face-next", "Faces the next", facingNext(hanging, photo), `${photo} faces the next.`],
    ["face-nobody", "Faces nobody", setApart(hanging, photo), `${photo} faces nobody.`],
    ["other-side", paired ? "Change sides" : "The other page", swapped(hanging, photo), `${photo} changes sides.`],
    ["lie-across", spread?.across ? "On one page" : "Across both pages", turnedAcross(hanging, photo), spread?.across ? `${photo} lies on one page.` : `${photo} lies across both pages.`],
    ["earlier", "Earlier", shifted(hanging, photo, -1), `${photo} hangs earlier.`],
    ["later", "Later", shifted(hanging, photo, 1), `${photo} hangs later.`],
  ];
  const now = written(hanging);
  return (
    <div class="line-acts">
      {ways.map(([name, words, h, said]) => <Word key={name} act={name} disabled={written(h) === now} onClick={() => act(h, said)}>{words}</Word>)}
      <Word act="take-out" onClick={gone}>Does not hang</Word>
    </div>
  );
}

/** One number to type. Whether there is such a photo, the text says. */
function NumberForm({ label, submit, put }: { label: string; submit: string; put(n: PhotoID): void }) {
  const [text, setText] = useState("");
  const number = Number(text);
  const good = /^\d{1,7}$/.test(text.trim()) && number > 0;
  const submitted = (e: Event) => {
    e.preventDefault();
    if (!good) return;
    setText("");
    put(number);
  };
  return (
    <form class="paper-number" onSubmit={submitted}>
      <label>{label} <input name="number" type="text" inputMode="numeric" autocomplete="off" value={text} onInput={(e) => setText(e.currentTarget.value)} /></label>
      <button type="submit" class="word" disabled={!good}>{submit}</button>
    </form>
  );
}
