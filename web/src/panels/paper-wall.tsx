import { useEffect, useRef } from "preact/hooks";
import { readChange } from "../model/change";
import type { Desk } from "../model/desk";
import { readHanging } from "../model/hanging";
import { noPaper, rewritten, type Paper } from "../model/paper";
import { readWall } from "../model/session";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Corrections } from "./paper-corrections";
import { Shots } from "./paper-shots";
import { Typed } from "./paper-typed";
import { SheetFrame, Trouble, useDesk, Word } from "./parts";
import { useRead, useReading, type Reader } from "./paper-reader";
import { NameForm } from "./titles";

/** The wall of paper read back: typed as one reads it off, or from photographs of it; corrected, then hung or kept. */
export function PaperWall({ desk }: { desk: Desk }) {
  useDesk(desk);
  const paper = desk.paper;
  const read = useRead(desk, paper);
  const reader = useReading(desk);
  useEffect(() => {
    desk.takesFiles = (files) => void reader.take(files);
    return () => { desk.takesFiles = undefined; };
  });
  const close = () => desk.show({ sheet: undefined });
  return (
    <SheetFrame name="paper-wall" title="Read the paper wall" wide close={close}>
      <p class="quiet">Choose photographs of the wall, or type it as you read it off. What was read is shown for you to correct; nothing changes until you hang it or keep it.</p>
      <Take desk={desk} paper={paper} reader={reader} />
      {(reader.trouble ?? read.trouble) && <Trouble of={(reader.trouble ?? read.trouble)!} />}
      <div class="paper-room" data-shots={paper.reading ? "" : undefined}>
        {paper.reading && <Shots desk={desk} paper={paper} reading={paper.reading} hanging={read.hanging} />}
        <div class="paper-words">
          <Typed desk={desk} paper={paper} read={read.now ?? read.last} />
          <Corrections desk={desk} paper={paper} hanging={read.hanging} slips={((read.now ?? read.last)?.slips.length ?? 0) > 0 && paper.hung?.text !== paper.text} />
        </div>
      </div>
      <Foot desk={desk} paper={paper} read={read.now} reader={reader} />
    </SheetFrame>
  );
}

interface TakeProps {
  desk: Desk;
  paper: Paper;
  reader: Reader;
}

/** Choosing photographs, how far reading them is, and putting them away. */
function Take({ desk, paper, reader }: TakeProps) {
  const files = useRef<HTMLInputElement>(null);
  const { reading } = paper;
  const running = reading?.state === "running";
  if (reader.sending || running) {
    const done = running ? Math.max(reading.done, desk.reading?.id === reading.id ? desk.reading.done : 0) : undefined;
    return (
      <div class="under" role="status" data-reading="running">
        <p>{reader.sending ? "Handing the photographs over." : "Looking for codes, undoing perspective, putting prints in rows."}</p>
        <progress aria-label="How far reading is" max={1} {...(done === undefined ? {} : { value: done })} />
        <Word act="stop-reading" onClick={reader.stop}>Stop</Word>
      </div>
    );
  }
  return (
    <div class="paper-take" data-reading={reading?.state ?? "none"}>
      <Word act="choose-shots" strong={!reading && paper.text === ""} onClick={() => files.current!.click()}>{reading ? "Choose other photographs of the wall" : "Choose photographs of the wall"}</Word>
      <input ref={files} type="file" multiple hidden accept="image/*,.heic,.heif,.tif,.tiff" data-shots="" onChange={(e) => { void reader.take([...(e.currentTarget.files ?? [])]); e.currentTarget.value = ""; }} />
      <label>Longer side of the small prints, millimetres
        <input name="long" type="number" min={30} max={250} value={paper.long} onInput={(e) => desk.setPaper({ ...paper, long: e.currentTarget.valueAsNumber })} />
      </label>
      {reading && <Word act="put-away" onClick={reader.putAway}>Put the photographs away</Word>}
      <Word act="from-wall" onClick={() => desk.setPaper(rewritten({ ...paper, chosen: undefined }, readHanging(desk.session.sequence)))}>Begin with the wall on the screen</Word>
      {!reading && <p class="quiet">Any number, from the left to the right and from the top; let them overlap by a spread. A code must be at least 60 pixels wide, about a hand's width of wall for each 600 pixels. They are read here, kept only while you correct, and never become photos of the title.</p>}
    </div>
  );
}

interface FootProps extends TakeProps {
  read: api.HangingRead | undefined;
}

function Foot({ desk, paper, read, reader }: FootProps) {
  const ready = read?.change !== undefined && read.sequence !== undefined && paper.text.trim() !== "" && !desk.readOnly;
  const same = ready && read.change!.steps.length === 0;
  const put = () => {
    reader.putAway();
    desk.setPaper({ ...noPaper, long: paper.long });
    desk.show({ sheet: undefined });
  };
  const hang = () => {
    if (read?.change && desk.act({ want: "take", change: readChange(read.change) })) put();
  };
  const keep = async (name: string) => {
    if (!read?.sequence) throw new program.Trouble("invalid", "What is typed cannot be read yet.", "Mend what is underlined, then keep it.");
    const kept = await program.keepAside(desk.title.id, { revision: desk.session.sequence.revision, line: "Paper wall", name, sequence: read.sequence });
    desk.session.replace(readWall(kept.changed.wall));
    desk.changedVersions();
    desk.say(`Kept as ${name}; the wall on the screen stays as it is.`);
    put();
  };
  return (
    <footer class="sheet-foot paper-foot">
      <Word act="hang-so" strong disabled={!ready || same} onClick={hang}>Hang it so</Word>
      {paper.text.trim() !== "" && !desk.readOnly && <NameForm label="Or keep it as a version under a name" submit="Keep as a version" save={keep} />}
      <p class="quiet">{desk.readOnly ? "You are looking at an earlier version; return to the present to hang this." : same ? "The wall on the screen hangs so already." : "Hanging is one act: one undo takes it back."}</p>
    </footer>
  );
}
