// The marks by which the page's parts can be found, by its own styles and
// gestures and by tests in a real browser. They are promises: whoever changes
// one changes all three.
//
//   data-region="wall|table|box"    where cards lie. The element itself is an ARIA grid.
//   data-drop="table|box"           the name of the table or the box: cards can be put down there too while it is folded away.
//   data-spread="7"                 a row of the wall, by the spread's number; "0" for opening and closing page.
//   data-pinned, data-across        on that row: the spread is pinned; its photo crosses the gutter.
//   data-page="opening|closing|left|right"   a page, with data-spread of its row on it too.
//   data-photo="12"                 a card, wherever it lies: a button inside its page or print.
//   data-between="3"                the place before the spread at index 3; the last one is before the closing page.
//   data-handle="7"                 the foot of a spread, by which it is moved as a whole.
//   data-chapter="2"                the name of a chapter above its first spread, and a folded chapter's paper and foot: it is moved whole by them.
//   data-run="2", data-stack="2"    on a row: the chapter the spread belongs to; a row that stands for a folded chapter; data-goes-on="before after" on a row: where its chapter has other spreads. data-noted: a note is on it.
//   data-aimed                      on the page, place or region a card would go to now; its child .says tells what would happen.
//   data-push                       on the page aimed at: what lies there is pushed on instead of swapped; data-moves-on on the pages it moves on to.
//   data-chosen                     on chosen cards and chosen rows.
//   data-placing                    on <body> while something is carried or a place is being chosen.
//   data-act="…"                    buttons. Of what is chosen: choose-where partners best look swap apart across one-page pin unpin
//                                   table box blank add-before add-after take-away push-on put-down. Of the head: titles undo redo bring
//                                   arrange partners versions keys. Of the list of titles: open-title rename-title save-name.
//                                   Of panels and dialogs: close leave again save-name; pair only-colour only-place only-time
//                                   all-alike; ask-arrangement accept; look-at-version bring-back name-version return-to-present;
//                                   open-folder bring-folder choose-files cancel-bring go-on; previous-photo next-photo.
//                                   Of notices: again forget put-away. Of the tray: fold-table.
//   data-count="wall|pages|unpaired|unplaced|undated|table|box"   the numbers that are always in sight; but for the last two each stands in
//                                   a button, data-act="count-…". data-binding="saddle-stitch|…|none" a binding that can be chosen.
//   data-shown="34"                 the line that says how much of the table is shown, and data-hidden how much is not; data-say="find" the field to find by. Of the table besides:
//                                   show-only show-all no-longer found-elsewhere tools choose-group.
//   data-panel="partners|versions|bring|arrange|keys|look|titles"   what is open beside or above the wall.
//   data-partner="47"               one proposed partner in its panel; data-weight="colour|place|time" its sliders.
//   data-panel="facts|choose|map|borrow|originals"   likewise. data-fact="taken|where|roll|feeling|caption" a section of facts,
//                                   data-say="…" the field in it; data-group="…" photos that can be chosen together; data-town a proposed town.
//   data-chart, data-mode           the map and what a press on it does; data-dot="4 7" photos drawn as one dot; data-mark the place pointed at.
//   data-track="1", data-offer="12" a track, and a place that can be borrowed; data-lost="12" a photo whose original is missing.
//   data-pile="2|3|4|open|among"    a print that lies on a pile of so many, or in an open one, and data-of="4 7" all that lie in a closed one; data-missing a card whose original is missing.
//   data-veiled                     a print or a spread that was laid anew out of sight, until it is drawn.
//   data-ahead                      on a spread that is laid out although it is out of sight; .in-reach on a place before a spread that is near sight.
//   data-to-line="4", data-near, data-wide  on the wall: spreads to a line; one spread fills the sight; pages are wide. data-one-blur: squinted at from afar. data-squint on <html>.
//   data-far, data-stretched        on a spread: too far for numbers; drawn as it was laid out before.
//   .ribbon-sight                   the bar on the ribbon over what of the wall is in sight.
//   data-ribbon, data-glimpse="3"   the ribbon of colours, and the spread shown below it, by its place among the openings.
//   data-shows="12", data-half      a page on the stage (data-panel="in-hand|leafing"): its photo, 0 for none; half of one across the gutter.
//   data-holds="map bring"          a group of commands in the bar, with data-group: those that lie behind it.
//   data-version="3"                one version in its panel, or among all the weeks; data-slip on it when a slip lies in it, data-slip-of="3" the
//                                   box that says so. data-line="1" a line of work; data-begin="name|present" the names asked for when one is begun.
//   data-panel="weeks|compare|settled|fresh|thin"   what looks back. Of a comparison: data-side-of="The earlier|The later", data-words, data-figure="…",
//                                   data-over the slider, data-row one spread. Of what has settled: data-held-pair="1 2", data-broken-pair="3 4",
//                                   data-restless="1" a page, data-company="3" a photo. Of memory: data-heap="4" a photo, data-memory-page="2" a page
//                                   counted from 0, data-next on the one that comes next. data-spare what thinning would take.
//   data-refused="/path/of/file"    a file that could not be brought in; data-bring="2" one bringing-in.
//   data-live                       the one polite status line; data-offline on the line that says the program does not answer.
//   data-held="1"                   an act that could not be done on the wall as it had become.
//
// Cards, pages and places carry plain words as their accessible names:
// "Photo 12, DSC_0012.jpg, on page 4", "Page 5, blank", "Between pages 5 and 6".

import type { One, Target } from "../model/targets";
import type { Page, PhotoID, Side } from "../model/sequence";

/** The photo of the card that el is or lies in; 0 for none. */
export function photoOf(el: Element | null): PhotoID {
  return Number(el?.closest<HTMLElement>("[data-photo]")?.dataset.photo ?? 0);
}

/** The page that el is or lies in. */
export function pageOf(el: Element | null): Page | undefined {
  const cell = el?.closest<HTMLElement>("[data-page]");
  return cell ? { spread: Number(cell.dataset.spread), side: cell.dataset.page as Side } : undefined;
}

export type Region = "wall" | "table" | "box";

export function regionOf(el: Element | null): Region | undefined {
  return el?.closest<HTMLElement>("[data-region]")?.dataset.region as Region | undefined;
}

/** The element a target is drawn as. */
export function elementOf(target: Target): HTMLElement | null {
  switch (target.kind) {
    case "page": return document.querySelector(`[data-page="${target.page.side}"][data-spread="${target.page.spread}"]`);
    case "between": return document.querySelector(`[data-between="${target.index}"]`);
    default: {
      const region = document.querySelector<HTMLElement>(`[data-region="${target.kind}"]`);
      return region?.checkVisibility() ? region : document.querySelector(`[data-drop="${target.kind}"]`);
    }
  }
}

/** What a press on el would carry: a card by itself, a spread by its foot, a chapter by its name or its stack. */
export function carriedBy(el: Element | null): One | undefined {
  const photo = photoOf(el);
  if (photo) return { kind: "photo", photo };
  const chapter = el?.closest<HTMLElement>("[data-chapter]");
  if (chapter) return { kind: "chapter", chapter: Number(chapter.dataset.chapter) };
  const handle = el?.closest<HTMLElement>("[data-handle]");
  return handle ? { kind: "spread", spread: Number(handle.dataset.handle) } : undefined;
}
