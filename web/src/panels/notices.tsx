import type { Desk } from "../model/desk";
import { momentWords } from "../model/photo";
import { sentence } from "../model/words";
import { useDesk, Word } from "./parts";
import { bringBack } from "./versions";

/** What the maker should read: refusals, and acts kept to be done again. */
export function Notices({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { held } = desk.session;
  if (desk.notices.length === 0 && held.length === 0) return null;
  return (
    <section class="notices" aria-label="Notices">
      {held.map((h) => (
        <div class="notice" key={`held-${h.key}`} data-held={h.key}>
          <p><strong>Not done: {sentence(h.act)}</strong> {h.why.message} {h.why.hint}</p>
          <Word act="again" strong onClick={() => desk.session.again(h.key)}>Do it again</Word>
          <Word act="forget" onClick={() => desk.session.forget(h.key)}>Let it be</Word>
        </div>
      ))}
      {desk.notices.map((n) => (
        <div class="notice" key={n.key}>
          <p><strong>{n.message}</strong> {n.hint}</p>
          <Word act="put-away" onClick={() => desk.putAway(n.key)}>Put away</Word>
        </div>
      ))}
    </section>
  );
}

/** Says, as long as it is so, that this is not the present wall. */
export function EarlierBand({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { earlier } = desk;
  if (!earlier) return null;
  const { version } = earlier;
  const when = momentWords(version.at, new Date());
  return (
    <section class="band" aria-label="An earlier version">
      <p>You are looking at {version.named ? <strong>{version.name}</strong> : "the wall"} as it was {when}. Since then: {version.words}.</p>
      <Word act="bring-back" strong onClick={() => void bringBack(desk, version.id)}>Bring it back</Word>
      <Word act="return-to-present" onClick={() => desk.lookAtVersion(undefined)}>Return to the present</Word>
    </section>
  );
}
