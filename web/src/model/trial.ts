// A pair hung on the wall to be looked at, until it is taken or left.

import { build, type Intent } from "./acts";
import { apply } from "./change";
import type { PhotoID, Sequence, SpreadID } from "./sequence";

/** A pair hung on the wall to be looked at; nothing has changed. */
export interface Trial {
  readonly intent: Intent; // that would take it
  readonly photo: PhotoID;
  readonly partner: PhotoID;
  readonly spread: SpreadID; // that the two face each other on
  readonly sequence: Sequence; // the wall with them
  readonly large: boolean; // also seen large, above the wall
}

/** What of the desk a trial needs. */
interface Around {
  readonly session: { readonly sequence: Sequence };
  readonly bell: { ring(): void };
  say(words: string): void;
  act(intent: Intent): boolean;
}

/** The one pair that is tried at a time. */
export class Trying {
  private tried: Trial | undefined;

  constructor(private readonly around: Around) {}

  get now(): Trial | undefined {
    return this.tried;
  }

  /** Hangs two photos to be looked at. Nothing changes until it is taken. */
  hang(photo: PhotoID, partner: PhotoID, intent: Intent, large = true): void {
    this.tried = tried(this.around.session.sequence, { photo, partner, intent, large });
    this.around.bell.ring();
  }

  /** Hangs the pair on the wall as it is by now. */
  again(): void {
    if (this.tried) this.tried = tried(this.around.session.sequence, this.tried);
  }

  /** Ends the trial without a word: something else is done or shown. */
  end(): void {
    this.tried = undefined;
  }

  /** Ends the trial without a trace. */
  leave(): void {
    if (!this.tried) return;
    const { photo, partner } = this.tried;
    this.end();
    this.around.say(`Left: ${photo} and ${partner} were only tried; nothing has changed.`);
    this.around.bell.ring();
  }

  take(): boolean {
    return this.tried !== undefined && this.around.act(this.tried.intent);
  }

  /** Shows what is tried large, or on the wall alone. */
  enlarge(large: boolean): void {
    if (this.tried) this.tried = { ...this.tried, large };
    this.around.bell.ring();
  }
}

/** A wall with the pair on it, unless the two cannot come to face each other there. */
function tried(q: Sequence, { photo, partner, intent, large }: Pick<Trial, "photo" | "partner" | "intent" | "large">): Trial | undefined {
  const built = build(q, intent);
  const after = built.ok ? apply(q, built.value) : built;
  const spread = after.ok ? after.value.spreads.find((s) => [s.left, s.right].includes(photo) && [s.left, s.right].includes(partner)) : undefined;
  return after.ok && spread ? { intent, photo, partner, spread: spread.id, sequence: after.value, large } : undefined;
}
