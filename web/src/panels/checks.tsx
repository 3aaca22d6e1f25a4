import { useReducer, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { WholeField } from "./fields";
import { Print, settledRevision, SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";

/** What does not fit before a title is printed: the most harmful first, each with the page, the reason and the way out. */
export function Checks({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [inks, again] = useReducer((n: number) => n + 1, 0);
  const revision = settledRevision(desk);
  const { found, trouble } = useAsked(revision === undefined ? undefined : () => program.checkTitle(desk.title.id), [desk, revision, inks]);
  return (
    <SheetFrame name="checks" title="Check before print" wide close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      <Inks desk={desk} changed={() => again(undefined)} />
      {!found && !trouble && <p class="quiet" role="status">Looking at every page.</p>}
      {found && (
        <section aria-labelledby="found">
          <h3 id="found"><span role="status">{found.found.length === 0 ? "Nothing was found that does not fit." : `${plural(found.found.length, "thing")} to look at`}</span></h3>
          <p class="quiet">{plural(found.pages, "page")}, {plural(found.pictures, "photo")} on them. What does most harm comes first; whether it matters is yours to say. Typefaces are always put into the file.</p>
          <ol class="misfits">{found.found.map((m, i) => <Found key={`${inks} ${i}`} desk={desk} misfit={m} inks={inks} />)}</ol>
        </section>
      )}
      <p class="care">Whoever can be recognised in a picture may have a say in its being printed; rules differ by country.</p>
    </SheetFrame>
  );
}

const grave = new Set<api.Misfit["kind"]>(["missing", "changed", "torn", "count", "keep", "resolution", "damaged", "words", "letters"]);

function Found({ desk, misfit: m, inks }: { desk: Desk; misfit: api.Misfit; inks: number }) {
  const [seen, setSeen] = useState(false);
  const show = () => {
    desk.show({ sheet: undefined });
    desk.chooseAll([m.photo!]);
    document.querySelector(`[data-region] [data-photo="${m.photo}"]`)?.scrollIntoView({ block: "center" });
  };
  const where = m.kind === "colours" || m.kind === "ink";
  return (
    <li data-misfit={m.kind} data-page={m.page}>
      <div class="of">{m.photo ? <Print desk={desk} photo={m.photo} /> : null}</div>
      <div>
        <p><strong class={grave.has(m.kind) ? "grave" : ""}>{m.words}</strong></p>
        {m.hint && <p class="quiet">{m.hint}</p>}
        {seen && where && (
          <figure class="beyond">
            <img src={program.beyondAddress(desk.title.id, m.photo!, inks)} alt={`Where the printer's inks do not reach the colours of photo ${m.photo}: those places keep their colour, the rest is pale.`} />
            <Print desk={desk} photo={m.photo!} size={400} />
          </figure>
        )}
        {m.photo || m.page ? (
          <p class="line-acts">
            {where && <Word act="see-where" aria-expanded={seen} onClick={() => setSeen(!seen)}>{seen ? "Put it away" : "See where"}</Word>}
            {m.page ? <Word act="show-on-page" onClick={() => desk.toPage(m.page!)}>Show its page</Word> : null}
            {m.photo ? <Word act="show-on-wall" onClick={show}>Show it on the wall</Word> : null}
          </p>
        ) : null}
      </div>
    </li>
  );
}

/** The printer's colour profile, and how much ink the printer allows. */
function Inks({ desk, changed }: { desk: Desk; changed(): void }) {
  const [round, next] = useReducer((n: number) => n + 1, 0);
  const { found, trouble, setTrouble } = useAsked(() => program.inks(desk.title.id), [desk, round]);
  const file = useRef<HTMLInputElement>(null);
  const act = async (does: () => Promise<unknown>, said: string): Promise<boolean> => {
    try {
      await does();
      setTrouble(undefined);
      desk.say(said);
      next(undefined);
      changed();
      return true;
    } catch (err) {
      setTrouble(program.troubleOf(err));
      return false;
    }
  };
  const profile = found?.profile;
  return (
    <section class="inks" aria-labelledby="inks">
      <h3 id="inks">The printer's inks</h3>
      {trouble && <Trouble of={trouble} />}
      <input ref={file} type="file" hidden accept=".icc,.icm" aria-label="The printer's profile"
        onChange={(e) => { const taken = e.currentTarget.files?.[0]; e.currentTarget.value = ""; if (taken) void act(() => program.takeInks(desk.title.id, taken), "The printer's profile is kept."); }} />
      {profile ? (
        <div class="line-acts">
          <span>Judged by <strong data-inks="">{profile.name}</strong>, from {profile.origin}.</span>
          <WholeField label="Ink at most, %" name="ink-limit" value={profile.inkLimit} least={100} keep={(limit) => act(() => program.limitInks(desk.title.id, limit ?? profile.inkLimit), "The limit is kept.")} />
          <Word act="other-inks" onClick={() => file.current!.click()}>Another profile</Word>
          <Word act="drop-inks" onClick={() => void act(() => program.dropInks(desk.title.id), "The profile is taken away.")}>Take it away</Word>
        </div>
      ) : (
        <>
          <p>No printer's profile is known, so colours are judged by no inks. The printer can tell which ICC profile fits the press and the paper, and how much ink it may take.</p>
          <p><Word act="take-inks" onClick={() => file.current!.click()}>Bring in the printer's profile</Word></p>
        </>
      )}
    </section>
  );
}
