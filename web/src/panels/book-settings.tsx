import { addedLeaf, leafWords, manners, torn } from "../model/plan";
import { plural } from "../model/words";
import type * as api from "../net/api";
import { NumberField, Resting } from "./lengths";
import type { Having } from "./page-settings";
import { Word } from "./parts";

/** What holds for all pages, and what stands before and after the wall. */
export function BookSettings({ desk, paging, now, goThen }: Having & { goThen(): (page: number) => void }) {
  const { plan } = now;
  const edit = (act: string, next: (plan: api.Plan) => api.Plan) => paging.edit(act, ({ format, plan: was }) => ({ format, plan: next(was) })).then(() => desk.say(act));
  const add = (where: "front" | "back", leaf: api.Leaf) => {
    const at = where === "back" ? plan.back.length : leaf.kind === "title" ? 0 : plan.front.length;
    const go = goThen(); // to the new page once it is laid out, unless another was chosen meanwhile
    void edit(`add ${leafWords[leaf.kind].toLowerCase()}`, (p) => addedLeaf(p, { in: where, at }, leaf))
      .then(() => go(where === "front" ? at + 1 : paging.book?.book.pages.length ?? 1));
  };
  const differ = plan.placements.filter((p) => p.manner).length;
  return (
    <section class="book-settings" aria-labelledby="book-settings-title">
      <h3 id="book-settings-title">All pages</h3>
      <fieldset class="fields">
        <legend class="unseen">How photos sit on their pages</legend>
        {manners.map(([name, words, more]) => (
          <label key={name} class="tick"><input type="radio" name="plan-manner" value={name} checked={plan.manner === name} onChange={() => void edit(`all photos: ${words.toLowerCase()}`, (p) => ({ ...p, manner: name }))} /> <span>{words} <span class="quiet">{more}</span></span></label>
        ))}
        {differ > 0 && <p class="quiet">{plural(differ, "photo")} of a way of their own.</p>}
        <label class="tick"><input type="checkbox" name="captions" checked={plan.captions} onChange={(e) => { const captions = e.currentTarget.checked; void edit(captions ? "print captions" : "leave captions out", (p) => ({ ...p, captions })); }} /> captions</label>
        <label class="tick"><input type="checkbox" name="folios" checked={plan.folios} onChange={(e) => { const folios = e.currentTarget.checked; void edit(folios ? "print page numbers" : "leave page numbers out", (p) => ({ ...p, folios })); }} /> page numbers</label>
        <Resting>{(rest) => <NumberField name="edition" label="Edition, for the colophon" value={plan.edition} unit="copies"
          set={(edition) => rest(() => void edit("say the edition", (p) => ({ ...p, edition: Math.round(edition) })))} />}</Resting>
      </fieldset>
      {torn(plan) && (
        <div class="trouble" role="alert" data-torn>
          <strong>{plural(plan.front.length, "page stands", "pages stand")} before the wall, so that no spread faces as it hangs.</strong> One blank page more puts it right.{" "}
          <Word act="add-blank" strong onClick={() => add("front", { kind: "blank" })}>Add one blank page</Word>
        </div>
      )}
      <p class="line-acts" role="group" aria-label="Before the wall"><span class="quiet">Before the wall:</span>
        <Word act="add-title" onClick={() => add("front", { kind: "title", text: desk.title.name })}>Title page</Word>
        <Word act="add-front-text" onClick={() => add("front", { kind: "text", text: "" })}>Text</Word>
        <Word act="add-front-blank" onClick={() => add("front", { kind: "blank" })}>Blank page</Word>
      </p>
      <p class="line-acts" role="group" aria-label="After the wall"><span class="quiet">After the wall:</span>
        <Word act="add-back-text" onClick={() => add("back", { kind: "text", text: "" })}>Text</Word>
        <Word act="add-colophon" onClick={() => add("back", { kind: "colophon", text: desk.title.name })}>Colophon</Word>
        <Word act="add-back-blank" onClick={() => add("back", { kind: "blank" })}>Blank page</Word>
      </p>
    </section>
  );
}
