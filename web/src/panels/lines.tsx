import { useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import * as program from "../net/program";
import { Trouble, useAsked, useDesk, Word } from "./parts";
import { NameForm } from "./titles";
import { moveOn } from "./versions";

interface LinesProps {
  desk: Desk;
  lines: readonly api.Line[];
  of: number | undefined; // the one whose versions are shown; undefined for all
  setOf(of: number | undefined): void;
}

/** The lines of work of a title, while there are several: which the wall is on, and the way over to another. */
export function Lines({ desk, lines, of, setOf }: LinesProps) {
  return (
    <section class="lines" aria-labelledby="lines-title">
      <h3 id="lines-title">Lines of work</h3>
      <ul>{lines.map((line) => <LineOf key={line.id} desk={desk} line={line} />)}</ul>
      <label class="line-of"><span>Show versions of</span>
        <select data-lines="" value={of === undefined ? "all" : String(of)} onChange={(e) => setOf(e.currentTarget.value === "all" ? undefined : Number(e.currentTarget.value))}>
          {lines.map((line) => <option key={line.id} value={String(line.id)}>{line.name}</option>)}
          <option value="all">all lines</option>
        </select>
      </label>
    </section>
  );
}

function LineOf({ desk, line }: { desk: Desk; line: api.Line }) {
  const [naming, setNaming] = useState(false);
  const here = desk.session.sequence.line === line.id;
  if (naming) {
    const save = async (name: string) => {
      await program.nameLine(desk.title.id, line.id, name);
      desk.changedVersions();
    };
    return <li><NameForm label={`New name of ${line.name}`} value={line.name} submit="Rename" save={save} done={() => setNaming(false)} /></li>;
  }
  return (
    <li data-line={line.id} aria-current={here ? "true" : undefined}>
      <span>{here ? <strong>{line.name}</strong> : line.name}{here && <span class="quiet"> the wall is on it</span>}</span>
      <span class="line-acts">
        {!here && <Word act="go-over" aria-label={`Go over to ${line.name}`} onClick={() => void moveOn(desk, (revision) => program.goOver(desk.title.id, line.id, revision))}>Go over</Word>}
        <Word act="rename-line" aria-label={`Rename ${line.name}`} onClick={() => setNaming(true)}>Rename</Word>
      </span>
    </li>
  );
}

/** Says which line of work the wall is on, when it is not the first one. */
export function LineMark({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { line } = desk.session.sequence;
  const { found } = useAsked(line === 0 ? undefined : () => program.versions(desk.title.id), [desk, line, desk.versionsMark]);
  const name = found?.lines.find((l) => l.id === line)?.name;
  if (line === 0 || !name) return null;
  return <Word act="line-of-work" title="The line of work that the wall is on" onClick={() => desk.show({ side: "versions" })}>Line of work: {name}</Word>;
}

/** Begins a line of work from a version: what it is called, and what the present one is called beside it. */
export function BeginLine({ desk, lines, from, done }: { desk: Desk; lines: readonly api.Line[]; from: number; done(): void }) {
  const was = lines.find((l) => l.id === desk.session.sequence.line)?.name ?? "";
  const [name, setName] = useState("");
  const [present, setPresent] = useState(was);
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const send = async (e: Event) => {
    e.preventDefault();
    try {
      await program.beginLine(desk.title.id, { revision: desk.session.sequence.revision, from, name: name.trim(), ...(present.trim() !== was ? { present: present.trim() } : {}) })
        .then((changed) => moveOn(desk, () => Promise.resolve(changed)));
      desk.show({ sheet: undefined });
      done();
    } catch (err) {
      setTrouble(program.troubleOf(err));
    }
  };
  return (
    <form class="say-form" onSubmit={send} aria-label="Go on from it">
      <p class="quiet">The wall goes on from here as a line of work of its own. The present wall stays beside it, as you leave it, and you can go over from one to the other at any time.</p>
      <label><span>Name of the new line</span><input type="text" data-begin="name" value={name} maxLength={200} required autoComplete="off" onInput={(e) => setName(e.currentTarget.value)} /></label>
      <label><span>Name of the present one</span><input type="text" data-begin="present" value={present} maxLength={200} required autoComplete="off" onInput={(e) => setPresent(e.currentTarget.value)} /></label>
      {trouble && <Trouble of={trouble} />}
      <div class="line-acts"><button type="submit" class="word strong" data-act="begin-line">Go on</button> <Word act="leave" onClick={done}>Leave it</Word></div>
    </form>
  );
}
