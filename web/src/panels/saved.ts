import { useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { troubleOf } from "../net/program";
import { useAsked } from "./parts";

/**
 * What the program keeps under a revision, as it is now. Saves queue up, and each
 * is made from what the one before it answered, so that fields left quickly one
 * after the other do not stand in each other's way.
 */
export function useSaved<T extends { readonly revision: number }>(desk: Desk, ask: () => Promise<T>) {
  const { found, trouble, setTrouble } = useAsked(ask, [desk, desk.copiesMark]);
  const latest = useRef<T | undefined>(undefined);
  const asked = useRef<T | undefined>(undefined);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const [, redraw] = useState(0);
  if (found && found !== asked.current) {
    asked.current = found;
    if (!latest.current || found.revision >= latest.current.revision) latest.current = found;
  }
  const save = (make: (now: T) => Promise<T>, said: string): Promise<boolean> => {
    const work = queue.current.then(async () => {
      try {
        latest.current = await make(latest.current!);
        setTrouble(undefined);
        redraw((n) => n + 1);
        desk.changedCopies();
        desk.say(said);
        return true;
      } catch (err) {
        setTrouble(troubleOf(err));
        return false;
      }
    });
    queue.current = work;
    return work;
  };
  return { now: latest.current, trouble, save };
}
