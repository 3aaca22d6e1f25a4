/** Keeps what was made last under a name, as long as what it was made from is the same. */
export class Memo {
  private readonly kept = new Map<string, { readonly from: readonly unknown[]; readonly made: unknown }>();

  of<T>(name: string, from: readonly unknown[], make: () => T): T {
    const was = this.kept.get(name);
    if (was && was.from.every((v, i) => v === from[i])) return was.made as T;
    const made = make();
    this.kept.set(name, { from, made });
    return made;
  }
}
