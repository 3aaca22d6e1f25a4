import { useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import type * as api from "../net/api";
import * as program from "../net/program";
import { usePlaces, type Places } from "./edition";
import { Limits, Prices, Rates, Sender, Shelf } from "./postage-lists";
import { Outlay } from "./postage-outlay";
import { SheetFrame, Trouble, useDesk, Word } from "./parts";
import { useSaved } from "./saved";

const parts = [["outlay", "What it costs"], ["shelf", "Packing shelf"], ["prices", "Prices and zones"], ["limits", "Limits and rates"], ["sender", "Sender"]] as const;
type Part = (typeof parts)[number][0];

/** What the lists of the post have in common: what they are now, and how they are kept. */
export interface Lists {
  readonly desk: Desk;
  readonly of: api.Post;
  readonly places: Places;
  keep(change: (is: api.Post) => Partial<api.Post>): Promise<boolean>; // change is given what is kept by then
}

/** What parcels are made with, and what it costs to send them. */
export function Postage({ desk }: { desk: Desk }) {
  useDesk(desk);
  const places = usePlaces();
  const [at, setAt] = useState<Part>("outlay");
  const id = desk.title.id;
  const { now, trouble, save } = useSaved(desk, () => program.post(id));
  const keep = (change: (is: api.Post) => Partial<api.Post>) =>
    save((is) => program.savePost(id, { revision: is.revision, post: { ...is.post, ...change(is.post) } }), "Kept.");
  const lists = now && places.there ? { desk, of: now.post, places, keep } : undefined;
  return (
    <SheetFrame name="postage" title="Packing shelf and postage" whole close={() => desk.show({ sheet: undefined })}>
      <nav class="copies-nav" aria-label="Postage">
        {parts.map(([part, words]) => <Word key={part} act={`postage-${part}`} aria-current={at === part ? "page" : undefined} onClick={() => setAt(part)}>{words}</Word>)}
      </nav>
      {trouble && <Trouble of={trouble} />}
      {!lists ? !trouble && <p class="quiet" role="status">Looking at the lists.</p>
        : at === "outlay" ? <Outlay {...lists} />
        : at === "shelf" ? <Shelf {...lists} />
        : at === "prices" ? <Prices {...lists} />
        : at === "limits" ? <div class="copies-part"><Limits {...lists} /><Rates {...lists} /></div>
        : <Sender {...lists} />}
      <p class="care">Weights, limits, prices and forms differ by country and change: your post office decides. Nothing here is looked up for you; each list says when and where you read it.</p>
    </SheetFrame>
  );
}
