import { firstView, type View } from "../model/beside";

const key = "pairwall-view";

/** How the maker liked to look at it last time, in this browser. */
export function savedView(): View {
  try {
    const saved = JSON.parse(localStorage.getItem(key) ?? "{}") as Partial<View>;
    return { ...firstView, ...saved };
  } catch {
    return firstView; // a browser that keeps nothing: the page works all the same
  }
}

export function saveView(view: View): void {
  try {
    localStorage.setItem(key, JSON.stringify(view));
  } catch {
    return; // as above
  }
}
