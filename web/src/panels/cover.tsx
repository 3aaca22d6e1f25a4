import { useRef, useState } from "preact/hooks";
import { length } from "../model/cover";
import type { Desk } from "../model/desk";
import type * as api from "../net/api";
import * as program from "../net/program";
import { Around, Drawn, useFit, type On } from "./cover-flat";
import { Designer, ForDesigner } from "./cover-designer";
import { Figures, Own } from "./cover-figures";
import { settledRevision, SheetFrame, Trouble, useAsked, useDesk, Word } from "./parts";

/** The cover: laid flat and around the block, with its figures, what its designer needs, and the file that came back. */
export function Cover({ desk }: { desk: Desk }) {
  useDesk(desk);
  const revision = settledRevision(desk);
  const [shown, setShown] = useState<api.CoverShown>();
  const { found, trouble, setTrouble } = useAsked(revision === undefined ? undefined : async () => {
    const fresh = await program.cover(desk.title.id);
    setShown(fresh);
    return fresh;
  }, [desk, revision, desk.pages?.revision, desk.coverMark]);
  const act = useActs(desk, shown, setShown, setTrouble);
  const cover = shown ?? found;
  return (
    <SheetFrame name="cover" title="Cover" whole close={() => desk.show({ sheet: undefined })}>
      {trouble && <Trouble of={trouble} />}
      {!cover && !trouble && <p class="quiet" role="status">Laying the cover out.</p>}
      {cover && (
        <div class="cover-room">
          <Seen desk={desk} cover={cover} />
          <div class="cover-words">
            <Figures cover={cover} save={act.save} unit={cover.unit} />
            {act.undo && <p><Word act="undo-cover" onClick={act.undo}>Take back the last change of the cover</Word></p>}
            <ForDesigner desk={desk} cover={cover} />
            <Designer desk={desk} cover={cover} took={act.took} />
            <Own desk={desk} cover={cover} save={act.save} />
          </div>
        </div>
      )}
    </SheetFrame>
  );
}

/** What changes the cover, one change after the other, and how the last one is taken back. */
function useActs(desk: Desk, now: api.CoverShown | undefined, show: (cover: api.CoverShown) => void, setTrouble: (t: program.Trouble | undefined) => void) {
  const before = useRef<api.CoverPlan[]>([]);
  const latest = useRef(now);
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const [, redraw] = useState(0);
  if (now && (!latest.current || now.revision >= latest.current.revision)) latest.current = now;
  const took = (cover: api.CoverShown) => show(latest.current = cover);
  const put = async (plan: api.CoverPlan): Promise<boolean> => {
    try {
      took(await program.planCover(desk.title.id, { revision: latest.current!.revision, plan }));
      setTrouble(undefined);
      return true;
    } catch (err) {
      const trouble = program.troubleOf(err);
      setTrouble(trouble);
      if (trouble.code === "stale") await program.cover(desk.title.id).then(took, () => undefined); // the trouble is shown
      return false;
    }
  };
  const inTurn = <T,>(does: () => Promise<T>): Promise<T> => {
    const work = queue.current.then(does);
    queue.current = work;
    return work;
  };
  const save: Save = (change, said) => inTurn(async () => {
    const was = latest.current!.plan;
    if (!(await put({ ...was, ...change(was) }))) return false;
    before.current.push(was);
    redraw(before.current.length);
    desk.say(said);
    return true;
  });
  const undo = () => inTurn(async () => {
    const was = before.current.pop();
    if (was && await put(was)) desk.say("Taken back.");
    redraw(-before.current.length);
  });
  return { save, took: (cover: api.CoverShown) => { took(cover); setTrouble(undefined); }, undo: before.current.length > 0 ? () => void undo() : undefined };
}

/** Changes the cover as it stands once what was kept before has arrived. */
export type Save = (change: (is: api.CoverPlan) => Partial<api.CoverPlan>, said: string) => Promise<boolean>;

/** The cover as it is seen: around the block, and flat. */
function Seen({ desk, cover }: { desk: Desk; cover: api.CoverShown }) {
  const [wanted, setWanted] = useState<On>("designer");
  const [guides, setGuides] = useState(true);
  const [inside, setInside] = useState(false);
  const on = cover.view > 0 ? wanted : "own";
  const within = inside && cover.flat.inner.length > 0;
  const { unit } = cover;
  const fit = useFit(desk.title.id, cover);
  const over = fit?.bleed ?? cover.flat.bleed;
  return (
    <div class="cover-seen">
      {cover.view > 0 && (
        <fieldset class="line-acts">
          <legend class="unseen">Which cover is shown</legend>
          <label class="tick"><input type="radio" name="on" checked={on === "designer"} onChange={() => setWanted("designer")} /> the designer's</label>
          <label class="tick"><input type="radio" name="on" checked={on === "own"} onChange={() => setWanted("own")} /> the simple one</label>
        </fieldset>
      )}
      <Around title={desk.title.id} cover={cover} on={on} over={over} />
      {on === "designer" && fit?.stretched && <p class="trouble">The picture has not the proportion of the cover: it is stretched here, and nothing lies where it will.</p>}
      <figure class="flat">
        <Drawn title={desk.title.id} cover={cover} on={on} over={over} inside={within} guides={guides} />
        <figcaption class="line-acts">
          <label class="tick"><input type="checkbox" name="guides" checked={guides} onChange={(e) => setGuides(e.currentTarget.checked)} /> guides</label>
          {cover.flat.inner.length > 0 && <label class="tick"><input type="checkbox" name="inside" checked={inside} onChange={(e) => setInside(e.currentTarget.checked)} /> its inside</label>}
          <span class="quiet">{length(cover.flat.trim.width, unit)} × {length(cover.flat.trim.height, unit)}, cut</span>
        </figcaption>
      </figure>
    </div>
  );
}
