import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { Chart, type ChartMode, type Pointed } from "../board/chart";
import { groupsBy, type Group } from "../model/choosing";
import { chosenSpoken } from "../model/commands";
import type { Desk } from "../model/desk";
import { actWords, degrees, lengthWords } from "../model/facts";
import { chooseMany, chosenPhotos, emptyHand } from "../model/hand";
import type { PhotoID } from "../model/sequence";
import { plural } from "../model/words";
import type * as api from "../net/api";
import { townsAround } from "../net/program";
import { NamesFrom, OutlineFrom } from "./credits";
import { SheetFrame, useDesk, Word } from "./parts";

const modes: readonly (readonly [ChartMode, string])[] = [["move", "move the map"], ["frame", "choose by a frame"], ["set", "set a place"]];

/** Where the title's photos were taken: to choose by place, and to say where others were. */
export function Map({ desk }: { desk: Desk }) {
  useDesk(desk);
  const chosen = chosenPhotos(desk.hand);
  const photos = [...desk.photos.values()];
  const [mode, setMode] = useState<ChartMode>(desk.chosenPhotos.some((p) => !p.where) ? "set" : "move");
  const [mark, setMark] = useState<Pointed>();
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<Chart>(undefined);
  const take = (of: PhotoID[], along: boolean) => choose(desk, of, along);
  useLayoutEffect(() => {
    const made = new Chart(host.current!, {
      choose: take,
      point: setMark,
      moved: (n) => document.activeElement === host.current && desk.say(`${plural(n, "photo")} in sight.`),
    });
    chart.current = made;
    return () => made.close();
  }, [desk]);
  useLayoutEffect(() => chart.current?.show(photos, chosen, mode, mode === "set" ? mark : undefined));
  const placed = photos.filter((p) => p.where).length;
  return (
    <SheetFrame name="map" title="Map of the title" wide close={() => desk.show({ sheet: undefined })}>
      <div class="map">
        <div class="map-room">
          <fieldset class="things">
            <legend class="unseen">What pressing on the map does</legend>
            {modes.map(([m, words]) => <label key={m}><input type="radio" name="map-mode" value={m} checked={mode === m} onChange={() => setMode(m)} /><span>{words}</span></label>)}
          </fieldset>
          <div class="chart" ref={host} tabIndex={0} role="application" aria-roledescription="map" data-chart=""
            aria-label={`Map with ${plural(placed, "photo")}. Arrows move it, plus and minus bring it nearer and farther, 0 shows all. Enter ${mode === "set" ? "sets the place in its middle" : "chooses all in sight"}.`} />
          <p class="line-acts">
            <Word act="nearer" onClick={() => chart.current?.zoom(1.6)}>Nearer</Word>
            <Word act="farther" onClick={() => chart.current?.zoom(1 / 1.6)}>Farther</Word>
            <Word act="all-in-sight" disabled={placed === 0} onClick={() => chart.current?.fit()}>Show all</Word>
            <Word act="choose-in-sight" disabled={placed === 0} onClick={() => take(chart.current?.inSight ?? [], false)}>Choose all in sight</Word>
          </p>
          <OutlineFrom />
        </div>
        <div class="map-side">
          {mode === "set" && <SetPlace desk={desk} chosen={chosen} mark={mark} radius={(radius) => mark && setMark({ ...mark, radius })} />}
          {mode !== "set" && <p class="line-acts"><strong>{chosen.length === 0 ? "Nothing is chosen." : `${plural(chosen.length, "photo")} chosen.`}</strong>
            <Word act="choose-none" disabled={chosen.length === 0} onClick={() => take([], false)}>Put down</Word></p>}
          <Places desk={desk} groups={groupsBy(photos, "place", desk.table.use)} unplaced={photos.filter((p) => !p.where).map((p) => p.number)} chosen={chosen}
            press={(group) => { take([...group], false); if (mode === "move") chart.current?.fit(group); }} />
          <Word act="borrow" onClick={() => desk.show({ sheet: "borrow" })}>Borrow places from tracks or a phone</Word>
        </div>
      </div>
    </SheetFrame>
  );
}

function choose(desk: Desk, photos: PhotoID[], along: boolean): void {
  const before = along ? chosenPhotos(desk.hand) : [];
  const all = [...before, ...photos.filter((id) => !before.includes(id))];
  desk.setHand(all.length > 0 ? chooseMany(all) : emptyHand);
  desk.say(chosenSpoken(all.length));
}

interface PlacesProps {
  desk: Desk;
  groups: readonly Group[];
  unplaced: readonly PhotoID[];
  chosen: readonly PhotoID[];
  press(photos: readonly PhotoID[]): void;
}

/** The dots of the map as a list of towns. */
function Places({ desk, groups, unplaced, chosen, press }: PlacesProps) {
  const whole = (of: readonly PhotoID[]) => of.length > 0 && of.every((id) => chosen.includes(id));
  return (
    <section aria-labelledby="towns-title">
      <h3 id="towns-title">Towns</h3>
      {groups.length === 0 && <p class="empty">{desk.photos.size === 0 ? "Bring photographs in; those that know their place come up here." : "No photo has a place yet. Choose photos, then set a place on the map, or borrow places from a track."}</p>}
      <ul class="groups">
        {groups.map((g) => (
          <li key={g.key} data-group={g.key}>
            <button type="button" class="group" data-act="choose-town" aria-pressed={whole(g.photos)} onClick={() => press(g.photos)}>
              <span>{g.words}</span><span class="quiet">{plural(g.photos.length, "photo")}</span>
            </button>
          </li>
        ))}
        {unplaced.length > 0 && (
          <li data-group="unplaced">
            <button type="button" class="group" data-act="choose-unplaced" aria-pressed={whole(unplaced)} onClick={() => choose(desk, [...unplaced], false)}>
              <span>Without a place</span><span class="quiet">{plural(unplaced.length, "photo")}</span>
            </button>
          </li>
        )}
      </ul>
      {groups.length > 0 && <NamesFrom />}
    </section>
  );
}

const radii = [50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000, 200_000, 500_000]; // metres

/** The place that was pointed at, in words, and the act of saying it. */
function SetPlace({ desk, chosen, mark, radius }: { desk: Desk; chosen: readonly PhotoID[]; mark: Pointed | undefined; radius(metres: number): void }) {
  const label = useLabel(mark);
  if (chosen.length === 0) return <p class="empty">Choose the photos that were taken in one place first: from the list below, or on the table. Then point at the place.</p>;
  if (!mark) return <p class="empty">Point at the place where {plural(chosen.length, "chosen photo was", "chosen photos were")} taken. With the keyboard: move the map until the place is in its middle, then press Enter.</p>;
  const say = () => {
    const where: api.Where = { lat: rounded(mark.lat), lng: rounded(mark.lng), radius: mark.radius, source: "maker" };
    desk.state(chosen, "where", () => ({ where }), (of) => actWords(of, "where", { where }, label));
  };
  return (
    <div class="set-place" data-mark="">
      <p><strong>{label || degrees(mark.lat, mark.lng)}</strong></p>
      <p class="line-acts">
        <select aria-label="How closely" value={mark.radius} onChange={(e) => radius(Number(e.currentTarget.value))}>
          {radii.map((r) => <option key={r} value={r}>within {lengthWords(r)}</option>)}
        </select>
        <Word act="say-here" strong onClick={say}>{plural(chosen.length, "photo was", "photos were")} taken here</Word>
      </p>
    </div>
  );
}

/** To a metre: more digits would claim what a fingertip does not know. */
function rounded(degrees: number): number {
  return Math.round(degrees * 1e5) / 1e5;
}

/** The words for a place, from the towns around it. */
function useLabel(mark: Pointed | undefined): string {
  const [label, setLabel] = useState("");
  useEffect(() => {
    setLabel("");
    if (!mark) return undefined;
    const stop = new AbortController();
    townsAround(mark.lat, mark.lng, stop.signal).then((t) => setLabel(t.label ?? ""), () => setLabel("")); // then degrees do
    return () => stop.abort();
  }, [mark?.lat, mark?.lng]);
  return label;
}
