import type { View } from "../model/beside";
import { Desk } from "../model/desk";
import { readWall, type Answer, type Carrier } from "../model/session";
import type { Change, Statement } from "../model/change";
import type * as api from "./api";
import { listen } from "./events";
import { keep } from "./keeping";
import { News } from "./news";
import * as program from "./program";

/** Carries changes to the program and its answers back; what they state of photos is learnt on the way. */
function carrier(title: number, learn: (c: api.Changed) => void): Carrier {
  const ask = async (asked: Promise<api.Changed>): Promise<Answer> => {
    try {
      const changed = await asked;
      const { entry, wall } = changed;
      learn(changed);
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

/**
 * Opens a title and keeps it up to date until the returned leave is called. The
 * stream of events stands before the state is fetched, so that nothing which
 * happens between the two is missed.
 */
export async function open(title: number, view: View, speak: (words: string) => void): Promise<{ desk: Desk; leave: () => void }> {
  const news = new News<Desk>();
  const when = (what: (desk: Desk) => void) => news.tell(what);
  let known: Desk | undefined;
  let stand: () => void = () => {};
  const standing = new Promise<void>((resolve) => (stand = resolve));
  const leave = listen(title, {
    opened: () => (known ? news.fetching(fetchAnew) : stand()),
    lost: () => (known ? known.session.lost() : stand()), // fetching will say what is wrong
    change: (changed) => when((d) => {
      learn(d, changed);
      d.session.heard(changed.entry.change.act, readWall(changed.wall));
    }),
    photo: ({ photo }) => when((d) => d.arrived(photo)),
    bring: ({ bring, name }) => when((d) => d.changedBring(bring, name)),
    arriving: (e) => when((d) => d.arriving(e)),
    refusal: ({ refusal }) => when((d) => d.refusedFile(refusal)),
    title: ({ title: now }) => when((d) => d.changedTitle(now)),
    pages: ({ pages }) => when((d) => d.changedPages(pages)),
    originals: (search) => when((d) => d.searched(search)),
    reading: (e) => when((d) => d.readWall(e)),
    printing: (p) => when((d) => d.printed(p)),
    cover: () => when((d) => d.changedCover()),
    tracks: () => when((d) => d.changedTracks()),
    inquiry: () => when((d) => d.changedInquiry()),
    proofs: () => when((d) => d.changedProofs()),
    versions: () => when((d) => d.changedVersions()),
    copies: () => when((d) => d.changedCopies()),
    reload: () => when(() => news.fetching(fetchAnew)),
  });
  try {
    await standing;
    const state = await program.openTitle(title);
    const desk = new Desk(state, readWall(state.wall), carrier(title, (c) => when((d) => learn(d, c))), view, speak);
    desk.ask = async (photo) => (await program.partners(title, { photo }, {}, { box: false, surprise: false }, 60, new AbortController().signal)).partners;
    known = desk;
    news.begin(desk);
    const unkeep = keep(title, desk);
    void remember(desk);
    void learnPages(desk);
    return { desk, leave: () => { unkeep(); leave(); } };
  } catch (err) {
    leave();
    throw err;
  }
}

function learn(desk: Desk, { entry, labels, wall }: api.Changed): void {
  desk.learn(entry.change.says as Statement[] | undefined, labels ?? {}, wall.sequence.revision);
}

/** What hung on the wall before: of use to the table only, so nothing waits for it. */
async function remember(desk: Desk): Promise<void> {
  try {
    desk.table.learnHung((await program.hung(desk.title.id)).photos);
  } catch {
    return; // a photo that once hung counts as not yet used until the program answers
  }
}

/** Format and plan: the bar counts their pages. Until they are known the wall's own are. */
async function learnPages(desk: Desk): Promise<void> {
  try {
    desk.changedPages(await program.pages(desk.title.id));
  } catch {
    return; // whoever opens the pages is told what is wrong
  }
}

async function fetchAnew(desk: Desk): Promise<void> {
  try {
    const now = await program.openTitle(desk.title.id);
    desk.refresh(now, readWall(now.wall));
    desk.session.reached();
    void remember(desk);
    void learnPages(desk);
  } catch (err) {
    const trouble = program.troubleOf(err);
    if (trouble.code === program.unreachable) desk.session.lost();
    else desk.notify(trouble);
  }
}
