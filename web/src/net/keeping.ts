import { readKept } from "../model/kept";
import type { Desk } from "../model/desk";
import { windowName } from "./program";

/**
 * Keeps what waits for the program in this browser as well, so that closing or
 * reloading the window does not lose it; takes up what windows that are gone
 * have left. The lock tells those from windows that are open.
 */
export function keep(title: number, desk: Desk): () => void {
  const name = `pairwall-waiting-${title}-`;
  const mine = name + windowName;
  if (!("locks" in navigator)) return () => {}; // an old browser: leaving is warned of, and that is all
  let release: () => void = () => {};
  void navigator.locks.request(mine, () => new Promise<void>((done) => (release = done)));
  let stored = "";
  const store = () => {
    const { session } = desk;
    const waits = (!session.reachable && session.waiting > 0) || session.held.length > 0;
    if (!waits && stored === "") return;
    const now = waits ? JSON.stringify(session.kept) : "";
    if (now === stored) return;
    stored = now;
    try {
      if (now) localStorage.setItem(mine, now);
      else localStorage.removeItem(mine);
    } catch {
      stored = ""; // the browser keeps nothing, or no more: leaving is warned of
    }
  };
  const stop = desk.bell.on(store);
  void takeUp(name, mine, desk);
  return () => {
    store();
    stop();
    release();
  };
}

async function takeUp(name: string, mine: string, desk: Desk): Promise<void> {
  for (const key of leftBehind(name, mine)) {
    await navigator.locks.request(key, { ifAvailable: true }, (free) => {
      if (!free) return; // its window is open
      const kept = readKept(localStorage.getItem(key));
      localStorage.removeItem(key);
      desk.session.revive(kept);
    });
  }
}

function leftBehind(name: string, mine: string): string[] {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(name) && key !== mine);
  } catch {
    return [];
  }
}
