// Pairing with the best partner by one act: the engine's first proposal that
// takes no other pair apart.

import type * as api from "../net/api";
import type { Intent } from "./acts";
import { leftAndRight } from "./judged";
import { indexOf, lying, paired, type PhotoID, type Sequence } from "./sequence";

/** Whether a photo could be given a partner as it lies: it faces none, and does not lie on a page that stands alone. */
export function single(q: Sequence, photo: PhotoID): boolean {
  const lies = lying(q, photo);
  if (lies.on !== "page") return true;
  const spread = q.spreads[indexOf(q, lies.page.spread)];
  return spread !== undefined && !paired(spread) && !spread.across;
}

/** The act that pairs photo with the first of those proposed who is free; undefined when none is. */
export function bestIntent(q: Sequence, photo: PhotoID, proposed: readonly Pick<api.Partner, "photo" | "side">[]): Intent | undefined {
  const hangs = (id: PhotoID) => lying(q, id).on === "page";
  const pinned = (id: PhotoID) => {
    const lies = lying(q, id);
    return lies.on === "page" && q.spreads[indexOf(q, lies.page.spread)]?.pinned;
  };
  const best = proposed.find((p) => single(q, p.photo) && !pinned(p.photo));
  if (!best || !single(q, photo)) return undefined;
  if (hangs(photo) || hangs(best.photo)) return { want: "pairUp", photo, partner: best.photo };
  const [left, right] = leftAndRight(q, photo, best);
  return { want: "pairUp", photo: left, partner: right };
}
