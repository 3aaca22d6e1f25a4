import { useEffect, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { troubleOf, type Made } from "../net/program";
import { Word } from "./parts";

interface MakeProps {
  desk: Desk;
  act: string;
  ready?: boolean;
  strong?: boolean;
  make(stop: AbortSignal): Promise<Made>;
  children: string;
}

/** A button that has the program make a file and hands it to the browser; it can be stopped meanwhile. */
export function Make({ desk, act, ready = true, strong = false, make, children }: MakeProps) {
  const [making, setMaking] = useState<AbortController>();
  useEffect(() => () => making?.abort(), [making]);
  const run = async () => {
    const stop = new AbortController();
    setMaking(stop);
    try {
      save(await make(stop.signal));
    } catch (err) {
      if (!stop.signal.aborted) desk.notify(troubleOf(err));
    }
    setMaking(undefined);
  };
  if (making) return <Word act={`stop-${act}`} onClick={() => making.abort()}>Stop making it</Word>;
  return <Word act={act} strong={strong} disabled={!ready} onClick={() => void run()}>{children}</Word>;
}

/** Hands a file to the browser under its own name. */
function save({ file, name }: Made): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // once the browser has surely taken it
}
