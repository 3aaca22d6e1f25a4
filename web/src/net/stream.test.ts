import assert from "node:assert/strict";
import { test } from "node:test";
import { listenTogether, type Between, type Channel, type Feed, type Locks } from "./stream";

/** A browser with windows: their channel, their locks and the streams they opened. */
class Browser implements Locks {
  readonly channels = new Set<Channel>();
  readonly streams: { window: number; feed: Feed; open: boolean }[] = [];
  private held: { steal(): void } | undefined;
  private queue: (() => void)[] = [];
  private timers: (() => void)[] = [];
  asleep = 0; // a window that hears nothing

  async request(_: string, options: { signal?: AbortSignal; steal?: boolean }, holder: () => Promise<void>): Promise<void> {
    if (options.steal) this.held?.steal();
    else if (this.held) {
      await new Promise<void>((go, stop) => {
        this.queue.push(go);
        options.signal?.addEventListener("abort", () => { this.queue = this.queue.filter((q) => q !== go); stop(new Error("AbortError")); });
      });
    }
    const stolen = new Promise<never>((_go, stop) => (this.held = { steal: () => stop(new Error("AbortError")) }));
    const mine = this.held;
    try {
      await Promise.race([holder(), stolen]);
    } finally {
      if (this.held === mine) {
        this.held = undefined;
        this.queue.shift()?.();
      }
    }
  }

  for(window: number): Between {
    return {
      locks: this,
      channel: () => this.channel(window),
      listen: (feed) => {
        const stream = { window, feed, open: true };
        this.streams.push(stream);
        return () => (stream.open = false);
      },
      onSight: () => () => {},
      later: (call) => void this.timers.push(call),
    };
  }

  private channel(window: number): Channel {
    const own: Channel = {
      onmessage: null,
      postMessage: (data) => {
        for (const other of this.channels) if (other !== own) queueMicrotask(() => other.onmessage?.({ data } as MessageEvent));
      },
      close: () => this.channels.delete(own),
    };
    const asleep = () => this.asleep === window;
    const guarded = new Proxy(own, { get: (t, key) => (key === "onmessage" && asleep() ? null : Reflect.get(t, key)) });
    this.channels.add(guarded);
    return own;
  }

  get open() {
    return this.streams.filter((s) => s.open);
  }

  time(): void {
    for (const call of this.timers.splice(0)) call();
  }
}

function open(browser: Browser, window: number) {
  const heard: string[] = [];
  const leave = listenTogether("events", window, {
    opened: () => heard.push("opened"), lost: () => heard.push("lost"), event: (name, data) => heard.push(`${name} ${data}`),
  }, browser.for(window));
  return { heard, leave };
}

async function settled(): Promise<void> {
  for (let i = 0; i < 40; i++) await Promise.resolve();
}

test("of many windows one listens, and all hear", async () => {
  const browser = new Browser();
  const windows = [1, 2, 3, 4, 5, 6, 7, 8].map((n) => open(browser, n));
  await settled();
  assert.equal(browser.open.length, 1);
  browser.open[0]!.feed.opened();
  browser.open[0]!.feed.event("change", "{}");
  await settled();
  for (const { heard } of windows) assert.deepEqual(heard, ["opened", "change {}"]);
});

test("a window that comes later is told at once that the stream stands", async () => {
  const browser = new Browser();
  open(browser, 1);
  await settled();
  browser.open[0]!.feed.opened();
  const late = open(browser, 2);
  await settled();
  assert.deepEqual(late.heard, ["opened"]);
});

test("when the window that listens closes, the next listens and all fetch anew", async () => {
  const browser = new Browser();
  const [first, second, third] = [open(browser, 1), open(browser, 2), open(browser, 3)];
  await settled();
  browser.open[0]!.feed.opened();
  await settled();
  first.leave();
  await settled();
  assert.equal(browser.open.length, 1);
  assert.equal(browser.open[0]!.window, 2);
  browser.open[0]!.feed.opened();
  await settled();
  assert.deepEqual(second.heard, ["opened", "opened"]);
  assert.deepEqual(third.heard, ["opened", "opened"]);
});

test("a stream that is lost is lost for all, and back for all", async () => {
  const browser = new Browser();
  const [first, second] = [open(browser, 1), open(browser, 2)];
  await settled();
  const { feed } = browser.open[0]!;
  feed.lost();
  await settled();
  feed.opened();
  await settled();
  assert.deepEqual(first.heard, ["lost", "opened"]);
  assert.deepEqual(second.heard, ["lost", "opened"]);
});

test("a window that sleeps on its stream is relieved, and follows when it wakes", async () => {
  const browser = new Browser();
  const first = open(browser, 1);
  await settled();
  browser.open[0]!.feed.opened();
  browser.time();
  browser.asleep = 1;
  const second = open(browser, 2);
  await settled();
  browser.time();
  browser.asleep = 0;
  await settled();
  assert.deepEqual(browser.open.map((s) => s.window), [2]);
  browser.open[0]!.feed.opened();
  browser.open[0]!.feed.event("change", "1");
  await settled();
  assert.equal(second.heard.at(-1), "change 1");
  assert.equal(first.heard.at(-1), "change 1");
});
