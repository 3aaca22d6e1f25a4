import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import type { Desk } from "../model/desk";
import { at, indexOf, lying, type PhotoID, type Sequence, type SpreadID } from "../model/sequence";
import { facing } from "../model/words";
import { leftAndRight } from "../model/judged";
import type { Trial } from "../model/trial";
import type * as api from "../net/api";
import { Facing, useDesk, Word } from "./parts";

/** Says, as long as it is so, that a pair is only tried; here it is taken or left. */
export function TrialBand({ desk }: { desk: Desk }) {
  useDesk(desk);
  const trial = desk.trial.now;
  const first = useRef<HTMLElement>(null);
  const taken = useRef(false);
  const take = () => {
    taken.current = desk.trial.take();
  };
  const tried = trial ? `${trial.photo} ${trial.partner}` : "";
  useEffect(() => {
    if (!trial) return undefined;
    const back = document.activeElement as HTMLElement | null;
    first.current?.querySelector<HTMLElement>("[data-act='take-trial']")?.focus({ preventScroll: true });
    document.querySelector(`[data-region] [data-photo="${trial.partner}"]`)?.scrollIntoView({ block: "center" });
    desk.say(`Trying ${trial.partner} beside ${trial.photo} on ${pagesOf(trial.sequence, trial.spread)}. Take it or leave it; nothing has changed.`);
    return () => {
      // What was taken hangs now, and the button that tried it is no more.
      const card = document.querySelector<HTMLElement>(`[data-region] [data-photo="${trial.partner}"]`);
      const to = taken.current || !back?.isConnected ? card : back;
      taken.current = false;
      to?.focus({ preventScroll: true });
    };
  }, [tried]);
  if (!trial) return null;
  return (
    <section class="band" aria-label="A pair is tried" ref={first} data-panel="trial">
      <p>Trying <strong>{trial.partner}</strong> beside <strong>{trial.photo}</strong> on {pagesOf(trial.sequence, trial.spread)}. Nothing has changed.</p>
      <Word act="take-trial" strong onClick={take}>Take it</Word>
      <Word act="leave-trial" onClick={() => desk.trial.leave()}>Leave it</Word>
      <Word act="enlarge-trial" aria-pressed={trial.large} onClick={() => desk.trial.enlarge(!trial.large)}>See it large</Word>
    </section>
  );
}

function pagesOf(q: Sequence, spread: SpreadID): string {
  const left = 2 * indexOf(q, spread) + 2;
  return `pages ${left} and ${left + 1}`;
}

/** The spread that is tried, large, with those before and behind it. */
export function TrialLarge({ desk, trial }: { desk: Desk; trial: Trial }) {
  const { spreads } = trial.sequence;
  const i = indexOf(trial.sequence, trial.spread);
  const here = spreads[i];
  const ref = useBelow();
  if (!here) return null;
  return (
    <div class="large tried" ref={ref} role="img" aria-label={`${here.left} on the left page, ${here.right} on the right page`}>
      <Facing desk={desk} left={here.left} right={here.right} size={1600} />
      <div class="around">
        {[spreads[i - 1], spreads[i + 1]].map((s, k) => (
          <figure key={k}>
            {s && <Facing desk={desk} left={s.left} right={s.right} across={s.across} size={160} />}
            <figcaption>{s ? (k === 0 ? "Before it" : "Behind it") : k === 0 ? "It is the first spread" : "It is the last spread"}</figcaption>
          </figure>
        ))}
      </div>
    </div>
  );
}

/** The two side by side, large, while a partner in the list is pointed at. */
export function Large({ desk, photo, partner }: { desk: Desk; photo: PhotoID; partner: api.Partner }) {
  const q = desk.session.sequence;
  const stays = lying(q, photo).on === "page" || lying(q, partner.photo).on !== "page" ? photo : partner.photo;
  const lies = lying(q, stays);
  const other = stays === photo ? partner.photo : photo;
  const face = lies.on === "page" ? facing(lies.page) : undefined;
  const displaced = face ? at(q, face) : 0;
  const [left, right] = leftAndRight(q, photo, partner);
  const ref = useBelow();
  return (
    <div class="large" aria-hidden="true" ref={ref}>
      <Facing desk={desk} left={left} right={right} size={1600} />
      <p>{left} and {right}{displaced && displaced !== other ? `, in place of ${displaced}` : ""}</p>
    </div>
  );
}

/** Keeps what is seen large below the bar, and below the band that says what is tried. */
function useBelow() {
  const ref = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const bar = document.querySelector(".head-bar")?.getBoundingClientRect().bottom ?? 0;
    const band = document.querySelector<HTMLElement>(".band[data-panel='trial']")?.offsetHeight ?? 0; // it sticks below the bar
    ref.current?.style.setProperty("--from", `${bar + band}px`);
  });
  return ref;
}
