import { keyWords } from "../model/commands";
import type { Desk } from "../model/desk";
import { rows } from "../model/groups";
import { SheetFrame } from "./parts";

const anywhere = rows.flatMap((row) => row.key ? [[row.key, row.does ?? row.words] as const] : []);

/** What can be done from the keyboard. */
export function Keys({ desk }: { desk: Desk }) {
  return (
    <SheetFrame name="keys" title="Keys" close={() => desk.show({ sheet: undefined })}>
      <p class="quiet">Tab leads to the wall, the table and the box. Letters act on the card that has the focus, and never while you write.</p>
      <dl class="keys">{[...keyWords, ...anywhere].map(([key, words]) => <div key={key}><dt><kbd>{key}</kbd></dt><dd>{words}</dd></div>)}</dl>
    </SheetFrame>
  );
}
