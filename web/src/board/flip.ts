// Lets the eye follow what moved: whatever is in sight before and after a change
// glides from its old place to its new one.

const duration = 180; // ms; no source: long enough to be seen, over before the next act

const calm = matchMedia("(prefers-reduced-motion: reduce)");

interface Placed {
  readonly el: HTMLElement;
  readonly box: DOMRect;
  readonly parent: Element | null;
}

/** Notes where things lie; the returned function glides them from there to where they lie then. */
export function glide(elements: Iterable<HTMLElement>): () => void {
  if (calm.matches || document.visibilityState !== "visible") return () => {};
  const before: Placed[] = [];
  const place = places();
  for (const el of elements) {
    const box = place(el);
    if (box) before.push({ el, box, parent: el.parentElement });
  }
  return () => {
    const place = places();
    const now = before.map(({ el }) => (el.isConnected ? place(el) : undefined));
    before.forEach(({ el, box, parent }, i) => {
      const after = now[i];
      if (!after) return;
      // A card that stays on its page is carried along by the spread it lies on.
      if (el.dataset.photo && parent === el.parentElement && el.closest("[data-spread]")) return;
      const x = box.left - after.left;
      const y = box.top - after.top;
      if (Math.abs(x) < 1 && Math.abs(y) < 1) return;
      const scale = el.dataset.photo && after.height > 0 ? box.height / after.height : 1;
      const from = scale === 1 ? { translate: `${x}px ${y}px` } : { transformOrigin: "0 0", translate: `${x}px ${y}px`, scale };
      const to = scale === 1 ? { translate: "none" } : { transformOrigin: "0 0", translate: "none", scale: 1 };
      el.animate([from, to], { duration, easing: "cubic-bezier(.2, .7, .2, 1)" });
    });
  };
}

/** Where elements in sight lie. Asking for a card's place would lay out a spread far from sight, so that is asked first. */
function places(): (el: HTMLElement) => DOMRect | undefined {
  const near = new Map<Element, boolean>();
  return (el) => {
    const row = el.parentElement?.closest(".spread, .print");
    if (row && !near.has(row)) near.set(row, inSight(row.getBoundingClientRect()));
    if (row && !near.get(row)) return undefined;
    const box = el.getBoundingClientRect();
    return inSight(box) ? box : undefined;
  };
}

function inSight(box: DOMRect): boolean {
  return box.bottom > -100 && box.top < innerHeight + 100 && box.height > 0;
}
