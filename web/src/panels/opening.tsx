import { Trouble, Word } from "./parts";

/** While a title is being fetched, and when it cannot be. */
export function Opening({ trouble, again }: { trouble: { message: string; hint: string } | undefined; again(): void }) {
  return (
    <main class="titles">
      {trouble ? (
        <>
          <h1>It cannot be opened</h1>
          <Trouble of={trouble} />
          <p><Word act="again" strong onClick={again}>Try again</Word> <a class="word" href="#" data-act="titles">All titles</a></p>
        </>
      ) : <p class="quiet">Opening…</p>}
    </main>
  );
}
