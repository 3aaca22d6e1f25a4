import { useEffect, useRef, useState } from "preact/hooks";
import type * as api from "../net/api";
import type { Desk } from "../model/desk";
import type { Photo } from "../model/facts";
import { directions, lookWords, mark, middle, spotIn, spotWords, stepped, type Spot } from "../model/gaze";
import { cardAddress } from "../net/program";
import { Word } from "./parts";

/** A spot that is being marked: where the face is, until it is said where it looks. */
export interface Marking {
  readonly spot: Spot | undefined;
  set(spot: Spot | undefined): void;
}

/** Where a face is being marked on a photo; another photo begins anew. */
export function useMarking(photo: Photo | undefined): Marking {
  const [spot, set] = useState<Spot>();
  useEffect(() => set(undefined), [photo?.number, photo?.gaze]);
  return { spot, set };
}

const longest = 1600; // pixels of the large card's longer side

/** The picture, with the mark of a face; a click on it marks one. It has its place before it is there, or what lies below would move under the hand. */
export function Marked({ desk, photo, marking }: { desk: Desk; photo: Photo; marking: Marking }) {
  const spot = marking.spot ?? photo.gaze;
  const click = (e: MouseEvent) => {
    if (!desk.readOnly) marking.set(spotIn((e.currentTarget as HTMLElement).getBoundingClientRect(), e.clientX, e.clientY));
  };
  return (
    <div class="marked" style={{ "--r": photo.width / photo.height, "--w": `${photo.width * Math.min(1, longest / Math.max(photo.width, photo.height))}px` }}>
      <img key={photo.number} class="shown" src={cardAddress(desk.title.id, photo.number, 1600)} alt={photo.caption || `Photo ${photo.number}, ${photo.name}`}
        width={photo.width} height={photo.height} draggable={false} onClick={click} />
      {spot && <Mark spot={spot} towards={marking.spot ? undefined : photo.gaze?.towards} fresh={marking.spot !== undefined} move={desk.readOnly ? undefined : marking.set} />}
    </div>
  );
}

interface MarkProps {
  spot: Spot;
  towards: api.Gaze["towards"] | undefined;
  fresh: boolean;
  move: ((spot: Spot) => void) | undefined;
}

/** The mark itself: arrows move it. */
function Mark({ spot, towards, fresh, move }: MarkProps) {
  const ref = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (fresh) ref.current!.focus({ preventScroll: true });
  }, [fresh]);
  const key = (e: KeyboardEvent) => {
    const next = stepped(spot, e.key, e.shiftKey);
    if (!next || !move) return;
    e.preventDefault();
    e.stopPropagation(); // outside the mark, arrows go from photo to photo
    move(next);
  };
  return (
    <button type="button" ref={ref} class="gaze-mark" data-towards={towards || undefined} style={{ left: `${spot.x * 100}%`, top: `${spot.y * 100}%` }}
      aria-label={`${spotWords(spot)}; arrows move it`} onKeyDown={key} />
  );
}

/** Says where the marked face looks, as one act. */
export function SayGaze({ desk, photo, marking }: { desk: Desk; photo: Photo; marking: Marking }) {
  const spot = marking.spot ?? photo.gaze;
  const say = (gaze: api.Gaze | undefined) => {
    const intent = mark(photo, gaze);
    if (!intent || desk.act(intent)) marking.set(undefined);
  };
  return (
    <section class="gaze" aria-labelledby="gaze-title">
      <h3 id="gaze-title">A face</h3>
      <p class="quiet" role="status">{marking.spot ? `${spotWords(marking.spot)}. Where does it look?` : lookWords(photo.gaze)}</p>
      {!desk.readOnly && (
        <p class="line-acts">
          {!spot && <Word act="mark-face" onClick={() => marking.set(middle)}>Mark one, or click on it</Word>}
          {spot && directions.map(({ towards, words }) => (
            <Word key={towards} act={`gaze-${towards || "nowhere"}`} aria-pressed={!marking.spot && photo.gaze?.towards === towards} onClick={() => say({ x: spot.x, y: spot.y, towards })}>{words}</Word>
          ))}
          {photo.gaze && <Word act="no-face" onClick={() => say(undefined)}>take the mark away</Word>}
          {marking.spot && <Word act="leave-mark" onClick={() => marking.set(undefined)}>leave it</Word>}
          <Word act="undo" disabled={desk.session.undoWords === ""} onClick={() => desk.undo()}>Undo</Word>
        </p>
      )}
    </section>
  );
}
