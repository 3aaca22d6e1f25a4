// What is typed to choose pages by number.

/** The pages named by "2, 3, 8-9", as far as there are any of that number, in the order typed and each once. */
export function pagesIn(typed: string, count: number): number[] {
  const found = new Set<number>();
  for (const part of typed.split(/[^\d–-]+/)) {
    const [from, to] = part.split(/[–-]/).map(Number);
    if (!from) continue;
    for (let page = from; page <= Math.min(to || from, count); page++) found.add(page);
  }
  return [...found];
}
