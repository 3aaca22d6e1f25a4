import type { Desk, Ground } from "../model/desk";
import { plural } from "../model/words";
import { useDesk, Word } from "./parts";

const grounds: readonly (readonly [Ground, string])[] = [["paper", "White ground"], ["grey", "Grey ground"], ["black", "Near black ground"]];

/** The title's name, what can be opened, and the line that is always in sight. */
export function Head({ desk }: { desk: Desk }) {
  useDesk(desk);
  const toggle = (side: "partners" | "versions" | "facts" | "choose") => desk.show({ side: desk.side === side ? undefined : side });
  return (
    <>
      <header class="head">
        <div class="head-name">
          <a class="word" href="#" data-act="titles">All titles</a>
          <h1>{desk.title.name}</h1>
        </div>
        <nav class="head-acts" aria-label="Panels">
          <Word act="bring" onClick={() => desk.show({ sheet: "bring" })}>Bring photographs</Word>
          <Word act="choose-by" aria-pressed={desk.side === "choose"} onClick={() => toggle("choose")}>Choose by</Word>
          <Word act="known" aria-pressed={desk.side === "facts"} onClick={() => toggle("facts")}>What is known</Word>
          <Word act="map" onClick={() => desk.show({ sheet: "map" })}>Map</Word>
          <Word act="arrange" onClick={() => desk.show({ sheet: "arrange" })}>Propose an order</Word>
          <Word act="partners" aria-pressed={desk.side === "partners"} onClick={() => toggle("partners")}>Who faces whom</Word>
          <Word act="versions" aria-pressed={desk.side === "versions"} onClick={() => toggle("versions")}>Versions</Word>
          <Word act="keys" onClick={() => desk.show({ sheet: "keys" })}>Keys</Word>
        </nav>
      </header>
      <Bar desk={desk} />
    </>
  );
}

function Bar({ desk }: { desk: Desk }) {
  const c = desk.counts;
  return (
    <section class="head-bar" aria-label="Counts and view">
      <p class="counts">
        <span><b data-count="wall">{c.wall}</b> <i>on the </i>wall</span>
        <span><b data-count="pages">{c.pages}</b> pages</span>
        <span><b data-count="unpaired">{c.unpaired}</b> unpaired</span>
        <span><b data-count="table">{c.table}</b> <i>on the </i>table</span>
        <span><b data-count="box">{c.box}</b> <i>in the </i>box</span>
      </p>
      <div class="back-forth">
        <Step desk={desk} act="undo" words={desk.session.undoWords} />
        <Step desk={desk} act="redo" words={desk.session.redoWords} />
      </div>
      <View desk={desk} />
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
  return (
    <div class="view">
      <label class="size">
        <span>Size</span>
        <input type="range" min="64" max="420" step="2" value={desk.view.size} aria-label="Size of the pages" data-view="size"
          onInput={(e) => desk.setView({ size: Number(e.currentTarget.value) })} />
      </label>
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
