import type * as api from "./api";
import { windowName } from "./program";
import { listenAlone, listenTogether, type Feed } from "./stream";

/** What to do with each kind of news; opened is called whenever the stream stands, the first time too. */
export interface Listener {
  opened(): void;
  lost(): void;
  change(e: api.Changed): void;
  photo(e: api.PhotoEvent): void;
  bring(e: api.BringEvent): void;
  arriving(e: api.ArrivingEvent): void;
  refusal(e: api.RefusalEvent): void;
  title(e: api.TitleEvent): void;
  originals(e: api.Search): void;
  reading(e: api.ReadingEvent): void;
  pages(e: api.PagesEvent): void;
  printing(e: api.PrintingShown): void;
  tracks(): void;
  cover(): void;
  inquiry(): void;
  proofs(): void;
  versions(): void;
  copies(): void;
  reload(): void;
}

const kinds = ["change", "photo", "bring", "arriving", "refusal", "title", "pages", "originals", "reading", "printing", "tracks", "cover", "inquiry", "proofs", "versions", "copies", "reload"] as const;

/** Listens to what happens to a title until the returned function is called. */
export function listen(title: number, to: Listener): () => void {
  const address = `/api/titles/${title}/events`;
  const feed: Feed = {
    opened: () => to.opened(),
    lost: () => to.lost(),
    event: (name, data) => (to[name as (typeof kinds)[number]] as (e: unknown) => void)(JSON.parse(data)),
  };
  const alone = (f: Feed) => listenAlone(address, kinds, f);
  if (!("locks" in navigator) || !("BroadcastChannel" in window)) return alone(feed); // an old browser: one stream for each window
  return listenTogether(`pairwall-events-${title}`, Number.parseInt(windowName.slice(0, 12), 16) + 1, feed, {
    channel: (name) => new BroadcastChannel(name),
    locks: { request: (name, options, holder) => navigator.locks.request(name, options, holder) as Promise<void> },
    listen: alone,
    onSight: (call) => {
      const seen = () => { if (document.visibilityState === "visible") call(); };
      document.addEventListener("visibilitychange", seen);
      return () => document.removeEventListener("visibilitychange", seen);
    },
    later: (call, ms) => void setTimeout(call, ms),
  });
}
