// The land's outline as web/build writes it: vendor/natural-earth/VERSION says how.

/** Of the square that outline points lie in. */
export const units = 32768;

/** Every ring of the land as its points one behind the other: x, y, x, y … in units, north at the top. */
export function readOutline(text: string): number[][] {
  return text.split("\n").filter((line) => line !== "").map((line) => {
    const [x, y] = line.split(" ", 2).map(Number);
    const ring = [x!, y!];
    for (let i = `${x} ${y} `.length; i + 1 < line.length; i += 2) {
      ring.push(ring.at(-2)! + line.charCodeAt(i) - 79, ring.at(-1)! + line.charCodeAt(i + 1) - 79);
    }
    return ring;
  });
}
