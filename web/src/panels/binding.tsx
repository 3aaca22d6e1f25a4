import { useState } from "preact/hooks";
import { bindings, bindingWords, lacks, type Binding as Name } from "../model/binding";
import type { Desk } from "../model/desk";
import { plural } from "../model/words";
import { pages as pagesOf, savePages, troubleOf } from "../net/program";
import { SheetFrame, Trouble, useDesk } from "./parts";

/** How the title is to be bound, each way with what the wall's pages lack for it. */
export function Binding({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const { pages } = desk.counts;
  const choose = async (binding: Name) => {
    try {
      const { revision, format, plan } = await pagesOf(desk.title.id);
      await savePages(desk.title.id, { revision, act: `bind with ${bindingWords(binding) || "nothing yet"}`, format: { ...format, binding }, plan });
      desk.changedTitle({ ...desk.title, binding });
      setTrouble(undefined);
      desk.say(binding === "" ? "The binding is left open." : told(binding, pages));
    } catch (err) {
      setTrouble(troubleOf(err));
    }
  };
  return (
    <SheetFrame name="binding" title="Binding" close={() => desk.show({ sheet: undefined })}>
      <p>The wall has <strong>{plural(pages, "page")}</strong>, the cover not counted. A spread more or less is two pages; nothing is ever added by itself.</p>
      {trouble && <Trouble of={trouble} />}
      <fieldset class="bindings">
        <legend class="unseen">How the pages are held together</legend>
        {([["", "Not chosen yet"], ...bindings] as const).map(([name, words]) => (
          <label key={name} data-binding={name || "none"}>
            <input type="radio" name="binding" value={name} checked={desk.title.binding === name} onChange={() => void choose(name)} />
            <span><strong>{words[0]!.toUpperCase() + words.slice(1)}</strong><span class="quiet">{name === "" ? "Then nothing is told to be lacking." : `${about[name]} ${told(name, pages)}`}</span></span>
          </label>
        ))}
      </fieldset>
      <p class="quiet">The limits are common ones; your printer's count. As long as no paper is named, a leaf is taken to be 0.135 mm thick, as of 150 g/m² with a bulk of 0.9.</p>
    </SheetFrame>
  );
}

const about: Readonly<Record<Exclude<Name, "">, string>> = {
  "saddle-stitch": "Folded sheets in one another, stapled through the fold: a multiple of 4, from 8 to about 60 pages.",
  "perfect-bound": "Leaves glued into a cover: an even number, and a block of 3 mm at least.",
  "hard-case": "Sewn sections between boards: a multiple of 4, from about 24 pages.",
};

function told(name: Name, pages: number): string {
  const { words, doubt } = lacks(name, pages);
  return words || `${plural(pages, "page")} can be bound so.${doubt && ` ${doubt}`}`;
}
