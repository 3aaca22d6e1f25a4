import { useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { plural } from "../model/words";
import * as program from "../net/program";
import { SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";
import { SmallWall } from "./small-wall";
import { useVersions } from "./versions";

const keeps: readonly (readonly [name: string, words: string])[] = [
  ["day", "The last of each day stays"], ["week", "The last of each week stays"], ["none", "None of them stays"],
];

/** Thinning out the versions kept by themselves: first what would go, then, only when asked, its going. */
export function Thin({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { list } = useVersions(desk);
  const [keep, setKeep] = useState("week");
  const [older, setOlder] = useState(14);
  const { found, trouble, setTrouble } = useAsked(() => program.thinning(desk.title.id, keep, older), [desk, keep, older, desk.versionsMark]);
  const spare = list?.versions.filter((v) => found?.spare.includes(v.id)) ?? [];
  const does = async (work: Promise<unknown>, words: string) => {
    try {
      await work;
      desk.changedVersions();
      desk.say(words);
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  const goes = () => void does(program.thinOut(desk.title.id, spare.map((v) => v.id)), `${plural(spare.length, "version")} let go.`);
  const back = () => void does(program.putBack(desk.title.id), "They are versions again.");
  return (
    <SheetFrame name="thin" title="Thin out old versions" wide close={() => desk.show({ sheet: undefined })}>
      <p class="quiet">Only versions that were kept by themselves can go. What has a name, a reason or a slip stays, and so do the last one of every line of work and those a line was begun with. What goes leaves this list only: every state stays in the journal and can be put back.</p>
      <Rule keep={keep} setKeep={setKeep} older={older} setOlder={setOlder} />
      {trouble && <Trouble of={trouble} />}
      {found && <p data-spare="">{spare.length === 0 ? "Nothing would go." : `${plural(spare.length, "version")} of ${list?.versions.length} would go:`}</p>}
      <ul class="spare">
        {spare.map((v) => <li key={v.id}><SmallWall desk={desk} pages={v.pages} width={220} high={64} label={`Its wall: ${plural(v.spreads, "spread")}`} /><p class="quiet">{momentWords(v.at, new Date())}</p></li>)}
      </ul>
      <footer class="sheet-foot">
        <Word act="thin-out" strong={spare.length > 0} disabled={spare.length === 0} onClick={goes}>{spare.length > 0 ? `Let ${plural(spare.length, "version")} go` : "Let them go"}</Word>
        {found && found.away > 0 && <Word act="put-back" onClick={back}>Put {plural(found.away, "state")} back from the journal</Word>}
        <Word act="leave" onClick={() => desk.show({ sheet: undefined })}>Leave it</Word>
      </footer>
    </SheetFrame>
  );
}

function Rule({ keep, setKeep, older, setOlder }: { keep: string; setKeep(to: string): void; older: number; setOlder(to: number): void }) {
  return (
    <div class="ask">
      <fieldset class="choice">
        <legend>What stays of them?</legend>
        {keeps.map(([name, words]) => <label key={name}><input type="radio" name="keep" value={name} checked={keep === name} onChange={() => setKeep(name)} /> {words}</label>)}
      </fieldset>
      <label class="which"><span>Only those left at least so many days ago</span>
        <input type="number" data-thin="older" min="0" max="36500" value={older} onInput={(e) => setOlder(Math.max(0, Math.round(Number(e.currentTarget.value) || 0)))} /></label>
    </div>
  );
}
