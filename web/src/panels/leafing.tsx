import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import { beginLeafing, ended, openings, openingWords, paced, turned, type Opening } from "../model/openings";
import { Leaf, Lying, Stage, useReady } from "./stage";
import { useDesk, Word } from "./parts";

const duration = 1000; // ms a page takes to turn; no source: a slow hand
const calm = matchMedia("(prefers-reduced-motion: reduce)");

/** The sequence as a reader meets it: page by page, forwards only, at an own pace. */
export function Leafing({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [all] = useState(() => openings(desk.shown)); // what is read stays as it was taken up
  const [l, set] = useState(() => beginLeafing(all.length));
  const [turning, setTurning] = useState(false);
  const close = () => desk.show({ sheet: undefined });
  const at = Math.min(l.at, all.length - 1);
  const next = all[at + 1];
  useReady(desk, [all[at], next, all[at + 2]]);
  const lies = () => {
    setTurning(false);
    set((was) => turned(was));
  };
  const turn = () => {
    if (turning || ended(l)) lies(); // a second press does not wait for the page
    else if (next && !calm.matches) setTurning(true);
    else lies();
  };
  useEffect(() => desk.say(ended(l) ? "That was the last page." : openingWords(all[l.at]!)), [l.at]);
  useEffect(() => {
    if (!l.byItself || turning) return undefined;
    const timer = setTimeout(turn, l.pace * 1000);
    return () => clearTimeout(timer);
  }, [l, turning]);
  const itself = () => set({ ...l, byItself: !l.byItself });
  const key = (e: KeyboardEvent) => {
    if ((e.target as Element).closest("button") && (e.key === " " || e.key === "Enter")) return;
    if (e.key === " " || e.key === "Enter" || e.key === "ArrowRight" || e.key === "PageDown") turn();
    else if (e.key === "p" && !ended(l)) itself();
    else if (e.key === "ArrowUp" || e.key === "ArrowDown") set(paced(l, e.key === "ArrowDown" ? 1 : -1));
    else return;
    e.preventDefault();
  };
  return (
    <Stage name="leafing" label="Leafing through, forwards only" close={close} onKeyDown={key}>
      <div class="turn-here" onClick={() => !ended(l) && turn()} data-at={l.at}>
        {turning && next ? <Turning key={at} desk={desk} from={all[at]!} to={next} all={all.length} done={lies} /> : <Lying desk={desk} of={all[at]!} all={all.length} />}
      </div>
      <div class="stage-foot leafing-foot">
        {ended(l)
          ? <><span class="stage-words">That was the last page.</span><Word act="leaf-again" onClick={() => set(beginLeafing(all.length))}>From the first page</Word></>
          : <>
            <Word act="turn" onClick={turn}>Turn</Word>
            <Word act="by-itself" onClick={itself}>{l.byItself ? "Pause" : "Turn by itself"}</Word>
            {l.byItself && <>
              <Word act="slower" onClick={() => set(paced(l, 1))}>Slower</Word>
              <Word act="faster" onClick={() => set(paced(l, -1))}>Faster</Word>
              <span class="stage-words">{l.pace} seconds a page</span>
            </>}
          </>}
        <Word act="close" onClick={close}>Leave</Word>
      </div>
    </Stage>
  );
}

/** The right page on its way over to the left, with the next one below it. */
function Turning({ desk, from, to, all, done }: { desk: Desk; from: Opening; to: Opening; all: number; done(): void }) {
  const leaf = useRef<HTMLDivElement>(null);
  const shade = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const easing = "cubic-bezier(.45, .05, .35, 1)";
    const moving = leaf.current!.animate([{ transform: "rotateY(0deg)" }, { transform: "rotateY(-180deg)" }], { duration, easing, fill: "forwards" });
    shade.current!.animate([{ opacity: 0 }, { opacity: 1, offset: 0.5 }, { opacity: 0 }], { duration, easing });
    moving.onfinish = done;
    return () => {
      moving.onfinish = null;
      moving.cancel();
    };
  }, []);
  const under: Opening = { ...to, left: from.left }; // until the page comes down, the old left one is to be seen
  return (
    <Lying desk={desk} of={under} all={all}>
      <div class="turning" ref={leaf} aria-hidden="true">
        <div class="front"><Leaf desk={desk} face={from.right} side="recto" /></div>
        <div class="back"><Leaf desk={desk} face={to.left} side="verso" /></div>
        <div class="turning-shade" ref={shade} />
      </div>
    </Lying>
  );
}
