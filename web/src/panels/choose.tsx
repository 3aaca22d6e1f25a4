import { useMemo, useState } from "preact/hooks";
import { colours, colourWords, combine, groupsBy, ofColour, type By, type Group, type Way } from "../model/choosing";
import type { Desk } from "../model/desk";
import type { Photo } from "../model/facts";
import { chosenPhotos } from "../model/hand";
import { labColour } from "../model/photo";
import { onWall, type PhotoID } from "../model/sequence";
import { showingAll, shownWords, showsAll, turn, type Only } from "../model/table";
import { plural } from "../model/words";
import type * as api from "../net/api";
import { NamesFrom } from "./credits";
import { Print, useDesk, Word } from "./parts";
import { reverseRoll } from "./say";

const things: readonly (readonly [By, string])[] = [
  ["day", "day"], ["place", "place"], ["roll", "roll"], ["colour", "colour"], ["tone", "tone"], ["feeling", "feeling"], ["kind", "kind"], ["use", "use"], ["missing", "what is missing"],
];
const ways: readonly (readonly [Way | "show", string])[] = [
  ["only", "chooses only it"], ["add", "adds it"], ["among", "keeps what is in both"], ["show", "shows only it on the table"],
];
const lies = ["everywhere", "on the table", "on the wall", "in the box"] as const;
type Lies = (typeof lies)[number];

/** Choosing many photos by what they have in common, or showing only such on the table. */
export function Choose({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [by, setBy] = useState<By>("day");
  const [way, setWay] = useState<Way>("only");
  const [among, setAmong] = useState<Lies>("everywhere");
  const { sieving } = desk;
  const photos = sieving ? desk.table.photos : lying(desk, among);
  const chosen = chosenPhotos(desk.hand);
  const press = (of: Shared) => (sieving ? desk.table.show(turn(desk.table.showing, of.only)) : desk.chooseAll(combine(chosen, of.photos, way)));
  const pressed = (of: Shared) => (sieving ? desk.table.showing.only.some((o) => o.by === of.only.by && o.key === of.only.key) : of.photos.every((id) => chosen.includes(id)));
  const change = (to: Way | "show") => {
    desk.show({ sieving: to === "show" });
    if (to !== "show") setWay(to);
  };
  return (
    <aside class="side choose-side" data-panel="choose" aria-labelledby="choose-title">
      <header class="side-head">
        <h2 id="choose-title">{sieving ? "Show on the table only" : "Choose by"}</h2>
        <Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word>
      </header>
      <fieldset class="things">
        <legend class="unseen">What they have in common</legend>
        {things.map(([thing, words]) => (
          <label key={thing}><input type="radio" name="choose-by" value={thing} checked={by === thing} onChange={() => setBy(thing)} /><span>{words}</span></label>
        ))}
      </fieldset>
      <p class="how">
        {!sieving && <label>of those <select aria-label="Where they lie" value={among} onChange={(e) => setAmong(e.currentTarget.value as Lies)}>{lies.map((l) => <option key={l}>{l}</option>)}</select></label>}
        <label>pressing one <select aria-label="What pressing one does" value={sieving ? "show" : way} onChange={(e) => change(e.currentTarget.value as Way | "show")}>{ways.map(([w, words]) => <option key={w} value={w}>{words}</option>)}</select></label>
      </p>
      {sieving ? <ShownLine desk={desk} /> : <ChosenLine desk={desk} photos={photos} chosen={chosen} />}
      {by === "colour" ? <ByColour desk={desk} photos={photos} press={press} pressed={pressed} /> : <Groups desk={desk} photos={photos} by={by} press={press} pressed={pressed} />}
    </aside>
  );
}

/** What can be pressed: photos that share something, and what that is. */
interface Shared {
  readonly photos: readonly PhotoID[];
  readonly only: Only;
}

interface Pressing {
  desk: Desk;
  photos: readonly Photo[];
  press(of: Shared): void;
  pressed(of: Shared): boolean;
}

function ChosenLine({ desk, photos, chosen }: { desk: Desk; photos: readonly Photo[]; chosen: readonly PhotoID[] }) {
  return (
    <p class="line-acts">
      <strong>{chosen.length === 0 ? "Nothing is chosen." : `${plural(chosen.length, "photo")} chosen.`}</strong>
      <Word act="choose-all" disabled={photos.length === 0} onClick={() => desk.chooseAll(photos.map((p) => p.number))}>All {photos.length}</Word>
      <Word act="choose-none" disabled={chosen.length === 0} onClick={() => desk.chooseAll([])}>Put down</Word>
      <Word act="facts" disabled={chosen.length === 0} onClick={() => desk.show({ side: "facts" })}>What is known</Word>
    </p>
  );
}

function ShownLine({ desk }: { desk: Desk }) {
  const all = showsAll(desk.table.showing);
  return (
    <p class="line-acts">
      <strong>{all ? `All ${desk.table.photos.length} are shown.` : `${shownWords(desk.table.shown.length, desk.table.photos.length)}.`}</strong>
      <Word act="show-all" disabled={all} onClick={() => desk.table.show(showingAll)}>Show all again</Word>
    </p>
  );
}

function lying(desk: Desk, among: Lies): readonly Photo[] {
  const q = desk.shown;
  if (among === "on the table") return desk.table.photos;
  const which = { everywhere: desk.numbers, "on the wall": onWall(q), "in the box": q.box }[among];
  return which.flatMap((id) => desk.photos.get(id) ?? []);
}

const nothing: Readonly<Record<Exclude<By, "colour">, string>> = {
  day: "No photo here has a date of taking. Choose some and say when; a scanner's date is the date of scanning.",
  place: "No photo here has a place. Choose some and say where, or borrow places from a track.",
  roll: "No photo here is of a known roll. Choose the scans of one film and say its roll.",
  tone: "There is no photo here.",
  feeling: "There is no photo here.",
  kind: "There is no photo here.",
  use: "There is no photo here.",
  missing: "Nothing is missing here: date, place and the rest are known of every photo.",
};

function Groups({ desk, photos, by, press, pressed }: Pressing & { by: Exclude<By, "colour"> }) {
  const groups = groupsBy(photos, by, desk.table.use);
  if (groups.length === 0) return <p class="empty">{nothing[by]}</p>;
  return (
    <>
      <ul class="groups">
        {groups.map((g) => {
          const of = { photos: g.photos, only: { by, key: g.key, words: g.words } };
          return (
            <li key={g.key} data-group={g.key}>
              <GroupButton desk={desk} group={g} whole={pressed(of)} press={() => press(of)} />
              {by === "roll" && g.photos.length > 1 && <Word act="reverse-roll" aria-label={`Reverse its order: roll ${g.key}`} onClick={() => void reverseRoll(desk, g.key)}>Reverse its order</Word>}
            </li>
          );
        })}
      </ul>
      {by === "place" && <NamesFrom />}
    </>
  );
}

function GroupButton({ desk, group, whole, press }: { desk: Desk; group: Group; whole: boolean; press(): void }) {
  return (
    <button type="button" class="group" data-act="choose-group" aria-pressed={whole} onClick={press}>
      <span>{group.words}</span><span class="quiet">{plural(group.photos.length, "photo")}</span>
      <span class="few" aria-hidden="true">{group.photos.slice(0, 4).map((id) => <Print key={id} desk={desk} photo={id} />)}</span>
    </button>
  );
}

function ByColour(props: Pressing) {
  const { desk, photos } = props;
  const [within, setWithin] = useState(14);
  const all = useMemo(() => colours(photos), [desk.photos, photos.length]);
  const one = desk.chosenPhotos.length === 1 ? desk.chosenPhotos[0]! : undefined;
  if (all.length === 0) return <p class="empty">No photo here has colours measured yet.</p>;
  return (
    <>
      <label class="near">near <input type="range" min="6" max="30" value={within} aria-label="How near the colour must be" onInput={(e) => setWithin(Number(e.currentTarget.value))} /> far</label>
      <h3>Colours of these photos</h3>
      <Swatches {...props} labs={all.map((c) => c.lab)} within={within} />
      {one && <><h3>Colours of photo {one.number}</h3><Swatches {...props} labs={one.palette.map((s) => s.lab)} within={within} /></>}
    </>
  );
}

function Swatches({ labs, photos, within, press, pressed }: Pressing & { labs: readonly api.Lab[]; within: number }) {
  return (
    <ul class="swatches">
      {labs.map((lab, i) => {
        const found = ofColour(photos, lab, within);
        const words = `${colourWords(lab)}, ${plural(found.length, "photo")}`;
        const of = { photos: found, only: { by: "colour", key: `${lab.l} ${lab.a} ${lab.b}`, words: colourWords(lab), colour: { lab, within } } } as const;
        return (
          <li key={i}>
            <button type="button" class="colour" data-act="choose-colour" title={words} aria-label={words} aria-pressed={found.length > 0 && pressed(of)} disabled={found.length === 0} onClick={() => press(of)}>
              <span style={{ background: labColour(lab) }} /><span aria-hidden="true">{found.length}</span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}
