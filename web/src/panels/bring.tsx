import { useRef } from "preact/hooks";
import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { plural, sentence } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { sendFiles } from "./drop";
import { Folders } from "./folders";
import { SheetFrame, useDesk, Word } from "./parts";

/** Bringing photographs in: from a folder, or dropped; what is under way, and what could not be read. */
export function Bring({ desk }: { desk: Desk }) {
  useDesk(desk);
  const files = useRef<HTMLInputElement>(null);
  const running = desk.brings.filter((b) => b.state === "running");
  const stopped = desk.brings.filter((b) => b.state !== "running" && b.state !== "done");
  const last = running.length === 0 && stopped.length === 0 ? desk.brings[0] : undefined;
  const from = (path: string) => tried(desk, () => program.bringFrom(desk.title.id, [path]));
  return (
    <SheetFrame name="bring" title="Bring photographs in" close={() => desk.show({ sheet: undefined })}>
      {(running.length > 0 || desk.sending) && <Under desk={desk} running={running} />}
      {stopped.length > 0 && running.length === 0 && <Stopped desk={desk} stopped={stopped} />}
      {last?.words && <p data-bring={last.id}>Last time: {sentence(last.words)} <span class="quiet">{momentWords(last.started, new Date())}</span></p>}
      <section aria-labelledby="from-folder">
        <h3 id="from-folder">From a folder of this machine</h3>
        <Folders choose={from} />
      </section>
      <section aria-labelledby="from-files">
        <h3 id="from-files">Or drop files anywhere on this page</h3>
        <p>
          <Word act="choose-files" onClick={() => files.current!.click()}>Choose files</Word>
          <input ref={files} type="file" multiple hidden accept="image/jpeg,image/png,image/tiff,.jpg,.jpeg,.png,.tif,.tiff"
            onChange={(e) => { void sendFiles(desk, [...(e.currentTarget.files ?? [])]); e.currentTarget.value = ""; }} />
          <span class="quiet"> A browser does not tell where files lie, so the program keeps a copy of these.</span>
        </p>
      </section>
      {desk.refusals.length > 0 && <Refused refusals={desk.refusals} />}
      <p class="care">Whoever can be recognised in a photograph should know and agree before it is printed. Where a photograph was taken is read from its file and kept in the data file on this machine; it goes nowhere else.</p>
    </SheetFrame>
  );
}

/** How a bring stands is heard of as news only: an answer may come after news that are newer. */
async function tried(desk: Desk, call: () => Promise<api.Bring>): Promise<void> {
  try {
    await call();
  } catch (err) {
    desk.notify(program.troubleOf(err));
  }
}

/** What is being brought in now. */
function Under({ desk, running }: { desk: Desk; running: api.Bring[] }) {
  return (
    <section aria-labelledby="under-way">
      <h3 id="under-way">Under way</h3>
      {desk.sending && (
        <div class="under">
          <p>Taking over {plural(desk.sending.files, "file")}</p>
          <progress max={1} value={desk.sending.part} aria-label="Files taken over" />
          <Word act="cancel-bring" onClick={() => desk.sending?.stop()}>Stop</Word>
        </div>
      )}
      {running.map((b) => {
        const done = b.read + b.known + b.refused;
        return (
          <div class="under" key={b.id} data-bring={b.id}>
            <p>{b.found === 0 ? "Looking for photographs" : `${done} of ${b.found}`}<span class="quiet"> {desk.bringing}</span></p>
            <progress {...(b.found > 0 ? { max: b.found, value: done } : {})} aria-label="Photographs looked at" />
            <Word act="cancel-bring" onClick={() => void tried(desk, () => program.stopBring(desk.title.id, b.id))}>Stop</Word>
          </div>
        );
      })}
    </section>
  );
}

/** What was stopped or broken off, and can go on. */
function Stopped({ desk, stopped }: { desk: Desk; stopped: api.Bring[] }) {
  return (
    <section aria-labelledby="stopped">
      <h3 id="stopped">Not finished</h3>
      <ul class="stopped">
        {stopped.map((b) => (
          <li key={b.id} data-bring={b.id}>
            <p>{b.words ? sentence(b.words) : `Stopped after ${b.read + b.known + b.refused} of ${b.found}.`}
              <span class="quiet"> {b.sources.join(", ")}, begun {momentWords(b.started, new Date())}</span></p>
            <Word act="go-on" onClick={() => void tried(desk, () => program.goOnBringing(desk.title.id, b.id))}>Go on</Word>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Files that could not be brought in, each with why and a way out. */
function Refused({ refusals }: { refusals: readonly api.Refusal[] }) {
  return (
    <section aria-labelledby="refused">
      <h3 id="refused">{plural(refusals.length, "file")} could not be brought in</h3>
      <ul class="refused">
        {refusals.map((r) => (
          <li key={r.path} data-refused={r.path}>
            <p><strong>{r.path.split(/[/\\]/).at(-1)}</strong> {r.words} {r.hint}</p>
            <p class="quiet path">{r.path}</p>
          </li>
        ))}
      </ul>
    </section>
  );
}
