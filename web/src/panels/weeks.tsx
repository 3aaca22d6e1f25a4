import type { Desk } from "../model/desk";
import { inWeeks } from "../model/weeks";
import { SheetFrame, Trouble, useDesk, Word } from "./parts";
import { Plates } from "./plates";
import { useVersions } from "./versions";

/** All versions of all lines of work over the weeks. */
export function Weeks({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { list, trouble } = useVersions(desk);
  const close = () => desk.show({ sheet: undefined });
  return (
    <SheetFrame name="weeks" title="All the weeks" wide close={close}>
      {trouble && <Trouble of={trouble} />}
      {list?.versions.length === 0 && <p class="empty">No version yet. The first is kept at the end of this sitting; come back to this page tomorrow.</p>}
      {list && inWeeks(list.versions, new Date()).map((week) => (
        <section key={week.words} class="week" aria-label={week.words}>
          <h3>{week.words}</h3>
          <Plates desk={desk} list={list} versions={week.versions} />
        </section>
      ))}
      {list && list.versions.length > 0 && (
        <footer class="sheet-foot">
          <Word act="thin" onClick={() => desk.show({ sheet: "thin" })}>Thin out old ones</Word>
          <Word act="settled" onClick={() => desk.show({ sheet: "settled" })}>What has settled</Word>
        </footer>
      )}
    </SheetFrame>
  );
}
