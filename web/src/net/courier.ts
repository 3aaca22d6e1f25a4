import { Desk, type View } from "../model/desk";
import { readWall, type Answer, type Carrier } from "../model/session";
import type { Change } from "../model/change";
import type * as api from "./api";
import { listen } from "./events";
import * as program from "./program";

/** Carries changes to the program and its answers back. */
function carrier(title: number): Carrier {
  const ask = async (asked: Promise<api.Changed>): Promise<Answer> => {
    try {
      const { entry, wall } = await asked;
      return { is: "done", wall: readWall(wall), act: entry.change.act };
    } catch (err) {
      const trouble = program.troubleOf(err);
      if (trouble.code === program.unreachable) return { is: "unreachable" };
      const refusal = { code: trouble.code, message: trouble.message, hint: trouble.hint };
      return trouble.wall ? { is: "refused", refusal, wall: readWall(trouble.wall) } : { is: "refused", refusal };
    }
  };
  return {
    change: (c: Change) => ask(program.makeChange(title, c as unknown as api.Change)),
    undo: (revision) => ask(program.undo(title, revision)),
    redo: (revision) => ask(program.redo(title, revision)),
  };
}

/** Opens a title and keeps it up to date until the returned leave is called. */
export async function open(title: number, view: View, speak: (words: string) => void): Promise<{ desk: Desk; leave: () => void }> {
  const state = await program.openTitle(title);
  const desk = new Desk(state, readWall(state.wall), carrier(title), view, speak);
  const fetchAnew = async () => {
    try {
      const now = await program.openTitle(title);
      desk.refresh(now, readWall(now.wall));
      desk.session.reached();
    } catch (err) {
      const trouble = program.troubleOf(err);
      if (trouble.code === program.unreachable) desk.session.lost();
      else desk.notify(trouble);
    }
  };
  const stop = listen(title, {
    opened: () => void fetchAnew(), // what happened before the stream stood was not heard
    lost: () => desk.session.lost(),
    change: ({ entry, wall }) => desk.session.heard(entry.change.act, readWall(wall)),
    photo: ({ photo }) => desk.arrived(photo),
    bring: ({ bring, name }) => desk.changedBring(bring, name),
    refusal: ({ refusal }) => desk.refusedFile(refusal),
    title: ({ title: now }) => {
      desk.title = now;
      desk.bell.ring();
    },
    versions: () => {
      desk.versionsMark++;
      desk.bell.ring();
    },
    reload: () => void fetchAnew(),
  });
  return { desk, leave: stop };
}
