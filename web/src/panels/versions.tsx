import { useEffect, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { readWall } from "../model/session";
import { plural, sentence } from "../model/words";
import * as program from "../net/program";
import { Trouble, useDesk, Word } from "./parts";
import { NameForm } from "./titles";

/** Every kept state of the wall, newest first, with what it changed. */
export function Versions({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [list, setList] = useState<api.VersionSummary[]>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  useEffect(() => {
    let gone = false;
    program.versions(desk.title.id).then(
      (v) => { if (!gone) { setList(v.versions); setTrouble(undefined); } },
      (err) => { if (!gone) setTrouble(program.troubleOf(err)); });
    return () => { gone = true; };
  }, [desk, desk.versionsMark]);
  const keep = async (name: string) => {
    await program.keepVersion(desk.title.id, name);
    desk.changedVersions();
    desk.say(`Kept as ${name}.`);
  };
  return (
    <aside class="side versions" data-panel="versions" aria-labelledby="versions-title">
      <header class="side-head"><h2 id="versions-title">Versions</h2><Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word></header>
      <p class="quiet">When you leave the wall alone for half an hour, its state is kept by itself. Nothing kept is ever lost.</p>
      <NameForm key={desk.versionsMark} label="Keep this wall under a name" submit="Keep" save={keep} />
      {trouble && <Trouble of={trouble} />}
      {list?.length === 0 && <p class="empty">No version yet. The first is kept at the end of this sitting, or now if you name it.</p>}
      <ol class="version-list">{list?.map((v) => <Line key={v.id} desk={desk} version={v} />)}</ol>
    </aside>
  );
}

function Line({ desk, version }: { desk: Desk; version: api.VersionSummary }) {
  const [naming, setNaming] = useState(false);
  const looked = desk.earlier?.version.id === version.id;
  const name = version.named ? version.name : "End of a sitting";
  const when = momentWords(version.at, new Date());
  const rename = async (to: string) => {
    await program.nameVersion(desk.title.id, version.id, to);
    desk.changedVersions();
  };
  return (
    <li data-version={version.id} aria-current={looked ? "true" : undefined}>
      <p class="version-name">{version.named ? <strong>{name}</strong> : name}<span class="quiet"> {when}</span></p>
      <p>{sentence(version.words)} <span class="quiet">{plural(version.spreads, "spread")}, {plural(version.photos, "photo")} on the wall.</span></p>
      {naming
        ? <NameForm label={`Name of the version of ${when}`} value={version.name} submit="Name it" save={rename} done={() => setNaming(false)} />
        : (
          <div class="line-acts">
            {looked
              ? <Word act="return-to-present" onClick={() => desk.lookAtVersion(undefined)}>Return to the present</Word>
              : <Word act="look-at-version" aria-label={`Look at it: the version of ${when}`} onClick={() => void look(desk, version.id)}>Look at it</Word>}
            <Word act="bring-back" aria-label={`Bring it back: the version of ${when}`} onClick={() => void bringBack(desk, version.id)}>Bring it back</Word>
            <Word act="name-version" aria-label={`${version.named ? "Rename" : "Name it"}: the version of ${when}`} onClick={() => setNaming(true)}>{version.named ? "Rename" : "Name it"}</Word>
          </div>
        )}
    </li>
  );
}

async function look(desk: Desk, id: number): Promise<void> {
  try {
    const version = await program.version(desk.title.id, id);
    desk.lookAtVersion(version);
    desk.say(`You are looking at the wall as it was ${momentWords(version.at, new Date())}.`);
  } catch (err) {
    desk.notify(program.troubleOf(err));
  }
}

/** Makes a version the present wall. The wall as it is now is kept first, and undo takes it back. */
export async function bringBack(desk: Desk, id: number): Promise<void> {
  try {
    const { entry, wall } = await program.bringBack(desk.title.id, id, desk.session.sequence.revision);
    desk.lookAtVersion(undefined);
    desk.session.replace(readWall(wall));
    desk.changedVersions();
    desk.say(`Done: ${sentence(entry.change.act)}`);
  } catch (err) {
    const trouble = program.troubleOf(err);
    if (trouble.wall) desk.session.replace(readWall(trouble.wall));
    desk.notify(trouble);
  }
}
