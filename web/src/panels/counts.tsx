import type { ComponentChildren } from "preact";
import { intoSight } from "../board/scroll";
import { bindingWords, lacks, type Binding } from "../model/binding";
import type { Desk } from "../model/desk";
import { thickness } from "../model/format";
import type { PhotoID } from "../model/sequence";
import { unpairedPhotos } from "../model/words";

/** The numbers that are always in sight. Each is an act: it chooses what it counts, or tells more of it. */
export function Counts({ desk }: { desk: Desk }) {
  const { wall } = desk.counts;
  const unpaired = unpairedPhotos(desk.shown);
  const { place, date } = desk.unknown;
  const choose = (photos: readonly PhotoID[], what: string) => {
    desk.chooseAll(photos, what);
    intoSight(document.querySelector(`[data-region] [data-photo="${photos[0]}"]`));
  };
  return (
    <ul class="counts">
      <Count name="wall" n={wall} title="Choose the photos on the wall" run={() => choose([...desk.table.use.wall], "on the wall")}><i>on the </i>wall</Count>
      <Pages desk={desk} />
      <Count name="unpaired" n={unpaired.length} title="Choose the photos that face a blank page" run={() => choose(unpaired, "facing a blank page")}>unpaired</Count>
      <Count name="unplaced" n={place.length} title="Choose the photos of which nobody knows where, on the wall and on the table" run={() => choose(place, "without a place")}><i>without </i><i class="short">no </i>place</Count>
      <Count name="undated" n={date.length} title="Choose the photos of which nobody knows when, on the wall and on the table" run={() => choose(date, "without a date")}><i>without </i><i class="short">no </i>date</Count>
    </ul>
  );
}

function Count({ name, n, title, run, children }: { name: string; n: number; title: string; run(): void; children: ComponentChildren }) {
  return <li><button type="button" data-act={`count-${name}`} title={title} disabled={n === 0} onClick={run}><b data-count={name}>{n}</b> {children}</button></li>;
}

/** How many pages the book has, and what that lacks for the binding. */
function Pages({ desk }: { desk: Desk }) {
  const pages = desk.bookPages;
  const binding = desk.title.binding as Binding;
  const { more, fewer, words, doubt } = lacks(binding, pages, desk.pages ? thickness(desk.pages.format.text) : 0);
  const few = more > 0 && more === fewer ? `${more} more or fewer` : [more > 0 ? `${more} more` : "", fewer > 0 ? `${fewer} fewer` : ""].filter(Boolean).join(" or ");
  const how = binding === "" ? "no binding yet" : bindingWords(binding);
  return (
    <li>
      <button type="button" data-act="count-pages" data-lacks={few ? "" : undefined} title={words || doubt || "How the pages are bound"} onClick={() => desk.show({ sheet: "format" })}>
        <b data-count="pages">{pages}</b> pages<span class="lack">, {few}{few ? <i> for {how}</i> : how}</span>
      </button>
    </li>
  );
}
