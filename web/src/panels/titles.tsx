import { useEffect, useRef, useState } from "preact/hooks";
import type * as api from "../net/api";
import { momentWords } from "../model/photo";
import { plural } from "../model/words";
import { amendTitle, beginTitle, titles, troubleOf, unpack } from "../net/program";
import { Trouble, Word } from "./parts";

/** The first page: every title there is, and how to begin one. */
export function Titles({ go }: { go(title: number): void }) {
  const [list, setList] = useState<api.TitleSummary[]>();
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const load = () => titles().then((t) => { setList(t.titles); setTrouble(undefined); }, (err) => setTrouble(troubleOf(err)));
  useEffect(() => void load(), []);
  return (
    <main class="titles" data-panel="titles">
      <header><h1>Pairwall</h1><p>Photographs find who they face, and in which order.</p></header>
      {trouble && <div><Trouble of={trouble} /><Word act="again" onClick={() => void load()}>Try again</Word></div>}
      {list && list.length > 0 && (
        <section aria-labelledby="all-titles">
          <h2 id="all-titles">Your titles</h2>
          <ul class="title-list">{list.map((t) => <TitleLine key={t.id} title={t} go={go} changed={load} />)}</ul>
        </section>
      )}
      {list && <Begin first={list.length === 0} go={go} />}
      {list && <TakeIn go={go} />}
    </main>
  );
}

function TitleLine({ title, go, changed }: { title: api.TitleSummary; go(title: number): void; changed(): void }) {
  const [naming, setNaming] = useState(false);
  const touched = title.lastAct && !title.lastAct.startsWith("0001") ? `last changed ${momentWords(title.lastAct, new Date())}` : "not begun yet";
  if (naming) {
    return <li><NameForm label="New name of this title" value={title.name} submit="Rename" done={() => setNaming(false)}
      save={async (name) => { await amendTitle(title.id, { name }); changed(); }} /></li>;
  }
  return (
    <li>
      <button type="button" class="open-title" data-act="open-title" onClick={() => go(title.id)}>
        <span class="title-name">{title.name}</span>
        <span class="title-facts">{plural(title.photos, "photo")}, {plural(title.spreads, "spread")}, {touched}</span>
      </button>
      <Word act="rename-title" aria-label={`Rename ${title.name}`} onClick={() => setNaming(true)}>Rename</Word>
    </li>
  );
}

/** A line to write a name in; the program's refusal is shown below it. */
export function NameForm({ label, value = "", submit, save, done }: { label: string; value?: string; submit: string; save(name: string): Promise<void>; done?(): void }) {
  const [name, setName] = useState(value);
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const send = async (e: Event) => {
    e.preventDefault();
    try {
      await save(name.trim());
      setTrouble(undefined);
      done?.();
    } catch (err) {
      setTrouble(troubleOf(err));
    }
  };
  return (
    <form class="name-form" onSubmit={send}>
      <label><span>{label}</span><input type="text" value={name} maxLength={200} required autoComplete="off" onInput={(e) => setName(e.currentTarget.value)} /></label>
      <button type="submit" class="word strong" data-act="save-name">{submit}</button>
      {done && <Word act="leave" onClick={done}>Leave it</Word>}
      {trouble && <Trouble of={trouble} />}
    </form>
  );
}

/** A title that was packed on another machine. */
function TakeIn({ go }: { go(title: number): void }) {
  const file = useRef<HTMLInputElement>(null);
  const [taking, setTaking] = useState(false);
  const [trouble, setTrouble] = useState<{ message: string; hint: string }>();
  const take = async (pack: File | undefined) => {
    if (!pack) return;
    setTaking(true);
    try {
      go((await unpack(pack)).id);
    } catch (err) {
      setTrouble(troubleOf(err));
      setTaking(false);
    }
  };
  return (
    <section aria-labelledby="take-in">
      <h2 id="take-in">Open one that was packed</h2>
      <p>{taking ? <span role="status">Looking through it and taking it in…</span> : <Word act="unpack" onClick={() => file.current!.click()}>Choose the file</Word>}</p>
      <input ref={file} type="file" hidden accept=".zip,application/zip" aria-label="A packed title"
        onChange={(e) => { void take(e.currentTarget.files?.[0]); e.currentTarget.value = ""; }} />
      {trouble && <Trouble of={trouble} />}
    </section>
  );
}

function Begin({ first, go }: { first: boolean; go(title: number): void }) {
  return (
    <section class="begin" aria-labelledby="begin">
      <h2 id="begin">{first ? "Begin with a title" : "Begin another title"}</h2>
      <NameForm label="What it is called, for now" submit="Begin" save={async (name) => go((await beginTitle(name)).id)} />
      {first && (
        <ol class="steps">
          <li><strong>Bring photographs in.</strong> A folder of scans or files; the originals stay where they are, untouched.</li>
          <li><strong>Find who faces whom.</strong> Drag prints from the table onto the wall, or ask who could face one and why.</li>
          <li><strong>Live with the order.</strong> Every sitting is kept by itself; any earlier wall can be brought back.</li>
        </ol>
      )}
    </section>
  );
}
