// One stream of events for all windows on a title. A browser keeps six
// connections to a host (HTTP/1.1), and a stream holds one for as long as its
// window is open: with six windows, none could be answered any more. So one
// window listens and tells the others; when it closes, the next one does.

/** What comes over a stream. opened is called whenever it stands, the first time too: what happened before may have been missed. */
export interface Feed {
  opened(): void;
  lost(): void;
  event(name: string, data: string): void;
}

/** What windows of one browser share. */
export interface Between {
  channel(name: string): Channel;
  readonly locks: Locks;
  /** Opens a stream of this window's own; the result closes it. */
  listen(to: Feed): () => void;
  /** Calls back whenever the window comes into sight; the result ends it. */
  onSight(call: () => void): () => void;
  later(call: () => void, ms: number): void;
}

export interface Channel {
  postMessage(message: Said): void;
  onmessage: ((e: MessageEvent<Said>) => void) | null;
  close(): void;
}

/** As navigator.locks: the promise ends with the holder's, and fails when the lock is stolen or the request given up. */
export interface Locks {
  request(name: string, options: { signal?: AbortSignal; steal?: boolean }, holder: () => Promise<void>): Promise<void>;
}

type Said =
  | { readonly is: "asked"; readonly by: number } // does the stream stand?
  | { readonly is: "stands" | "away"; readonly to: number } // the answer, to one window or (0) to all
  | { readonly is: "opening" } // another answer: it will be told
  | { readonly is: "event"; readonly name: string; readonly data: string };

const patience = 3000; // ms without an answer before the listening window counts as stuck; no source

/**
 * Listens together with the other windows until the returned function is
 * called. name tells streams apart, window this one from the others (not 0).
 */
export function listenTogether(name: string, window: number, feed: Feed, between: Between): () => void {
  const channel = between.channel(name);
  let stream: (() => void) | undefined; // while it is this window that listens
  let stands: boolean | undefined; // what is known of the stream
  let heard = 0; // answers so far, to tell silence
  let closed = false;
  let waiting = new AbortController();

  const say = (said: Said) => { if (!closed) channel.postMessage(said); };
  const tell = (now: boolean) => {
    stands = now;
    if (now) feed.opened();
    else feed.lost();
  };
  const lead = () => new Promise<void>((done) => {
    const stop = between.listen({
      opened: () => { tell(true); say({ is: "stands", to: 0 }); },
      lost: () => { tell(false); say({ is: "away", to: 0 }); },
      event: (kind, data) => { feed.event(kind, data); say({ is: "event", name: kind, data }); },
    });
    stream = () => { stop(); done(); };
  });
  const follow = (how: { steal?: boolean }) => {
    waiting.abort();
    waiting = new AbortController();
    const options = how.steal ? { steal: true } : { signal: waiting.signal };
    between.locks.request(name, options, () => (closed ? Promise.resolve() : lead())).catch(() => {
      const led = stream;
      stream = undefined;
      led?.();
      if (led && !closed) { // another window took over, because this one did not answer: it slept
        follow({});
        ask();
      }
    });
  };
  /** Asks whether the stream stands; in silence the window that should listen is stuck, and this one takes over. */
  const ask = () => {
    const before = heard;
    say({ is: "asked", by: window });
    between.later(() => { if (!closed && !stream && heard === before) follow({ steal: true }); }, patience);
  };
  channel.onmessage = ({ data: said }) => {
    if (closed) return;
    if (said.is === "asked") {
      if (stream) say(stands === undefined ? { is: "opening" } : { is: stands ? "stands" : "away", to: said.by });
    } else if (!stream) {
      heard++;
      if (said.is === "event") feed.event(said.name, said.data);
      else if (said.is !== "opening" && (said.to === 0 || said.to === window)) {
        const now = said.is === "stands";
        if (said.to === 0 || now !== stands) tell(now);
      }
    }
  };
  follow({});
  ask();
  const unsee = between.onSight(() => { if (!stream) ask(); });
  return () => {
    closed = true;
    unsee();
    waiting.abort();
    stream?.();
    stream = undefined;
    channel.close();
  };
}

const firstPause = 400; // ms; no source: short enough to be back before the maker looks up
const longestPause = 5000;

/**
 * A stream of one's own. The browser's own reconnecting gives up for good on
 * some errors, so ours tries for ever.
 */
export function listenAlone(address: string, kinds: readonly string[], feed: Feed): () => void {
  let source: EventSource | undefined;
  let timer = 0;
  let pause = firstPause;
  const open = () => {
    source = new EventSource(address);
    source.onopen = () => {
      pause = firstPause;
      feed.opened();
    };
    source.onerror = () => {
      source?.close();
      feed.lost();
      timer = window.setTimeout(open, pause);
      pause = Math.min(pause * 2, longestPause);
    };
    for (const kind of kinds) source.addEventListener(kind, (e) => feed.event(kind, (e as MessageEvent<string>).data));
  };
  open();
  return () => {
    clearTimeout(timer);
    source?.close();
  };
}
