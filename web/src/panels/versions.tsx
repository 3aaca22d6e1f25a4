import { useEffect, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { readWall } from "../model/session";
import { sentence } from "../model/words";
import * as program from "../net/program";
import { Lines } from "./lines";
import { Trouble, useAsked, useDesk, Word } from "./parts";
import { NameForm } from "./titles";
import { Plates } from "./plates";

/** Every kept state of the wall, newest first, with what it changed. */
export function Versions({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { list, trouble } = useVersions(desk);
  const [of, setOf] = useState<number | undefined>(desk.session.sequence.line);
  useEffect(() => setOf(desk.session.sequence.line), [desk.session.sequence.line]);
  const [kept, setKept] = useState(0); // the field is empty again after each, and after nothing else
  const keep = async (name: string) => {
    await program.keepVersion(desk.title.id, name);
    setKept(kept + 1);
    desk.changedVersions();
    desk.say(`Kept as ${name}.`);
  };
  const shown = list?.versions.filter((v) => of === undefined || v.line === of);
  return (
    <aside class="side versions" data-panel="versions" aria-labelledby="versions-title">
      <header class="side-head"><h2 id="versions-title">Versions</h2><Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word></header>
      <p class="quiet">When you leave the wall alone for half an hour, its state is kept by itself. Nothing kept is ever lost.</p>
      <NameForm key={kept} label="Keep this wall under a name" submit="Keep" save={keep} />
      {trouble && <Trouble of={trouble} />}
      {list && list.lines.length > 1 && <Lines desk={desk} lines={list.lines} of={of} setOf={setOf} />}
      {shown?.length === 0 && <p class="empty">No version yet{of !== undefined && list!.versions.length > 0 ? " on this line of work" : ""}. The first is kept at the end of this sitting, or now if you name it.</p>}
      {shown && <Plates desk={desk} list={list!} versions={shown} />}
      {list && list.versions.length > 2 && <p class="line-acts"><Word act="weeks" onClick={() => desk.show({ sheet: "weeks" })}>See all the weeks</Word> <Word act="thin" onClick={() => desk.show({ sheet: "thin" })}>Thin out old ones</Word></p>}
    </aside>
  );
}

/** The versions and lines of work as they are, fetched anew whenever they are others. */
export function useVersions(desk: Desk) {
  const { found: list, trouble } = useAsked(() => program.versions(desk.title.id), [desk, desk.versionsMark]);
  return { list, trouble };
}

/** Shows a version in place of the wall, and notes that it was looked at. */
export async function look(desk: Desk, id: number): Promise<void> {
  try {
    const version = await program.version(desk.title.id, id);
    desk.show({ sheet: undefined });
    desk.lookAtVersion(version);
    desk.say(`You are looking at the wall as it was ${momentWords(version.at, new Date())}.`);
    await program.amendVersion(desk.title.id, id, { looked: true });
  } catch (err) {
    desk.notify(program.troubleOf(err));
  }
}

/** Makes a version the present wall. The wall as it is now is kept first, and undo takes it back. */
export function bringBack(desk: Desk, id: number): Promise<void> {
  return moveOn(desk, (revision) => program.bringBack(desk.title.id, id, revision));
}

/** Has the program change the wall as a whole, and shows it. */
export async function moveOn(desk: Desk, change: (revision: number) => Promise<api.Changed>): Promise<void> {
  try {
    const { entry, wall } = await change(desk.session.sequence.revision);
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
