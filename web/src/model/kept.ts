// Acts that wait for the program, as they can be kept outside of a window and
// taken up by another: plain values.

import type { Intent } from "./acts";
import { readChange, type Change, type Statement } from "./change";
import { readSequence, type Refusal, type Sequence } from "./sequence";

/** An intent without anything that cannot be written down. */
export type Written = Exclude<Intent, { want: "say" }> | { readonly want: "said"; readonly act: string; readonly says: readonly Statement[] };

export type Kept =
  | { readonly kind: "act"; readonly intent: Written; readonly change: Change; readonly after?: Sequence } // after: of the first, which may have arrived
  | { readonly kind: "undo" | "redo"; readonly act: string }
  | { readonly kind: "later"; readonly intent: Written } // made after an undo that waits
  | { readonly kind: "held"; readonly intent: Written; readonly act: string; readonly why: Refusal };

export function written(intent: Intent): Written {
  return intent.want === "say" ? { want: "said", act: intent.act, says: intent.says() } : intent;
}

export function unwritten(intent: Written): Intent {
  return intent.want === "said" ? { want: "say", act: intent.act, says: () => intent.says } : intent;
}

/** Reads what was kept; what makes no sense is nothing. */
export function readKept(text: string | null): Kept[] {
  try {
    const list = JSON.parse(text ?? "[]") as Kept[];
    return list.map((k) => (k.kind === "act" ? { ...k, change: readChange(k.change), ...(k.after ? { after: readSequence(k.after) } : {}) } : k));
  } catch {
    return [];
  }
}
