import { useMemo, useState } from "preact/hooks";
import { colours, colourWords, combine, groupsBy, ofColour, type By, type Group, type Way } from "../model/choosing";
import { chosenSpoken } from "../model/commands";
import type { Desk } from "../model/desk";
import type { Photo } from "../model/facts";
import { chooseMany, chosenPhotos, emptyHand } from "../model/hand";
import { labColour } from "../model/photo";
import { onTable, onWall, type PhotoID } from "../model/sequence";
import { plural } from "../model/words";
import type * as api from "../net/api";
import { NamesFrom } from "./credits";
import { Print, useDesk, Word } from "./parts";
import { reverseRoll } from "./say";

const things: readonly (readonly [By, string])[] = [
  ["day", "day"], ["place", "place"], ["roll", "roll"], ["colour", "colour"], ["kind", "kind"], ["missing", "what is missing"],
];
const ways: readonly (readonly [Way, string])[] = [["only", "chooses only it"], ["add", "adds it"], ["among", "keeps what is in both"]];
const lies = ["everywhere", "on the table", "on the wall", "in the box"] as const;
type Lies = (typeof lies)[number];

/** Choosing many photos by what they have in common. */
export function Choose({ desk }: { desk: Desk }) {
  useDesk(desk);
  const [by, setBy] = useState<By>("day");
  const [way, setWay] = useState<Way>("only");
  const [among, setAmong] = useState<Lies>("everywhere");
  const photos = lying(desk, among);
  const chosen = chosenPhotos(desk.hand);
  const press = (group: readonly PhotoID[]) => take(desk, combine(chosen, group, way));
  return (
    <aside class="side choose-side" data-panel="choose" aria-labelledby="choose-title">
      <header class="side-head">
        <h2 id="choose-title">Choose by</h2>
        <Word act="close" onClick={() => desk.show({ side: undefined })}>Close</Word>
      </header>
      <fieldset class="things">
        <legend class="unseen">What they have in common</legend>
        {things.map(([thing, words]) => (
          <label key={thing}><input type="radio" name="choose-by" value={thing} checked={by === thing} onChange={() => setBy(thing)} /><span>{words}</span></label>
        ))}
      </fieldset>
      <p class="how">
        <label>of those <select aria-label="Where they lie" value={among} onChange={(e) => setAmong(e.currentTarget.value as Lies)}>{lies.map((l) => <option key={l}>{l}</option>)}</select></label>
        <label>; pressing one <select aria-label="What pressing one does" value={way} onChange={(e) => setWay(e.currentTarget.value as Way)}>{ways.map(([w, words]) => <option key={w} value={w}>{words}</option>)}</select></label>
      </p>
      <p class="line-acts">
        <strong>{chosen.length === 0 ? "Nothing is chosen." : `${plural(chosen.length, "photo")} chosen.`}</strong>
        <Word act="choose-all" disabled={photos.length === 0} onClick={() => take(desk, photos.map((p) => p.number))}>All {photos.length}</Word>
        <Word act="choose-none" disabled={chosen.length === 0} onClick={() => take(desk, [])}>Put down</Word>
        <Word act="facts" disabled={chosen.length === 0} onClick={() => desk.show({ side: "facts" })}>What is known</Word>
      </p>
      {by === "colour" ? <ByColour desk={desk} photos={photos} press={press} /> : <Groups desk={desk} photos={photos} by={by} chosen={chosen} press={press} />}
    </aside>
  );
}

function lying(desk: Desk, among: Lies): Photo[] {
  const q = desk.shown;
  const all = desk.numbers;
  const which = { everywhere: all, "on the table": onTable(q, all), "on the wall": onWall(q), "in the box": q.box }[among];
  return which.flatMap((id) => desk.photos.get(id) ?? []);
}

function take(desk: Desk, photos: readonly PhotoID[]): void {
  desk.setHand(photos.length === 0 ? emptyHand : chooseMany(photos));
  desk.say(chosenSpoken(photos.length));
}

const nothing: Readonly<Record<Exclude<By, "colour">, string>> = {
  day: "No photo here has a date of taking. Choose some and say when; a scanner's date is the date of scanning.",
  place: "No photo here has a place. Choose some and say where, or borrow places from a track.",
  roll: "No photo here is of a known roll. Choose the scans of one film and say its roll.",
  kind: "There is no photo here.",
  missing: "Nothing is missing here: date, place and the rest are known of every photo.",
};

interface GroupsProps {
  desk: Desk;
  photos: readonly Photo[];
  by: Exclude<By, "colour">;
  chosen: readonly PhotoID[];
  press(photos: readonly PhotoID[]): void;
}

function Groups({ desk, photos, by, chosen, press }: GroupsProps) {
  const groups = groupsBy(photos, by);
  if (groups.length === 0) return <p class="empty">{nothing[by]}</p>;
  return (
    <>
      <ul class="groups">
        {groups.map((g) => (
          <li key={g.key} data-group={g.key}>
            <GroupButton desk={desk} group={g} whole={g.photos.every((id) => chosen.includes(id))} press={press} />
            {by === "roll" && g.photos.length > 1 && <Word act="reverse-roll" aria-label={`Reverse the order of roll ${g.key}`} onClick={() => void reverseRoll(desk, g.key)}>Reverse its order</Word>}
          </li>
        ))}
      </ul>
      {by === "place" && <NamesFrom />}
    </>
  );
}

function GroupButton({ desk, group, whole, press }: { desk: Desk; group: Group; whole: boolean; press(photos: readonly PhotoID[]): void }) {
  return (
    <button type="button" class="group" data-act="choose-group" aria-pressed={whole} onClick={() => press(group.photos)}>
      <span>{group.words}</span><span class="quiet">{plural(group.photos.length, "photo")}</span>
      <span class="few" aria-hidden="true">{group.photos.slice(0, 4).map((id) => <Print key={id} desk={desk} photo={id} />)}</span>
    </button>
  );
}

function ByColour({ desk, photos, press }: { desk: Desk; photos: readonly Photo[]; press(photos: readonly PhotoID[]): void }) {
  const [within, setWithin] = useState(14);
  const all = useMemo(() => colours(photos), [desk.photos, photos.length]);
  const one = desk.chosenPhotos.length === 1 ? desk.chosenPhotos[0]! : undefined;
  if (all.length === 0) return <p class="empty">No photo here has colours measured yet.</p>;
  return (
    <>
      <label class="near">near <input type="range" min="6" max="30" value={within} aria-label="How near the colour must be" onInput={(e) => setWithin(Number(e.currentTarget.value))} /> far</label>
      <h3>Colours of these photos</h3>
      <Swatches labs={all.map((c) => c.lab)} photos={photos} within={within} press={press} />
      {one && <><h3>Colours of photo {one.number}</h3><Swatches labs={one.palette.map((s) => s.lab)} photos={photos} within={within} press={press} /></>}
    </>
  );
}

function Swatches({ labs, photos, within, press }: { labs: readonly api.Lab[]; photos: readonly Photo[]; within: number; press(photos: readonly PhotoID[]): void }) {
  return (
    <ul class="swatches">
      {labs.map((lab, i) => {
        const found = ofColour(photos, lab, within);
        const words = `${colourWords(lab)}, ${plural(found.length, "photo")}`;
        return (
          <li key={i}>
            <button type="button" class="colour" data-act="choose-colour" title={words} aria-label={words} disabled={found.length === 0} onClick={() => press(found)}>
              <span style={{ background: labColour(lab) }} /><span aria-hidden="true">{found.length}</span>
            </button>
          </li>
        );
      })}
    </ul>
  );
}
