import { useRef, useState } from "preact/hooks";
import { chapterOf, longestName } from "../model/chapter";
import type { Desk } from "../model/desk";
import { indexOf, type Sequence, type SpreadID } from "../model/sequence";
import { runText } from "../model/words";
import { SheetFrame, Trouble } from "./parts";

/** Names a run of spreads, from here to there. */
export function NameChapter({ desk, run }: { desk: Desk; run: { from: SpreadID; to: SpreadID } }) {
  const q = desk.session.sequence;
  const [from, setFrom] = useState(run.from);
  const [to, setTo] = useState(run.to === run.from ? endOf(q, run.from) : run.to);
  const [name, setName] = useState("");
  const [tried, setTried] = useState(false);
  const field = useRef<HTMLInputElement>(null);
  const close = () => desk.show({ naming: undefined });
  const intent = { want: "nameRun", from, to, name } as const;
  const told = desk.foretell(intent);
  const send = (e: Event) => {
    e.preventDefault();
    setTried(true);
    if (name.trim() === "") return field.current?.focus();
    if (told.can && desk.act(intent)) close();
  };
  return (
    <SheetFrame name="chapter" title="Name a chapter" close={close}>
      <form class="chapter-form" onSubmit={send}>
        <label>Its name
          <input ref={field} type="text" autoFocus maxLength={longestName} autoComplete="off" data-say="chapter-name" value={name} onInput={(e) => setName(e.currentTarget.value)} />
        </label>
        <Place label="From" q={q} value={from} set={setFrom} />
        <Place label="To" q={q} value={to} set={setTo} />
        {tried && !told.can && <Trouble of={{ message: name.trim() === "" ? "A chapter needs a name." : told.words, hint: "" }} />}
        <p class="quiet">The run moves as a whole by its name, and can be folded to a stack. What is moved into it joins it.</p>
        <p><button type="submit" class="word strong" data-act="name-run">Name the chapter</button></p>
      </form>
    </SheetFrame>
  );
}

function Place({ label, q, value, set }: { label: string; q: Sequence; value: SpreadID; set(id: SpreadID): void }) {
  return (
    <label>{label}
      <select data-say={`chapter-${label.toLowerCase()}`} value={value} onChange={(e) => set(Number(e.currentTarget.value))}>
        {q.spreads.map((s, i) => {
          const lie = [s.left, s.right].filter(Boolean).join(" and ");
          const chapter = chapterOf(q, s.chapter);
          return <option key={s.id} value={s.id}>{runText({ first: i, last: i })}{lie && `: ${lie}`}{chapter && `, in “${chapter.name}”`}</option>;
        })}
      </select>
    </label>
  );
}

/** Where a chapter that begins with a spread ends, unless the maker says otherwise: before the next one, or with its own. */
function endOf(q: Sequence, from: SpreadID): SpreadID {
  const index = indexOf(q, from);
  const own = q.spreads[index]?.chapter ?? 0;
  let last = index;
  while (last + 1 < q.spreads.length && q.spreads[last + 1]!.chapter === own) last++;
  return q.spreads[last]?.id ?? from;
}
