// Bringing children into order with as few moves as possible, so that what
// stays keeps its picture, its focus and its scroll position.

/** Elements that can be moved without being taken out, where the browser knows how. */
type Movable = ParentNode & { moveBefore?: (node: Node, before: Node | null) => void };

/**
 * Puts child before another in parent. moveBefore keeps focus and picture;
 * without it the focus is given back by hand.
 */
export function move(parent: Element, child: Element, before: Node | null): void {
  const movable = parent as Movable;
  if (child.isConnected && parent.isConnected && movable.moveBefore) {
    movable.moveBefore(child, before);
    return;
  }
  const focused = document.activeElement;
  const held = focused instanceof HTMLElement && child.contains(focused) ? focused : undefined;
  parent.insertBefore(child, before);
  if (held && document.activeElement !== held) held.focus({ preventScroll: true });
}

/**
 * Brings the wanted children into this order. Others stay until they are swept
 * out: what lies in them may be wanted elsewhere, and would lose its focus. The
 * result is what had to be moved or is new.
 */
export function arrange<E extends Element>(parent: Element, wanted: readonly E[]): E[] {
  const rank = new Map<Element, number>(wanted.map((el, i) => [el, i]));
  const moved: E[] = [];
  const ranks = [...parent.children].map((child) => rank.get(child)).filter((i) => i !== undefined);
  const still = new Set(longestRising(ranks));
  let before: Element | null = null;
  for (let i = wanted.length - 1; i >= 0; i--) {
    const el = wanted[i]!;
    if (!still.has(i)) {
      move(parent, el, before);
      moved.push(el);
    }
    before = el;
  }
  return moved;
}

/** Removes every child that is not wanted. */
export function sweep(parent: Element, wanted: ReadonlySet<Element>): void {
  for (const child of [...parent.children]) if (!wanted.has(child)) child.remove();
}

/** A longest strictly rising subsequence, by patience sorting, O(n log n). */
export function longestRising(values: readonly number[]): number[] {
  const tails: number[] = []; // tails[k]: index of the smallest end of a rising run of length k+1
  const before: number[] = [];
  values.forEach((v, i) => {
    let low = 0;
    let high = tails.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (values[tails[middle]!]! < v) low = middle + 1;
      else high = middle;
    }
    before[i] = low > 0 ? tails[low - 1]! : -1;
    tails[low] = i;
  });
  const run: number[] = [];
  for (let i = tails.at(-1) ?? -1; i >= 0; i = before[i]!) run.push(values[i]!);
  return run.reverse();
}

/** Writes words; touching the page only when they differ: words put anew are laid out anew. */
export function write(el: Element, words: string): void {
  if (el.textContent !== words) el.textContent = words;
}

/** Sets or takes away an attribute; touching the page only when it differs. */
export function mark(el: Element, name: string, value: string | undefined): void {
  if (value === undefined) el.removeAttribute(name);
  else if (el.getAttribute(name) !== value) el.setAttribute(name, value);
}
