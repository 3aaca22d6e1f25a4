import { bindingWords } from "../model/binding";
import { length, typedLength } from "../model/cover";
import type { Desk } from "../model/desk";
import type * as api from "../net/api";
import * as program from "../net/program";
import type { Save } from "./cover";
import { Field, TextField, type Keep, type Reading } from "./fields";
import { Make } from "./make";
import { Print } from "./parts";

type Unit = "mm" | "in";

/** The measures of the cover, and those the maker can give. */
export function Figures({ cover, save, unit }: { cover: api.CoverShown; save: Save; unit: Unit }) {
  const { flat, spine, plan } = cover;
  const told = (mm: number) => length(mm, unit);
  const spined = cover.binding === "perfect-bound" || cover.binding === "hard-case";
  return (
    <section aria-labelledby="cover-figures">
      <h3 id="cover-figures">Figures</h3>
      <dl class="cover-figures">
        <dt>Block</dt><dd>{cover.format}, {cover.pages} pages, {bindingWords(cover.binding) || "binding not chosen"}</dd>
        <dt>Flat, cut</dt><dd data-flat="">{told(flat.trim.width)} × {told(flat.trim.height)}</dd>
        <dt>Flat with bleed</dt><dd>{told(flat.trim.width + 2 * flat.bleed)} × {told(flat.trim.height + 2 * flat.bleed)}</dd>
        {spined && <><dt>Spine</dt><dd data-spine="">{told(spine.width)}, from {told(spine.least)} to {told(spine.most)} (± 5 %)</dd></>}
      </dl>
      {cover.rule && <p class="quiet">{cover.rule}</p>}
      {cover.doubts.map((d) => <p key={d} class="trouble">{d}</p>)}
      <div class="measures">
        {spined && <Measure name="spine" words="Spine, the printer's own figure" empty="computed" mm={plan.spine} unit={unit} save={(mm) => save(() => ({ spine: mm }), "The spine is kept.")} />}
        {cover.binding === "perfect-bound" && <Measure name="hinge" words="Scored from the spine" empty="not scored" mm={plan.hinge} unit={unit} save={(mm) => save(() => ({ hinge: mm }), "The hinge is kept.")} />}
        {cover.binding === "hard-case" && cases.map(([name, words]) => (
          <Measure key={name} name={name} words={words} empty="0" mm={plan.case[name]} unit={unit} save={(mm) => save((is) => ({ case: { ...is.case, [name]: mm } }), `${words}: kept.`)} />
        ))}
        <label class="tick"><input type="checkbox" name="barcode" checked={plan.barcode} onChange={({ currentTarget: { checked: barcode } }) => void save(() => ({ barcode }), "Kept.")} /> keep a place for a barcode</label>
      </div>
      {cover.binding === "perfect-bound" && <p class="quiet">Printers score a cover 5 to 8 mm from its spine, where it then opens: common practice, and your printer's figure counts. Inside, the spine and 5 mm on either side stay free of picture, for the glue.</p>}
    </section>
  );
}

const cases = [["square", "Boards stand over by"], ["joint", "Joint beside the spine"], ["board", "Thickness of a board"], ["turnIn", "Turned in"]] as const;

interface MeasureProps {
  name: string;
  words: string;
  empty: string; // what 0 means
  mm: number;
  unit: Unit;
  save: Keep<number>;
}

/** A length the maker may give; left empty it is 0. */
function Measure({ name, words, empty, mm, unit, save }: MeasureProps) {
  const read = (typed: string): Reading<number> => {
    const is = typed.trim() === "" ? 0 : typedLength(typed, unit);
    return is === undefined ? { wrong: "A length, such as 6.5 or 6,5 mm or 0.25 in." } : { is };
  };
  return <Field label={`${words}, ${unit}`} name={name} placeholder={empty} value={mm > 0 ? length(mm, unit).replace(/ .*/, "") : ""} inputMode="decimal" read={read} keep={save} />;
}

/** A cover of one photo, for the test copy. */
export function Own({ desk, cover, save }: { desk: Desk; cover: api.CoverShown; save: Save }) {
  const own = cover.plan.own;
  const set = (some: Partial<api.OwnCover>, said = "The cover is kept.") => save((is) => ({ own: { ...is.own, ...some } }), said);
  const photos = [...desk.photos.values()].sort((a, b) => a.number - b.number);
  return (
    <section class="own-cover" aria-labelledby="cover-own">
      <h3 id="cover-own">A simple cover for the test copy</h3>
      <div class="measures">
        <label>Photo
          <select name="photo" value={own.photo} onChange={(e) => void set({ photo: Number(e.currentTarget.value) })}>
            <option value={0}>none</option>
            {photos.map((p) => <option key={p.number} value={p.number}>{p.number}{p.caption ? `, ${p.caption}` : ""}</option>)}
          </select>
        </label>
        <label>How it lies
          <select name="manner" value={own.manner} onChange={(e) => void set({ manner: e.currentTarget.value as api.OwnCover["manner"] })}>
            <option value="framed">framed, below the title</option>
            <option value="full-bleed">over the whole front</option>
          </select>
        </label>
        <TextField label="Title" name="cover-title" longest={200} value={own.title} placeholder={desk.title.name} keep={(title) => set({ title: title.trim() })} />
        <TextField label="Name" name="cover-name" longest={200} value={own.name} placeholder="none" keep={(name) => set({ name: name.trim() })} />
        <label>Ground <input type="color" name="ground" value={own.ground} onChange={(e) => void set({ ground: e.currentTarget.value })} /></label>
        <label>Letters <input type="color" name="lettering" value={own.lettering} onChange={(e) => void set({ lettering: e.currentTarget.value })} /></label>
        {cover.own.spine && (
          <label>The spine reads
            <select name="reads" value={own.ascending ? "up" : "down"} onChange={(e) => void set({ ascending: e.currentTarget.value === "up" })}>
              <option value="down">downwards (ISO 6357)</option>
              <option value="up">upwards</option>
            </select>
          </label>
        )}
        {own.photo > 0 && <Print desk={desk} photo={own.photo} />}
      </div>
      {own.manner === "full-bleed" && own.photo > 0 && <p class="quiet">The words lie on the picture: look that they can be read.</p>}
      <p class="line-acts"><Make desk={desk} act="make-cover" strong make={(stop) => program.printedCover(desk.title.id, stop)}>Make the printer's PDF</Make></p>
      <p class="quiet">Whoever can be recognised on a cover should have agreed.</p>
    </section>
  );
}
