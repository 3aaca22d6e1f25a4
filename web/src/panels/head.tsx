import type { Ground } from "../model/beside";
import type { Desk } from "../model/desk";
import { standpointWords } from "../model/steps";
import { plural } from "../model/words";
import { Counts } from "./counts";
import { Groups } from "./groups";
import { LineMark } from "./lines";
import { RibbonLine } from "./ribbon";
import { useDesk, Word } from "./parts";

const grounds: readonly (readonly [Ground, string])[] = [["paper", "White ground"], ["grey", "Grey ground"], ["black", "Near black ground"]];

/** The title's name, and the bar that stays in sight: what can be opened, how much there is, and how it is looked at. */
export function Head({ desk }: { desk: Desk }) {
  useDesk(desk);
  return (
    <>
      <header class="head">
        <h1>{desk.title.name}</h1>
        <a class="word" href="#" data-act="titles">All titles</a>
        <LineMark desk={desk} />
      </header>
      <Bar desk={desk} />
    </>
  );
}

function Bar({ desk }: { desk: Desk }) {
  return (
    <section class="head-bar" aria-label="Commands, counts and view">
      <Groups desk={desk} />
      <Counts desk={desk} />
      <div class="back-forth">
        <Step desk={desk} act="undo" words={desk.session.undoWords} />
        <Step desk={desk} act="redo" words={desk.session.redoWords} />
      </div>
      <View desk={desk} />
      {desk.view.ribbon && <RibbonLine desk={desk} />}
      {!desk.session.reachable && (
        <p class="offline" data-offline="">
          The program does not answer.
          {desk.session.waiting > 0 ? ` ${plural(desk.session.waiting, "act waits", "acts wait")} here and will be sent when it is back.` : " Start Pairwall again; this page goes on by itself."}
        </p>
      )}
    </section>
  );
}

/** Undo or redo, with what it would touch. */
function Step({ desk, act, words }: { desk: Desk; act: "undo" | "redo"; words: string }) {
  const name = act === "undo" ? "Undo" : "Redo";
  return (
    <Word act={act} disabled={words === ""} title={words ? `${name}: ${words}` : ""}
      onClick={() => desk[act]()}>
      <span class="name">{name}</span> <span class="what">{words}</span>
    </Word>
  );
}

function View({ desk }: { desk: Desk }) {
  const at = desk.standpoint;
  return (
    <div class="view">
      {at && at.farthest > at.nearest && (
        <label class="size">
          <span>Size</span>
          <input type="range" min="0" max={at.farthest - at.nearest} value={at.farthest - at.line} aria-label="Back from the wall, or nearer" data-view="size"
            aria-valuetext={standpointWords(at)} onInput={(e) => desk.stand(at.farthest - Number(e.currentTarget.value))} />
        </label>
      )}
      <fieldset class="grounds">
        <legend class="unseen">Ground</legend>
        {grounds.map(([ground, name]) => (
          <label key={ground} title={name}>
            <input type="radio" name="ground" value={ground} checked={desk.view.ground === ground} aria-label={name}
              onChange={() => desk.setView({ ground })} />
            <span class={`swatch ${ground}`} />
          </label>
        ))}
      </fieldset>
    </div>
  );
}
