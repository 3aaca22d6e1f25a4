import type { Desk } from "../model/desk";
import { missing } from "../model/facts";
import { fileWords, labColour, placeWords, takenWords } from "../model/photo";
import { onWall, type PhotoID } from "../model/sequence";
import { inGroups } from "../model/table";
import { lyingText, sentence } from "../model/words";
import type * as api from "../net/api";
import { Marked, SayGaze, useMarking } from "./gaze";
import { SheetFrame, useDesk, Word } from "./parts";

/** One photo, large, with everything known of it. */
export function Look({ desk }: { desk: Desk }) {
  useDesk(desk);
  const photo = desk.photos.get(desk.lookingAt);
  const marking = useMarking(photo);
  const close = () => desk.show({ sheet: undefined });
  if (!photo) return null;
  const order = neighbours(desk, photo.number);
  const i = order.indexOf(photo.number);
  const go = (by: number) => {
    const next = order[i + by];
    if (next) desk.show({ lookingAt: next });
  };
  const key = (e: KeyboardEvent) => {
    if (e.key === "ArrowRight") go(1);
    else if (e.key === "ArrowLeft") go(-1);
  };
  return (
    <SheetFrame name="look" title={`Photo ${photo.number}`} wide close={close} onKeyDown={key}>
      <div class="look">
        <figure>
          <Marked desk={desk} photo={photo} marking={marking} />
        </figure>
        <div class="facts">
          <p class="line-acts">
            <Word act="previous-photo" disabled={i <= 0} onClick={() => go(-1)}>Before it</Word>
            <Word act="next-photo" disabled={i < 0 || i >= order.length - 1} onClick={() => go(1)}>After it</Word>
          </p>
          <SayGaze desk={desk} photo={photo} marking={marking} />
          <Facts desk={desk} photo={photo} />
        </div>
      </div>
    </SheetFrame>
  );
}

/** The photos of the place it lies in, in the order they lie there. */
function neighbours(desk: Desk, photo: PhotoID): PhotoID[] {
  const q = desk.shown;
  const wall = onWall(q);
  if (wall.includes(photo)) return wall;
  if (q.box.includes(photo)) return [...q.box];
  return inGroups(desk.table.photos, desk.view.order).flatMap((group) => group.photos);
}

function Facts({ desk, photo }: { desk: Desk; photo: api.Photo }) {
  const film = [photo.roll && `roll ${photo.roll}`, photo.frame && `frame ${photo.frame}`].filter(Boolean).join(", ");
  return (
    <>
      <dl>
        <dt>Lies</dt><dd>{lyingText(desk.shown, photo.number)}</dd>
        <dt>File</dt><dd>{photo.name}<span class="quiet path">{photo.path}</span><span class="quiet">{fileWords(photo)}</span></dd>
        {photo.caption && <><dt>Caption</dt><dd data-caption="">{photo.caption}</dd></>}
        {photo.note && <><dt>Note</dt><dd>{photo.note}</dd></>}
        <dt>When</dt><dd>{takenWords(photo)}</dd>
        <dt>Where</dt><dd>{photo.label && <>{photo.label} </>}<span class={photo.label ? "quiet" : ""}>{placeWords(photo)}</span></dd>
        <dt>{photo.scan ? "Scanner" : "Camera"}</dt><dd>{photo.camera || "The file does not say."}{film && <span class="quiet">{sentence(film)}</span>}</dd>
        <dt>Colour</dt><dd><Strip photo={photo} /><span class="quiet">{photo.profile || "No profile in the file; sRGB was assumed."}</span></dd>
      </dl>
      {photo.findings && photo.findings.length > 0 && (
        <section aria-labelledby="findings">
          <h3 id="findings">What we noticed</h3>
          <ul>{photo.findings.map((f) => <li key={f.words}>{f.words} {f.hint}</li>)}</ul>
          {missing(photo) && <Word act="originals" onClick={() => desk.show({ sheet: "originals" })}>Find it again</Word>}
        </section>
      )}
    </>
  );
}

/** The photo's main colours, each as wide as it counts. */
function Strip({ photo }: { photo: api.Photo }) {
  return (
    <span class="strip" role="img" aria-label={`Its ${photo.palette.length} main colours`}>
      {photo.palette.map((s, i) => <span key={i} style={{ flexGrow: s.weight, background: labColour(s.lab) }} />)}
    </span>
  );
}
