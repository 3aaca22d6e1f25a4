import { useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { daysBetween, laterWords, lookedWords, versionBefore, versionName } from "../model/weeks";
import { plural, sentence } from "../model/words";
import * as program from "../net/program";
import { BeginLine } from "./lines";
import { Trouble, Word } from "./parts";
import { SmallWall } from "./small-wall";
import { bringBack, look } from "./versions";

/** Versions one below the other, or side by side where there is room: each a small picture of its wall with what changed. */
export function Plates({ desk, list, versions }: { desk: Desk; list: api.VersionList; versions: readonly api.VersionSummary[] }) {
  return <ol class="version-list">{versions.map((v) => <Plate key={v.id} desk={desk} list={list} version={v} />)}</ol>;
}

interface PlateProps {
  desk: Desk;
  list: api.VersionList;
  version: api.VersionSummary;
}

function Plate({ desk, list, version }: PlateProps) {
  const [doing, setDoing] = useState<"say" | "go-on">();
  const looked = desk.earlier?.version.id === version.id;
  const when = momentWords(version.at, new Date());
  const line = list.lines.length > 1 ? list.lines.find((l) => l.id === version.line)?.name : undefined;
  const before = versionBefore(list.versions, version);
  const later = before && laterWords(daysBetween(new Date(before.at), new Date(version.at)));
  const beside = [line, later, lookedWords(version, new Date())].filter(Boolean).join("; ");
  return (
    <li data-version={version.id} data-slip={version.slip ? "" : undefined} aria-current={looked ? "true" : undefined}>
      <SmallWall desk={desk} pages={version.pages} label={`Its wall: ${plural(version.spreads, "spread")}, ${plural(version.photos, "photo")}`} />
      <p class="version-name">{version.named ? <strong>{version.name}</strong> : versionName(version)}<span class="quiet"> {when}</span></p>
      <p>{sentence(version.words)} <span class="quiet">{plural(version.spreads, "spread")}, {plural(version.photos, "photo")} on the wall.</span></p>
      {version.why && <p class="why">{version.why}</p>}
      {beside && <p class="quiet">{sentence(beside)}</p>}
      {doing === "say" && <SayForm desk={desk} version={version} when={when} done={() => setDoing(undefined)} />}
      {doing === "go-on" && <BeginLine desk={desk} lines={list.lines} from={version.id} done={() => setDoing(undefined)} />}
      {!doing && <Acts desk={desk} version={version} when={when} looked={looked} open={setDoing} />}
    </li>
  );
}

interface ActsProps {
  desk: Desk;
  version: api.VersionSummary;
  when: string;
  looked: boolean;
  open(what: "say" | "go-on"): void;
}

function Acts({ desk, version, when, looked, open }: ActsProps) {
  const of = `: the version of ${when}`;
  const compare = () => desk.show({ sheet: "compare", compared: { earlier: version.id, later: "present" } });
  const slip = () => void amend(desk, version.id, { slip: !version.slip }).catch((err) => desk.notify(program.troubleOf(err)));
  return (
    <>
      <div class="line-acts">
        {looked
          ? <Word act="return-to-present" onClick={() => desk.lookAtVersion(undefined)}>Return to the present</Word>
          : <Word act="look-at-version" aria-label={`Look at it${of}`} onClick={() => void look(desk, version.id)}>Look at it</Word>}
        <Word act="compare-version" aria-label={`Compare${of}`} onClick={compare}>Compare</Word>
        <Word act="bring-back" aria-label={`Bring it back${of}`} onClick={() => void bringBack(desk, version.id)}>Bring it back</Word>
        <Word act="go-on-from" aria-label={`Go on from it${of}`} onClick={() => open("go-on")}>Go on from it</Word>
        <Word act="name-version" aria-label={`Name it, say why${of}`} onClick={() => open("say")}>Name it, say why</Word>
      </div>
      <label class="slip"><input type="checkbox" data-slip-of={version.id} checked={version.slip} onChange={slip} aria-label={`Worth coming back to${of}`} /> Worth coming back to</label>
    </>
  );
}

async function amend(desk: Desk, id: number, say: api.VersionAmendment): Promise<void> {
  await program.amendVersion(desk.title.id, id, say);
  desk.changedVersions();
  if (say.slip !== undefined) desk.say(say.slip ? "A slip lies in it: worth coming back to." : "The slip is out.");
}

/** What the maker says of a version: its name, and why it is worth keeping. */
function SayForm({ desk, version, when, done }: { desk: Desk; version: api.VersionSummary; when: string; done(): void }) {
  const [name, setName] = useState(version.name);
  const [why, setWhy] = useState(version.why);
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const send = async (e: Event) => {
    e.preventDefault();
    try {
      await amend(desk, version.id, { why, ...(name.trim() !== version.name ? { name: name.trim() } : {}) });
      desk.say("Written down.");
      done();
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  return (
    <form class="say-form" onSubmit={send} aria-label={`The version of ${when}`}>
      <label><span>Its name</span><input type="text" value={name} maxLength={200} autoComplete="off" onInput={(e) => setName(e.currentTarget.value)} /></label>
      <label><span>Why it is kept</span><textarea rows={3} maxLength={2000} value={why} onInput={(e) => setWhy(e.currentTarget.value)} /></label>
      {trouble && <Trouble of={trouble} />}
      <div class="line-acts"><button type="submit" class="word strong" data-act="save-said">Write it down</button> <Word act="leave" onClick={done}>Leave it</Word></div>
    </form>
  );
}
