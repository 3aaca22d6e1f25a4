import { useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import * as program from "../net/program";
import { Make } from "./make";
import { SheetFrame, useDesk } from "./parts";

type Whom = "others" | "me" | "me-and-originals";
const wishes: readonly (readonly [Whom, words: string, more: string])[] = [
  ["others", "For somebody else", "without positions, tracks, the names of your folders and what is between you, printers and buyers"],
  ["me", "For another machine of mine", "with everything the program knows; the originals stay where they are"],
  ["me-and-originals", "For another machine of mine, originals included", "as large as all the files together"],
];

/** The whole title in one file, and its order for other programs. */
export function Pack({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [whom, setWhom] = useState<Whom>("others");
  const id = desk.title.id;
  return (
    <SheetFrame name="pack" title="Pack and take along" close={() => desk.show({ sheet: undefined })}>
      <section aria-labelledby="pack-whole">
        <h3 id="pack-whole">The whole title in one file</h3>
        <p>Photos, wall, every version and the whole journal, with the cards. On the other machine, open it from the list of titles; it comes in beside what is there.</p>
        <fieldset class="choice">
          <legend>For whom?</legend>
          {wishes.map(([name, words, more]) => (
            <label key={name}>
              <input type="radio" name="whom" value={name} checked={whom === name} onChange={() => setWhom(name)} />
              <span>{words}<span class="quiet">, {more}</span></span>
            </label>
          ))}
        </fieldset>
        {whom === "others" ? <p class="quiet">Whoever can be recognised should have agreed.</p> : <p class="care">The file tells where you and others live and went, and who ordered. Keep it to yourself.</p>}
        <p><Make desk={desk} act="make-pack" strong make={(stop) => program.packed(id, whom !== "others", whom === "me-and-originals", stop)}>Pack it</Make></p>
      </section>
      <section aria-labelledby="pack-order">
        <h3 id="pack-order">The order of the pages</h3>
        <p>Page by page with numbers, file names, captions and notes; no places, no dates.</p>
        <p class="line-acts">
          <Make desk={desk} act="make-csv" make={(stop) => program.ordered(id, "csv", stop)}>As a table (CSV)</Make>
          <Make desk={desk} act="make-json" make={(stop) => program.ordered(id, "json", stop)}>As JSON</Make>
        </p>
      </section>
    </SheetFrame>
  );
}
