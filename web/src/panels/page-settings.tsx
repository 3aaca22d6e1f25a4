import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { withUnit } from "../model/format";
import type { Paging } from "../model/paging";
import { addedLeaf, isWhole, leafWords, manners, mannerWords, movedLeaf, overflowing, placed, placementOf, placeOf, withLeaf, type Place, type Said } from "../model/plan";
import type { Page } from "../model/sequence";
import type * as api from "../net/api";
import type { Cropping } from "./cropping";
import type { Marking } from "./in-scale";
import { LengthField, Resting } from "./lengths";
import { Word } from "./parts";

export interface Having {
  desk: Desk;
  paging: Paging;
  now: api.Pages;
}

interface Props extends Having {
  page: api.BookPage;
  cropping: Cropping;
  marking: Marking;
  begin(of: api.Shown): void; // to mark what must stay in sight
}

/** What is said of the page that is selected. */
export function PageSettings(props: Props) {
  const { page, now, paging } = props;
  const misfits = paging.book?.misfits.filter((m) => m.page === page.number) ?? [];
  const place = paging.book && placeOf(paging.book.book, page, now.plan);
  return (
    <section class="page-settings" aria-labelledby="page-settings-title" data-page={page.number}>
      <h3 id="page-settings-title">Page {page.number}{page.shown ? `, photo ${page.shown.photo}` : page.leaf ? `, ${leafWords[page.leaf.kind].toLowerCase()}` : ", blank"}</h3>
      {misfits.length > 0 && <ul class="unfit">{misfits.map((m, i) => <li key={i} data-misfit={m.kind}>{m.words} <span class="quiet">{m.hint}</span></li>)}</ul>}
      {page.shown && <PhotoSettings {...props} of={page.shown} />}
      {page.leaf && place && <LeafSettings key={JSON.stringify(place)} {...props} leaf={page.leaf} place={place} />}
      {!page.shown && !page.leaf && page.on && <BlankSettings {...props} on={page.on as Page} />}
    </section>
  );
}

function PhotoSettings({ desk, paging, now, of, cropping, marking, begin }: Props & { of: api.Shown }) {
  const { plan, format } = now;
  const said = placementOf(plan, of.photo);
  const photo = desk.photos.get(of.photo);
  const say = (act: string, what: Said) => void paging.edit(act, (p) => ({ format: p.format, plan: placed(p.plan, of.photo, what) })).then(() => desk.say(act));
  const n = of.photo;
  const ppi = photo ? Math.floor(photo.width / (of.picture.width / 25.4)) : 0;
  const act = (run: () => void) => () => { run(); cropping.keep(); };
  const marked = marking.mark?.photo === n;
  return (
    <>
      <p class="quiet">{ppi} pixels to the inch at this size{ppi >= 300 ? "." : ppi >= 225 ? "; 300 are wanted." : "; below 225 a print looks soft."}</p>
      <fieldset class="fields">
        <legend>How it sits</legend>
        <label class="tick"><input type="radio" name="manner" value="" checked={!said.manner} onChange={() => say(`let photo ${n} sit as the others`, { manner: undefined })} /> As the others: {mannerWords(plan.manner)}</label>
        {manners.map(([name, words, more]) => (
          <label key={name} class="tick"><input type="radio" name="manner" value={name} checked={said.manner === name} onChange={() => say(`photo ${n}: ${words.toLowerCase()}`, { manner: name })} /> <span>{words} <span class="quiet">{more}</span></span></label>
        ))}
        {of.manner === "small" && (
          <label>Share of the frame, {Math.round((said.share ?? 0.5) * 100)} %
            <input type="range" name="share" min={20} max={100} step={1} value={Math.round((said.share ?? 0.5) * 100)} onChange={(e) => say(`size photo ${n}`, { share: e.currentTarget.valueAsNumber / 100 })} /></label>
        )}
      </fieldset>
      <fieldset class="fields">
        <legend>Crop</legend>
        <p class="line-acts">
          <Word act="nearer" onClick={act(() => cropping.zoom(of, 1.1))}>Nearer</Word>
          <Word act="farther" onClick={act(() => cropping.zoom(of, 1 / 1.1))}>Farther</Word>
          <Word act="whole-crop" disabled={!said.crop || isWhole(said.crop)} onClick={act(() => cropping.whole(of))}>As at first</Word>
        </p>
        <p class="quiet">Drag the picture in its window; two fingers, Ctrl and the wheel, or + and − bring it nearer.</p>
        <p class="line-acts">
          <Word act="mark" aria-pressed={marked} onClick={() => (marked ? marking.leave() : begin(of))}>{of.keep ? "Move the mark" : "Mark what must stay in sight"}</Word>
          {marked && <Word act="keep-mark" strong onClick={() => marking.keep(marking.mark!.at)}>Keep it there</Word>}
          {said.keep && !marked && <Word act="forget-mark" onClick={() => say(`forget the mark of photo ${n}`, { keep: undefined })}>{photo?.gaze ? "Back to the face" : "Forget the mark"}</Word>}
        </p>
        {of.keep && !said.keep && <p class="quiet">The face marked on the photo is kept clear of trim and gutter.</p>}
        {of.across && (
          <Resting>{(rest) => <LengthField name="apart" label="Halves moved apart, each" value={said.apart ?? 0} unit={format.unit}
            set={(apart) => rest(() => say(`move the halves of photo ${n} apart`, { apart: apart || undefined }))} />}</Resting>
        )}
      </fieldset>
      <MarginSettings now={now} n={n} said={said} say={say} />
      <fieldset class="fields">
        <legend>Caption</legend>
        <p>{photo?.caption ? `“${photo.caption}”` : <span class="quiet">The photo has none.</span>}</p>
        <select name="captioned" aria-label="Whether the caption is printed" value={said.caption === undefined ? "" : String(said.caption)}
          onChange={(e) => say(`caption of photo ${n}`, { caption: e.currentTarget.value === "" ? undefined : e.currentTarget.value === "true" })}>
          <option value="">as the others: {plan.captions ? "printed" : "left out"}</option>
          <option value="true">printed</option>
          <option value="false">left out</option>
        </select>
      </fieldset>
    </>
  );
}

function MarginSettings({ now, n, said, say }: { now: api.Pages; n: number; said: api.Placement; say(act: string, what: Said): void }) {
  const { format } = now;
  const own = said.margins;
  const put = (name: keyof api.Margins) => (mm: number) => say(`margins of photo ${n}`, { margins: { ...(own ?? format.margins), [name]: mm } });
  return (
    <fieldset class="fields">
      <legend>Margins</legend>
      <label class="tick"><input type="checkbox" name="own-margins" checked={!!own} onChange={(e) => say(`margins of photo ${n}`, { margins: e.currentTarget.checked ? format.margins : undefined })} /> of its own</label>
      {own && (
        <div class="pair">
          {([["inner", "Inner"], ["outer", "Outer"], ["top", "Upper"], ["bottom", "Lower"]] as const).map(([name, label]) => (
            <Resting key={name}>{(rest) => <LengthField name={`own-${name}`} label={label} value={own[name]} unit={format.unit} set={(mm) => rest(() => put(name)(mm))} />}</Resting>
          ))}
        </div>
      )}
      {!own && <p class="quiet">As the title: inner {withUnit(format.margins.inner, format.unit)}, outer {withUnit(format.margins.outer, format.unit)}.</p>}
    </fieldset>
  );
}

function LeafSettings({ desk, paging, page, leaf, place }: Props & { leaf: api.Leaf; place: Place }) {
  const edit = (act: string, next: (plan: api.Plan) => api.Plan) => void paging.edit(act, ({ format, plan }) => ({ format, plan: next(plan) })).then(() => desk.say(act));
  const [text, setText] = useState(leaf.text ?? "");
  const writing = useRef(false);
  useEffect(() => { if (!writing.current) setText(leaf.text ?? ""); }, [leaf.text]);
  const write = (typed: string) => edit(`write ${leafWords[leaf.kind].toLowerCase()}`, (plan) => withLeaf(plan, place, { kind: leaf.kind, text: typed }));
  const room = page.writings?.[0]?.room;
  const divided = leaf.kind === "text" && "in" in place && room ? overflowing(leaf.text ?? "", paging.book?.lines[page.number - 1] ?? [], room) : undefined;
  const goOn = () => {
    if (!divided || !("in" in place)) return;
    const [fits, goesOn] = divided;
    edit("go on with the text on another page", (plan) => addedLeaf(withLeaf(plan, place, { kind: "text", text: fits }), { in: place.in, at: place.at + 1 }, { kind: "text", text: goesOn }));
  };
  const kinds = Object.keys(leafWords) as api.Leaf["kind"][];
  return (
    <fieldset class="fields">
      <legend>Words</legend>
      <label>Kind of page
        <select name="leaf-kind" value={leaf.kind} onChange={(e) => edit("change the kind of page", (plan) => withLeaf(plan, place, { kind: e.currentTarget.value as api.Leaf["kind"], text }))}>
          {kinds.map((kind) => <option key={kind} value={kind}>{leafWords[kind]}</option>)}
        </select>
      </label>
      {leaf.kind !== "blank" && (
        <Resting>{(rest) => (
          <label>{leaf.kind === "title" ? "Title, and below it subtitle and maker, by lines" : "Text; an empty line begins a paragraph"}
            <textarea name="leaf-text" rows={leaf.kind === "text" ? 12 : 5} value={text} onBlur={() => { writing.current = false; }}
              onInput={(e) => { writing.current = true; const typed = e.currentTarget.value; setText(typed); rest(() => write(typed)); }} /></label>
        )}</Resting>
      )}
      {divided && <p>It is longer than the page. <Word act="go-on" onClick={goOn}>Go on on another page</Word></p>}
      {leaf.kind === "colophon" && <p class="quiet">Edition, size, binding and papers are added from the format.</p>}
      <p class="line-acts">
        {"in" in place && <Word act="leaf-earlier" onClick={() => edit("move a page earlier", (plan) => movedLeaf(plan, place, -1))}>Earlier</Word>}
        {"in" in place && <Word act="leaf-later" onClick={() => edit("move a page later", (plan) => movedLeaf(plan, place, 1))}>Later</Word>}
        <Word act="remove-leaf" onClick={() => edit(`take away ${leafWords[leaf.kind].toLowerCase()}`, (plan) => withLeaf(plan, place, undefined))}>{"in" in place ? "Take this page away" : "Take the words away"}</Word>
      </p>
    </fieldset>
  );
}

function BlankSettings({ desk, paging, on }: Props & { on: Page }) {
  const lay = () => void paging.edit("write on a blank page", ({ format, plan }) => ({ format, plan: withLeaf(plan, { on }, { kind: "text", text: "" }) })).then(() => desk.say("Words can be written on this page."));
  return <p>Nothing hangs here. <Word act="write-here" onClick={lay}>Write on this page</Word></p>;
}
