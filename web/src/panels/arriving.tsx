import { useEffect, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import type { Arriving as OnItsWay } from "../model/arriving";
import { plural } from "../model/words";
import { previewAddress } from "../net/program";
import { useDesk } from "./parts";

const eachFrame = 4; // pictures: hundreds at once would make the wall stutter; no source

/** Photographs on their way in, by the small pictures their files carry or by their shape. They can be looked at, not yet moved. */
export function Arriving({ desk }: { desk: Desk }) {
  useDesk(desk);
  const { list } = desk.arrivals;
  const shown = useGrowing(desk, list.length);
  if (list.length === 0) return null;
  return (
    <section class="arriving" aria-label={`${plural(list.length, "photograph")} on the way in`} data-arriving={list.length}>
      <p class="quiet">{plural(list.length, "photograph")} on the way in, as their files show them until they are read.</p>
      <div class="print-row">
        {list.slice(0, shown).map((a) => <Sketch key={`${a.bring} ${a.place}`} title={desk.title.id} of={a} />)}
      </div>
    </section>
  );
}

/** Grows to n, a little a frame, but not while the hand is full or the page is scrolled; it stays when n becomes less. */
function useGrowing({ bell }: Desk, n: number): number {
  const [grown, setGrown] = useState(0);
  useEffect(() => {
    if (grown >= n) return undefined;
    const grow = () => {
      if (bell.held) frame = requestAnimationFrame(grow);
      else setGrown(grown + eachFrame);
    };
    let frame = requestAnimationFrame(grow);
    return () => cancelAnimationFrame(frame);
  }, [bell, grown, n]);
  return grown;
}

function Sketch({ title, of }: { title: number; of: OnItsWay }) {
  const frame = (el: HTMLElement | null) => el?.style.setProperty("--r", String(of.width / of.height));
  return (
    <div class="print" title={of.name} ref={frame}>
      <div class="card">
        {of.sketch ? <img src={previewAddress(title, of.bring, of.place)} alt={of.name} draggable={false} decoding="async" /> : <div class="blank">{of.name}</div>}
      </div>
    </div>
  );
}
