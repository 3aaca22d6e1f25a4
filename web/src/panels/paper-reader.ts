import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { bare, readHanging, type Hanging } from "../model/hanging";
import { marksOf, rewritten, type Paper } from "../model/paper";
import { plural } from "../model/words";
import type * as api from "../net/api";
import * as program from "../net/program";
import { useQuietly } from "./parts";

export interface Reader {
  readonly sending: boolean;
  readonly trouble: program.Trouble | undefined;
  take(files: readonly File[]): Promise<void>;
  stop(): void;
  putAway(): void;
}

/** Hands photographs of the wall to the program and fetches what it read. */
export function useReading(desk: Desk): Reader {
  const [sending, setSending] = useState<AbortController>();
  const [trouble, setTrouble] = useState<program.Trouble>();
  const reading = desk.paper.reading;
  const state = desk.reading?.id === reading?.id ? desk.reading?.state : undefined;
  useEffect(() => {
    if (!reading || reading.state !== "running") return;
    let gone = false;
    const look = () => program.wallReading(desk.title.id, reading.id).then(
      (now) => { if (!gone && now.state !== "running") arrived(desk, now); },
      (err) => { if (!gone) setTrouble(program.troubleOf(err)); });
    void look();
    return () => { gone = true; };
  }, [reading?.id, reading?.state, state]);
  const putAway = () => {
    if (reading) void program.dropReading(desk.title.id, reading.id).catch(() => undefined); // it may be gone by itself
    const { reading: _, ...rest } = desk.paper;
    desk.setPaper({ ...rest, marks: [], chosen: undefined });
  };
  const take = async (files: readonly File[]) => {
    if (files.length === 0) return;
    putAway();
    const stop = new AbortController();
    setSending(stop);
    setTrouble(undefined);
    try {
      const begun = await program.readWall(desk.title.id, files, desk.paper.long, stop.signal);
      desk.setPaper({ ...desk.paper, reading: begun, marks: [], chosen: undefined });
    } catch (err) {
      if (!stop.signal.aborted) setTrouble(program.troubleOf(err));
    }
    setSending(undefined);
  };
  return { sending: sending !== undefined, trouble, take, putAway, stop: () => { sending?.abort(); putAway(); } };
}

/** Takes over what was read. What the maker had typed is not thrown away for nothing read. */
function arrived(desk: Desk, reading: api.WallReading): void {
  const marks = marksOf(reading);
  const read = marks.filter((m) => m.read).length;
  const paper = { ...desk.paper, reading, marks, chosen: undefined };
  desk.setPaper(read > 0 ? rewritten(paper, readHanging(reading.hanging)) : paper);
  if (reading.state === "done") desk.say(`${plural(read, "code")} read in ${plural(reading.shots.length, "photograph")}.`);
}

interface Read {
  readonly now: api.HangingRead | undefined; // of this text against this wall
  readonly last: api.HangingRead | undefined; // of any: what is shown until there is an answer, so that nothing jumps
  readonly hanging: Hanging; // the last that could be read
  readonly trouble: program.Trouble | undefined;
}

/** The text as the program reads it. */
export function useRead(desk: Desk, { text, hung }: Paper): Read {
  const wall = desk.session.sequence;
  const [got, setGot] = useState<{ read: api.HangingRead; text: string; wall: typeof wall }>();
  const [hanging, setHanging] = useState<Hanging>(bare);
  const [trouble, setTrouble] = useState<program.Trouble>();
  const last = useRef<AbortController | undefined>(undefined);
  useQuietly(() => {
    last.current?.abort();
    const mine = (last.current = new AbortController());
    program.readHanging(desk.title.id, text, mine.signal).then(
      (read) => {
        setGot({ read, text, wall });
        setTrouble(undefined);
        if (read.slips.length === 0) setHanging(readHanging(read.hanging));
      },
      (err: unknown) => { if (!mine.signal.aborted) setTrouble(program.troubleOf(err)); });
  }, 150, [text, wall, desk.photos]);
  useEffect(() => () => last.current?.abort(), []);
  const now = got?.text === text && got.wall === wall ? got.read : undefined; // what was read of another text or against another wall must not be hung
  return { now, last: got?.read, hanging: hung?.text === text ? hung.hanging : hanging, trouble };
}
