import type { Desk } from "../model/desk";
import { hanging as hangs, type Hanging } from "../model/hanging";
import { middle, type Mark, type Paper } from "../model/paper";
import type { PhotoID } from "../model/sequence";
import { plural } from "../model/words";
import type * as api from "../net/api";
import { shotAddress } from "../net/program";

interface ShotsProps {
  desk: Desk;
  paper: Paper;
  reading: api.WallReading;
  hanging: Hanging;
}

/** The photographs with what was read drawn over them. */
export function Shots({ desk, paper, reading, hanging }: ShotsProps) {
  if (reading.state === "running") return null;
  return (
    <div class="paper-shots">
      {reading.shots.map((shot, i) => (
        <figure key={i} class="paper-shot" data-shot={i}>
          <figcaption><span class="path">{shot.name}</span> <span class="quiet">{outcome(shot)}</span></figcaption>
          {shot.error
            ? <p class="trouble"><strong>{shot.error}</strong> {shot.hint}</p>
            : (
              <div class="paper-scroll">
                <div class="paper-photo">
                  <img src={shotAddress(desk.title.id, reading.id, i)} width={shot.width} height={shot.height} alt={`Photograph ${i + 1} of the wall`} draggable={false} />
                  <Drawn shot={shot} marks={paper.marks.filter((m) => m.shot === i)} hanging={hanging} />
                  {paper.marks.map((m, k) => m.shot === i && <Label key={k} desk={desk} paper={paper} mark={m} index={k} hung={hangs(hanging).includes(m.number)} />)}
                </div>
              </div>
            )}
        </figure>
      ))}
    </div>
  );
}

function outcome(shot: api.WallShot): string {
  if (shot.error) return "";
  const said = [`${plural(shot.codes.length, "code")} read`];
  if (shot.unread.length > 0) said.push(`${shot.unread.length} could not be read: choose the ? and type the number`);
  if (shot.others.length > 0) said.push(`${shot.others.length} of another title, left out`);
  if (shot.codes.length + shot.unread.length + shot.others.length === 0) said.push("go nearer, or hold the camera still: a code must be 60 pixels wide");
  return said.join("; ") + ".";
}

/** Frames around codes, a firm line between two that face each other, a thin one in reading order. */
function Drawn({ shot, marks, hanging }: { shot: api.WallShot; marks: readonly Mark[]; hanging: Hanging }) {
  const wide = 1000;
  const high = (wide * shot.height) / shot.width;
  const place = (x: number, y: number) => `${(x * wide).toFixed(1)},${(y * high).toFixed(1)}`;
  const at = new Map<PhotoID, string>();
  for (const m of marks) at.set(m.number, place(middle(m).x, middle(m).y));
  const order = hangs(hanging).flatMap((id) => at.get(id) ?? []);
  const corners = (c: readonly number[]) => [0, 2, 4, 6].map((k) => place(c[k]!, c[k + 1]!)).join(" ");
  const pairs = hanging.spreads.flatMap((s) => (s.left && s.right && at.has(s.left) && at.has(s.right) ? [`${at.get(s.left)} ${at.get(s.right)}`] : []));
  return (
    <svg viewBox={`0 0 ${wide} ${high}`} aria-hidden="true">
      <polyline class="order under" points={order.join(" ")} />
      <polyline class="order" points={order.join(" ")} />
      {pairs.map((p) => <g key={p}><polyline class="pair under" points={p} /><polyline class="pair" points={p} /></g>)}
      {marks.map((m, i) => <polygon key={i} class={m.number ? "code" : "code unread"} points={corners(m.corners)} />)}
      {shot.others.map((o, i) => <polygon key={`other ${i}`} class="code other" points={corners(o.corners)} />)}
    </svg>
  );
}

interface LabelProps {
  desk: Desk;
  paper: Paper;
  mark: Mark;
  index: number;
  hung: boolean;
}

/** The number over a code: a button that chooses it. */
function Label({ desk, paper, mark, index, hung }: LabelProps) {
  const { chosen } = paper;
  const on = chosen !== undefined && ("photo" in chosen ? chosen.photo === mark.number && mark.number !== 0 : chosen.mark === index);
  const { x, y } = middle(mark);
  const choose = () => desk.setPaper({ ...paper, chosen: on ? undefined : mark.number ? { photo: mark.number } : { mark: index } });
  const name = mark.number ? `${mark.number}${hung ? "" : ", does not hang"}` : "? a code that could not be read";
  return (
    <button type="button" class="paper-label" data-mark={mark.number || "?"} data-off={mark.number && !hung ? "" : undefined}
      aria-pressed={on} aria-label={name} style={{ left: `${x * 100}%`, top: `${y * 100}%` }} onClick={choose}>{mark.number || "?"}</button>
  );
}
