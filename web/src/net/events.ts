import type * as api from "./api";

/** What to do with each kind of news; opened is called whenever the stream stands, the first time too. */
export interface Listener {
  opened(): void;
  lost(): void;
  change(e: api.Changed): void;
  photo(e: api.PhotoEvent): void;
  bring(e: api.BringEvent): void;
  refusal(e: api.RefusalEvent): void;
  title(e: api.TitleEvent): void;
  originals(e: api.Search): void;
  tracks(): void;
  versions(): void;
  reload(): void;
}

const firstPause = 400; // ms; no source: short enough to be back before the maker looks up
const longestPause = 5000;

/**
 * Listens to what happens to a title until the returned function is called. The
 * browser's own reconnecting gives up for good on some errors, so ours tries
 * for ever.
 */
export function listen(title: number, to: Listener): () => void {
  let source: EventSource | undefined;
  let timer = 0;
  let pause = firstPause;

  const open = () => {
    source = new EventSource(`/api/titles/${title}/events`);
    source.onopen = () => {
      pause = firstPause;
      to.opened();
    };
    source.onerror = () => {
      source?.close();
      to.lost();
      timer = window.setTimeout(open, pause);
      pause = Math.min(pause * 2, longestPause);
    };
    on("change", (e: api.Changed) => to.change(e));
    on("photo", (e: api.PhotoEvent) => to.photo(e));
    on("bring", (e: api.BringEvent) => to.bring(e));
    on("refusal", (e: api.RefusalEvent) => to.refusal(e));
    on("title", (e: api.TitleEvent) => to.title(e));
    on("originals", (e: api.Search) => to.originals(e));
    on("tracks", () => to.tracks());
    on("versions", () => to.versions());
    on("reload", () => to.reload());
  };
  const on = <T>(name: string, take: (e: T) => void) => {
    source!.addEventListener(name, (e) => take(JSON.parse((e as MessageEvent<string>).data) as T));
  };
  open();
  return () => {
    clearTimeout(timer);
    source?.close();
  };
}
