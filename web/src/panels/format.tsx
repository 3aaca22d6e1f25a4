import { useEffect, useRef, useState } from "preact/hooks";
import { bindings, bindingWords, lacks, type Binding } from "../model/binding";
import type { Desk } from "../model/desk";
import { bound, lying, namedSize, newMisfits, same, sizeText, square, thickness, turned, withUnit, type Unit } from "../model/format";
import type { Paging } from "../model/paging";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { FormatSketch } from "./format-sketch";
import { LengthField, NumberField } from "./lengths";
import { usePaging } from "./paging";
import { SheetFrame, Trouble, useAsked, useDesk, useQuietly, Word } from "./parts";

/** What every page shares: size, binding, borders, papers. What a change would do is told before it is taken. */
export function Format({ desk }: { desk: Desk }) {
  useDesk(desk);
  const paging = usePaging(desk);
  const { found: list, trouble } = useAsked(program.formats, []);
  const close = () => desk.show({ sheet: undefined });
  return (
    <SheetFrame name="format" title="Format" wide close={close}>
      {trouble && <Trouble of={trouble} />}
      {paging.trouble && <Trouble of={paging.trouble} />}
      {list && paging.now && <Draft desk={desk} paging={paging} list={list} now={paging.now} />}
    </SheetFrame>
  );
}

interface Having {
  draft: api.Format;
  list: api.FormatList;
  set(some: Partial<api.Format>): void;
}

function Draft({ desk, paging, list, now }: { desk: Desk; paging: Paging; list: api.FormatList; now: api.Pages }) {
  const [draft, setDraft] = useState(now.format);
  useEffect(() => setDraft(now.format), [paging.kept?.revision]); // undone, redone, or changed in another window
  const count = desk.counts.pages + now.plan.front.length + now.plan.back.length;
  const changed = JSON.stringify(draft) !== JSON.stringify(now.format);
  const { tried, refused } = useTried(desk, { format: draft, plan: now.plan }, changed);
  const set = (some: Partial<api.Format>) => setDraft((was) => ({ ...was, ...some }));
  const take = () => {
    void paging.edit(actOf(now.format, draft, list), ({ plan }) => ({ format: draft, plan }))
      .then(() => { if (!paging.trouble) desk.say(`${sizeText(draft, list.sizes)} is taken.`); });
  };
  const usual = () => setDraft(bound({ ...list.first, unit: draft.unit }, draft.binding, list));
  const having = { draft, list, set };
  return (
    <div class="format-room">
      <form class="format-form" onSubmit={(e) => { e.preventDefault(); if (changed && !refused) take(); }}>
        <SizeFields {...having} />
        <BindingFields {...having} setAll={setDraft} count={count} />
        <BorderFields {...having} />
        <PaperFields {...having} of="text" legend="Paper of the pages" />
        <PaperFields {...having} of="cover" legend="Paper of the cover" />
      </form>
      <section class="format-outcome" aria-label="What it makes">
        <FormatSketch format={draft} />
        <p><strong>{sizeText(draft, list.sizes)}</strong>, {plural(count, "page")}{draft.binding && `, ${bindingWords(draft.binding)}`}. Bleed {withUnit(draft.bleed, draft.unit)}.</p>
        {refused ? <Trouble of={refused} /> : <Outcome changed={changed} tried={tried} before={paging.book?.misfits ?? []} />}
        <p class="quiet">Bleed of 3 mm, a safe margin of 5 mm and the limits of bindings are common ones; your printer's count.</p>
      </section>
      <footer class="sheet-foot">
        <Word act="take-format" strong disabled={!changed || !!refused} onClick={take}>Take this format</Word>
        {changed && <Word act="leave-format" onClick={() => setDraft(now.format)}>Leave it as it was</Word>}
        <Word act="usual" onClick={usual}>Usual values</Word>
        <Word act="undo-pages" disabled={now.undo === ""} onClick={() => void paging.undo()}>{now.undo ? `Undo: ${now.undo}` : "Undo"}</Word>
        <Word act="redo-pages" disabled={now.redo === ""} onClick={() => void paging.redo()}>{now.redo ? `Redo: ${now.redo}` : "Redo"}</Word>
      </footer>
    </div>
  );
}

/** The act in words, by the greatest of what changed. */
function actOf(was: api.Format, is: api.Format, list: api.FormatList): string {
  if (!same(was.trim, is.trim)) return `trim to ${sizeText(is, list.sizes)}`;
  if (was.binding !== is.binding) return `bind with ${bindingWords(is.binding) || "nothing yet"}`;
  if (JSON.stringify([was.text, was.cover]) !== JSON.stringify([is.text, is.cover])) return "choose papers";
  if (was.unit !== is.unit) return `read lengths in ${is.unit === "mm" ? "millimetres" : "inches"}`;
  return "change bleed and margins";
}

/** Lays the book out by the draft once it has been quiet for a moment. */
function useTried(desk: Desk, asked: api.BookAsked, changed: boolean) {
  const [tried, setTried] = useState<api.BookShown>();
  const [refused, setRefused] = useState<program.Trouble>();
  const last = useRef<AbortController | undefined>(undefined);
  const key = JSON.stringify(asked);
  useQuietly(() => {
    last.current?.abort();
    if (!changed) {
      setTried(undefined);
      setRefused(undefined);
      return;
    }
    const mine = (last.current = new AbortController());
    program.book(desk.title.id, asked, mine.signal).then(
      (b) => { setTried(b); setRefused(undefined); },
      (err: unknown) => { if (!mine.signal.aborted) { setTried(undefined); setRefused(program.troubleOf(err)); } });
  }, 200, [key, changed, desk.session.sequence, desk.photos]);
  useEffect(() => () => last.current?.abort(), []);
  return { tried, refused };
}

/** What would no longer fit, or what does not fit as it is. */
function Outcome({ changed, tried, before }: { changed: boolean; tried: api.BookShown | undefined; before: readonly api.Misfit[] }) {
  if (changed && !tried) return <p class="quiet" role="status">Laying the pages out…</p>;
  const list = tried ? newMisfits(before, tried.misfits) : before;
  const better = tried ? newMisfits(tried.misfits, before).length : 0;
  return (
    <div role="status" data-misfits={list.length}>
      <p>{list.length === 0 ? (tried ? "Everything that fits now fits in this format too." : "Everything fits.")
        : tried ? `${plural(list.length, "thing")} would not fit any more:` : `${plural(list.length, "thing does", "things do")} not fit as it is:`}
        {better > 0 && ` ${plural(better, "thing that does", "things that do")} not fit now would.`}</p>
      <ul class="unfit">
        {list.slice(0, 12).map((m, i) => <li key={i} data-misfit={m.kind}>{m.words} <span class="quiet">{m.hint}</span></li>)}
      </ul>
      {list.length > 12 && <p class="quiet">And {list.length - 12} more.</p>}
    </div>
  );
}

function SizeFields({ draft, list, set }: Having) {
  const named = namedSize(draft.trim, list.sizes);
  const choose = (name: string) => {
    const size = list.sizes.find((s) => s.name === name);
    if (!size) return;
    const trim = { width: size.width, height: size.height };
    set({ trim: lying(draft.trim) ? turned(trim) : trim });
  };
  return (
    <fieldset class="fields">
      <legend>Page after trimming</legend>
      <label>Size
        <select name="size" value={named?.name ?? ""} onChange={(e) => choose(e.currentTarget.value)}>
          {!named && <option value="">own</option>}
          {list.sizes.map((s) => <option key={s.name} value={s.name}>{s.name}</option>)}
        </select>
      </label>
      <div class="pair">
        <LengthField name="width" label="Width" value={draft.trim.width} unit={draft.unit} set={(width) => set({ trim: { ...draft.trim, width } })} />
        <LengthField name="height" label="Height" value={draft.trim.height} unit={draft.unit} set={(height) => set({ trim: { ...draft.trim, height } })} />
      </div>
      <div class="choices" role="group" aria-label="How the page stands">
        {([[false, "standing"], [true, "lying"]] as const).map(([flat, words]) => (
          <label key={words}><input type="radio" name="lies" value={words} disabled={square(draft.trim)} checked={!square(draft.trim) && lying(draft.trim) === flat}
            onChange={() => set({ trim: turned(draft.trim) })} /> {words}</label>
        ))}
      </div>
      <div class="choices" role="group" aria-label="Lengths in">
        {([["mm", "millimetres"], ["in", "inches"]] as const).map(([unit, words]) => (
          <label key={unit}><input type="radio" name="unit" value={unit} checked={draft.unit === unit} onChange={() => set({ unit: unit as Unit })} /> {words}</label>
        ))}
      </div>
    </fieldset>
  );
}

const about: Readonly<Record<Exclude<Binding, "">, string>> = {
  "saddle-stitch": "Folded sheets in one another, stapled through the fold: a multiple of 4, from 8 to about 60 pages.",
  "perfect-bound": "Leaves glued into a cover: an even number, and a block of 3 mm at least.",
  "hard-case": "Sewn sections between boards: a multiple of 4, from about 24 pages.",
};

function BindingFields({ draft, list, setAll, count }: Having & { setAll(f: api.Format): void; count: number }) {
  const told = (name: Binding) => {
    const { words, doubt } = lacks(name, count, thickness(draft.text));
    return words || `${plural(count, "page")} can be bound so.${doubt && ` ${doubt}`}`;
  };
  return (
    <fieldset class="fields bindings">
      <legend>How {plural(count, "page")} are held together, the cover not counted</legend>
      {([["", "Not chosen yet"], ...bindings] as const).map(([name, words]) => (
        <label key={name} data-binding={name || "none"}>
          <input type="radio" name="binding" value={name} checked={draft.binding === name} onChange={() => setAll(bound(draft, name, list))} />
          <span><strong>{words[0]!.toUpperCase() + words.slice(1)}</strong><span class="quiet">{name === "" ? "Then nothing is told to be lacking." : `${about[name]} ${told(name)}`}</span></span>
        </label>
      ))}
    </fieldset>
  );
}

function BorderFields({ draft, set }: Having) {
  const { margins, unit } = draft;
  const margin = (name: keyof api.Margins, label: string) => (
    <LengthField name={`margin-${name}`} label={label} value={margins[name]} unit={unit} set={(mm) => set({ margins: { ...margins, [name]: mm } })} />
  );
  return (
    <fieldset class="fields">
      <legend>Bleed and margins</legend>
      <div class="pair">
        <LengthField name="bleed" label="Bleed" value={draft.bleed} unit={unit} set={(bleed) => set({ bleed })} />
        <LengthField name="safe" label="Safe margin" value={draft.safe} unit={unit} set={(safe) => set({ safe })} />
        {margin("inner", "Inner margin")}
        {margin("outer", "Outer margin")}
        {margin("top", "Upper margin")}
        {margin("bottom", "Lower margin")}
        <LengthField name="swallow" label="Hidden in the gutter" value={draft.swallow} unit={unit} set={(swallow) => set({ swallow })} />
      </div>
      <p class="quiet">No text and no face nearer to the trim than the safe margin. The inner margin lies at the gutter; a photo or a page can have margins of its own.</p>
    </fieldset>
  );
}

function PaperFields({ draft, set, of, legend }: Having & { of: "text" | "cover"; legend: string }) {
  const paper = draft[of];
  const put = (some: Partial<api.Paper>) => set({ [of]: { ...paper, ...some } });
  const thick = thickness(paper);
  return (
    <fieldset class="fields">
      <legend>{legend}</legend>
      <label>Name, as the printer calls it<input type="text" name={`${of}-name`} value={paper.name} onInput={(e) => put({ name: e.currentTarget.value })} /></label>
      <div class="pair">
        <NumberField name={`${of}-grammage`} label="Grammage" value={paper.grammage} unit="g/m²" set={(grammage) => put({ grammage })} />
        <label>Finish<input type="text" name={`${of}-finish`} value={paper.finish} onInput={(e) => put({ finish: e.currentTarget.value })} /></label>
        <NumberField name={`${of}-bulk`} label="Bulk" value={paper.bulk} unit="cm³/g" set={(bulk) => put({ bulk })} />
        <NumberField name={`${of}-caliper`} label="or caliper of a leaf" value={paper.caliper} unit="mm" set={(caliper) => put({ caliper })} />
      </div>
      <p class="quiet">{thick > 0 ? `A leaf is ${Number(thick.toFixed(3))} mm thick${paper.caliper > 0 ? ", as the mill says" : ": grammage × bulk"}.` : "Not known how thick a leaf is; 0.135 mm is supposed."}</p>
    </fieldset>
  );
}
