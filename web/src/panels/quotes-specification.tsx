import { useState } from "preact/hooks";
import { sentence } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { DayField, DecimalField, Field, Pick, TextField, Tick, WholeField, type Reading } from "./fields";
import { Make } from "./make";
import { Word } from "./parts";
import { Part, type Dealing } from "./quotes";

/** What is asked for: most of it comes from the title, the rest is said here. */
export function SpecificationOf(dealing: Dealing) {
  const { of } = dealing;
  const spec = of.specification;
  const keep = keeps(dealing);
  return (
    <div class="two">
      <section aria-labelledby="spec-lines">
        <h3 id="spec-lines">What is asked for</h3>
        <p class="quiet">Title, size, pages, binding and papers are the title's own: change them under Pages, and they change here.</p>
        {spec.doubts.map((words) => <p key={words} class="trouble">{words}</p>)}
        <dl class="spec">
          {spec.lines.map((line, i) => (
            <div key={i} data-line={line.key || "own"} data-unsaid={line.words ? undefined : ""}><dt>{line.name}</dt><dd>{line.words || <em>not said yet: the letter has “to be agreed”</em>}</dd></div>
          ))}
        </dl>
        <Letter dealing={dealing} />
      </section>
      <section aria-labelledby="spec-wishes">
        <h3 id="spec-wishes">Said by you</h3>
        <p class="quiet">Each field is kept when you leave it.</p>
        <Wishes is={spec.is} sure={spec.sure} keep={keep} />
      </section>
    </div>
  );
}

type KeepWishes = (change: Partial<api.Wishes> | ((now: api.Wishes) => Partial<api.Wishes>)) => Promise<boolean>;

/** Changes the wishes; what is made from them is made from them as they then are, because the fields before may still be on their way. */
function keeps({ desk, act }: Dealing): KeepWishes {
  return (change) => act(({ specification: { act: seen, is } }) =>
    program.keepWishes(desk.title.id, { seen, is: { ...is, ...(typeof change === "function" ? change(is) : change) } }));
}

function Wishes({ is, sure, keep }: { is: api.Wishes; sure: readonly api.SureOf[]; keep: KeepWishes }) {
  return (
    <>
      <Part title="Copies">
        <Field label="Quantities, a price for each" name="quantities" value={is.quantities.join(", ")} read={readQuantities} keep={(quantities) => keep({ quantities })} />
        <DecimalField label="Overs accepted, %" name="overs" value={is.overs} keep={(overs) => keep({ overs })} />
        <DecimalField label="Unders accepted, %" name="unders" value={is.unders} keep={(unders) => keep({ unders })} />
        {is.unders !== "" && is.unders !== "0" && <p class="quiet" data-sure="">With {is.unders} % fewer, order {sure.map((s) => `${s.order} to be sure of ${s.good}`).join(", ")}.</p>}
      </Part>
      <Part title="Colours and cover">
        <ColourField label="Inside" name="inside" value={is.inside} keep={(inside) => keep({ inside })} />
        <ColourField label="Cover" name="cover" value={is.cover} keep={(cover) => keep({ cover })} />
        <TextField label="Cover stiffness" name="stiffness" value={is.stiffness} list={["soft", "soft with flaps", "stiff", "boards"]} keep={(stiffness) => keep({ stiffness })} />
        <TextField label="Finishing" name="finishing" value={is.finishing} list={["none", "matt lamination outside", "dispersion varnish"]} keep={(finishing) => keep({ finishing })} />
        <Tick name="self-cover" on={is.selfCover} keep={(selfCover) => keep({ selfCover })}>Self-cover: of the text paper, counted among the pages</Tick>
      </Part>
      <Part title="Proof and files">
        <Tick name="digital" on={is.proof.digital} keep={(digital) => keep((w) => ({ proof: { ...w.proof, digital } }))}>Digital proof, calibrated</Tick>
        <Tick name="wet" on={is.proof.wet} keep={(wet) => keep((w) => ({ proof: { ...w.proof, wet } }))}>Wet proof, on the paper of the run</Tick>
        <WholeField label="Rounds" name="rounds" value={is.proof.rounds || undefined} keep={(rounds = 0) => keep((w) => ({ proof: { ...w.proof, rounds } }))} />
        <TextField label="Kind of files" name="files" value={is.files.kind} list={["PDF/X-4", "PDF/X-1a", "PDF/X-3"]} keep={(kind) => keep((w) => ({ files: { ...w.files, kind } }))} />
        <TextField label="Colour profile" name="profile" value={is.files.profile} placeholder="as the printer asks" keep={(profile) => keep((w) => ({ files: { ...w.files, profile } }))} />
      </Part>
      <Part title="Delivery">
        <TextField label="Packing" name="packing" value={is.packing} list={["wrapped in tens", "shrink-wrapped singly", "loose in cartons of at most 10 kg"]} keep={(packing) => keep({ packing })} />
        <TextField label="Deliver to" name="deliver-to" lines={3} value={is.deliverTo} keep={(deliverTo) => keep({ deliverTo })} />
        <DayField label="Deliver by" name="deliver-by" value={is.deliverBy} keep={(deliverBy) => keep({ deliverBy })} />
        <DayField label="Reply by" name="reply-by" value={is.replyBy} keep={(replyBy) => keep({ replyBy })} />
      </Part>
      <OwnLines own={is.own} keep={(change) => keep((w) => ({ own: change(w.own) }))} />
    </>
  );
}

function readQuantities(typed: string): Reading<number[]> {
  const numbers = typed.split(/[^\d]+/).filter(Boolean).map(Number);
  const rising = [...new Set(numbers)].sort((a, b) => a - b);
  return rising.length > 0 && rising[0]! > 0 ? { is: rising } : { wrong: "Numbers of copies, such as 50, 100, 200." };
}

function ColourField({ label, name, value, keep }: { label: string; name: string; value: api.Colours; keep(c: api.Colours): Promise<boolean> }) {
  const usual = ["4/4", "4/0", "1/1", "1/0", "4/1", "5/5"];
  const now = `${value.front}/${value.back}`;
  const of = [...new Set([now, ...usual])].map((c) => [c, `${c}${about[c] ?? ""}`] as const);
  return <Pick label={label} name={name} value={now} of={of} keep={(c) => keep({ front: Number(c.split("/")[0]), back: Number(c.split("/")[1]) })} />;
}

const about: Readonly<Record<string, string>> = {
  "4/4": ", full colour on both sides", "4/0": ", full colour on the front only", "1/1": ", one ink on both sides", "1/0": ", one ink on the front only",
  "4/1": ", full colour on the front, one ink on the back", "5/5": ", full colour and a spot colour on both sides",
};

function OwnLines({ own, keep }: { own: readonly api.OwnLine[]; keep(change: (own: api.OwnLine[]) => api.OwnLine[]): Promise<boolean> }) {
  const [more, setMore] = useState(false);
  const set = (at: number, change: Partial<api.OwnLine>) => keep((now) => now.map((line, i) => (i === at ? { ...line, ...change } : line)));
  return (
    <fieldset class="part">
      <legend>Lines of your own</legend>
      <ul class="rows">
        {own.map((line, i) => (
          <li key={i} data-own={i}>
            <TextField label="Name" name="own-name" value={line.name} keep={(name) => set(i, { name })} />
            <TextField label="Words" name="own-words" value={line.words} keep={(words) => set(i, { words })} />
            <Word act="remove-own" aria-label={`Take out the line ${line.name}`} onClick={() => void keep((now) => now.filter((_, j) => j !== i))}>Take out</Word>
          </li>
        ))}
        {more && <li><TextField label="Name of the new line" name="own-new" value="" keep={async (name) => { const kept = await keep((now) => [...now, { name, words: "" }]); if (kept) setMore(false); return kept; }} /></li>}
      </ul>
      {!more && <p><Word act="add-own" onClick={() => setMore(true)}>Add a line</Word></p>}
    </fieldset>
  );
}

/** The letter to paste or to print, in the maker's own wording when there is one. */
function Letter({ dealing }: { dealing: Dealing }) {
  const { of, desk } = dealing;
  const spec = of.specification;
  const [writing, setWriting] = useState(false);
  const keep = keeps(dealing);
  return (
    <section aria-labelledby="spec-letter" class="letter">
      <h3 id="spec-letter">The letter</h3>
      {spec.missing.length > 0 && <p class="quiet">Still open: {spec.missing.join(", ")}.</p>}
      {spec.unprintable && <p class="trouble"><strong>The typeface lacks {[...spec.unprintable].join(" ")}</strong> In the PDF a sign for a missing letter will stand there; the text has them.</p>}
      <CopiedText text={spec.letter} label="The letter as text" desk={desk} />
      <p class="line-acts">
        <Make desk={desk} act="make-specification" make={(stop) => program.specified(desk.title.id, undefined, stop)}>As PDF</Make>
        <Word act="own-wording" aria-expanded={writing} onClick={() => setWriting(!writing)}>In your own wording</Word>
      </p>
      {writing && (
        <div class="wording">
          <TextField label="Wording" name="wording" lines={14} value={spec.is.wording || spec.firstWording} keep={(wording) => keep({ wording: wording === spec.firstWording ? "" : wording })} />
          <p class="quiet">What stands in braces is filled from the title: {spec.placeholders.map((p) => `{${p}}`).join(" ")}. {sentence("{lines} stands for all lines and wants a line to itself")}</p>
          <TextField label="Signed with" name="signed" lines={3} value={spec.is.signedWith} keep={(signedWith) => keep({ signedWith })} />
          {spec.is.wording !== "" && <p><Word act="first-wording" onClick={() => void keep({ wording: "" })}>Put back the first wording</Word></p>}
        </div>
      )}
    </section>
  );
}

/** A text to be pasted elsewhere. */
export function CopiedText({ text, label, desk }: { text: string; label: string; desk: Dealing["desk"] }) {
  const copy = () => {
    navigator.clipboard.writeText(text).then(() => desk.say("Copied."), () => desk.notify({ message: "The browser did not let us copy.", hint: "Select the text and copy it by hand." }));
  };
  return (
    <>
      <textarea class="letter-text" readOnly rows={12} aria-label={label} value={text} />
      <p><Word act="copy-letter" onClick={copy}>Copy the text</Word></p>
    </>
  );
}
