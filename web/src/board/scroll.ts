// Scrolling while something is carried to the edge of what is in sight.

const zone = 64; // CSS pixels at either edge; no source
const fastest = 22; // CSS pixels per frame at the very edge
const patience = 220; // ms in the zone before it starts: passing through on the way elsewhere must not scroll

/**
 * Scrolls the window, or the tray the point is over, as long as the point stays
 * near an edge. scrolled is called after each step. Call the result to stop.
 */
export function edgeScroll(point: () => { x: number; y: number } | undefined, scrolled: () => void): () => void {
  let frame = 0;
  let since = 0;
  const step = (now: number) => {
    frame = requestAnimationFrame(step);
    const p = point();
    const pull = p ? pullAt(p.x, p.y) : undefined;
    if (!pull) {
      since = 0;
      return;
    }
    if (since === 0) since = now;
    if (now - since < patience) return;
    const before = pull.of.scrollTop;
    pull.of.scrollTop += pull.by;
    if (pull.of.scrollTop !== before) scrolled();
  };
  frame = requestAnimationFrame(step);
  return () => cancelAnimationFrame(frame);
}

/** What is to be scrolled, and by how much, for a point of the window. */
function pullAt(x: number, y: number): { of: Element; by: number } | undefined {
  const tray = document.elementFromPoint(x, y)?.closest(".prints");
  if (tray) {
    const box = tray.getBoundingClientRect();
    const by = speed(y, box.top, box.bottom, Math.min(zone, box.height / 4));
    return by === 0 ? undefined : { of: tray, by };
  }
  const top = document.querySelector(".head-bar")?.getBoundingClientRect().bottom ?? 0;
  const bottom = document.querySelector(".tray")?.getBoundingClientRect().top ?? innerHeight;
  const by = speed(y, Math.max(0, top), Math.min(innerHeight, bottom), Math.min(zone, (bottom - top) / 5));
  return by === 0 ? undefined : { of: document.scrollingElement!, by };
}

function speed(y: number, top: number, bottom: number, zone: number): number {
  if (y < top + zone) return -Math.ceil(fastest * Math.min(1, (top + zone - y) / zone));
  if (y > bottom - zone) return Math.ceil(fastest * Math.min(1, (y - bottom + zone) / zone));
  return 0;
}
