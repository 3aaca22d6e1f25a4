import { useLayoutEffect, useRef } from "preact/hooks";
import type { Desk } from "../model/desk";
import { supposedMm } from "./in-scale";

// A bank card: ISO/IEC 7810:2019, ID-1.
const card = { width: 85.6, height: 53.98 }; // mm

/** Learns how large a millimetre is on this screen, from a card held to it. */
export function ScreenScale({ desk }: { desk: Desk }) {
  const mm = desk.view.mm || supposedMm;
  const el = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const room = el.current!.parentElement!.clientWidth;
    const upright = room > 0 && card.width * mm > room; // a card may be longer than a phone is wide
    el.current!.style.width = `${(upright ? card.height : card.width) * mm}px`;
    el.current!.style.height = `${(upright ? card.width : card.height) * mm}px`;
  }, [mm]);
  return (
    <details class="screen-scale" open={desk.view.mm === 0}>
      <summary>True size on this screen</summary>
      <p class="quiet">Hold a bank card, or any card of that size, to the outline and make it as large. This is asked once for each screen.</p>
      <label>Size of the outline
        <input type="range" name="screen-scale" min={2} max={12} step={0.01} value={mm} aria-valuetext={`${Math.round(card.width * mm)} pixels wide`} onInput={(e) => desk.setView({ mm: e.currentTarget.valueAsNumber })} />
      </label>
      <div class="card-outline" ref={el} />
    </details>
  );
}
