import { useEffect, useId, useState } from "preact/hooks";
import { facing, turns, turnWords, viewFit, type Facing } from "../model/cover";
import type * as api from "../net/api";
import { cardAddress, coverViewAddress } from "../net/program";
import { usePrintedFaces } from "./faces";
import { Word } from "./parts";

/** What is shown on the cover: the simple one, or a picture of the designer's. */
export type On = "own" | "designer";

interface FlatProps {
  title: number;
  cover: api.CoverShown;
  on: On;
  over: number; // how far the designer's picture reaches beyond the trim
}

/** What is printed on the flat cover, in its millimetres; it belongs into an SVG. */
export function Printed({ title, cover, on, over }: FlatProps) {
  const { flat, own, plan, lines } = cover;
  const bled = { x: -flat.bleed, y: -flat.bleed, width: flat.trim.width + 2 * flat.bleed, height: flat.trim.height + 2 * flat.bleed };
  if (on === "designer") {
    return (
      <>
        <rect {...bled} fill="#fff" />
        <image href={coverViewAddress(title, cover.view)} x={-over} y={-over} width={flat.trim.width + 2 * over} height={flat.trim.height + 2 * over} preserveAspectRatio="none" />
      </>
    );
  }
  return (
    <>
      <rect {...bled} fill={plan.own.ground} />
      {own.picture && (
        <svg {...box(own.picture.window)} viewBox={`${own.picture.window.x} ${own.picture.window.y} ${own.picture.window.width} ${own.picture.window.height}`} overflow="hidden">
          <image href={cardAddress(title, own.picture.photo, 1600)} {...box(own.picture.picture)} preserveAspectRatio="none" />
        </svg>
      )}
      {flat.barcode && <rect {...box(flat.barcode)} fill="#fff" />}
      {lines.map((l, i) => (
        <text key={i} class="printed-words" x={l.x} y={l.y} font-size={l.size} textLength={l.wide} fill={plan.own.lettering}
          transform={l.reads === "across" ? undefined : `rotate(${l.reads === "descending" ? 90 : -90} ${l.x} ${l.y})`}>{l.text}</text>
      ))}
    </>
  );
}

/** How the designer's picture lies on the flat cover; undefined while it is not known. */
export function useFit(title: number, cover: api.CoverShown): { bleed: number; stretched: boolean } | undefined {
  const [proportion, setProportion] = useState(0);
  useEffect(() => {
    setProportion(0);
    if (cover.view === 0) return undefined;
    const measured = new Image();
    measured.onload = () => setProportion(measured.naturalWidth / measured.naturalHeight);
    measured.src = coverViewAddress(title, cover.view);
    return () => { measured.onload = null; };
  }, [title, cover.view]);
  return proportion > 0 ? viewFit(proportion, cover.flat.trim, cover.flat.bleed) : undefined;
}

const box = ({ x, y, width, height }: api.Rect) => ({ x, y, width, height });

interface DrawnProps extends FlatProps {
  inside: boolean;
  guides: boolean;
}

/** The cover laid flat, to scale, with what a template shows of it. */
export function Drawn({ title, cover, on, over, inside, guides }: DrawnProps) {
  const { flat } = cover;
  const around = flat.bleed + 6;
  const list = inside ? flat.inner : flat.outer;
  const name = useId();
  return (
    <svg class="flat-cover" viewBox={`${-around} ${-around} ${flat.trim.width + 2 * around} ${flat.trim.height + 2 * around}`} role="img" aria-labelledby={name}>
      <title id={name}>{`The cover laid flat, ${inside ? "inside" : "outside"}: ${list.map((g) => g.name).join(", ")}`}</title>
      {inside ? <rect x={-flat.bleed} y={-flat.bleed} width={flat.trim.width + 2 * flat.bleed} height={flat.trim.height + 2 * flat.bleed} fill="#fff" /> : <Printed title={title} cover={cover} on={on} over={over} />}
      {guides && list.map((g, i) => <GuideLine key={i} guide={g} />)}
    </svg>
  );
}

/** A guide is drawn dark on a light edge, so that it is seen on any picture. */
function GuideLine({ guide: { mark, at, name } }: { guide: api.Guide }) {
  if (mark === "front" || mark === "back" || mark === "spine") {
    const small = mark === "spine";
    return small ? null : <text class="guide-name" x={at.x + at.width / 2} y={at.y + at.height / 2}>{name}</text>;
  }
  const shape = at.width === 0 ? <line x1={at.x} y1={at.y} x2={at.x} y2={at.y + at.height} /> : <rect {...box(at)} />;
  return (
    <g class="guide" data-mark={mark}>
      <g class="under">{shape}</g>
      <g class="over">{shape}</g>
      {mark === "barcode" && <text class="guide-name small" x={at.x + at.width / 2} y={at.y + at.height / 2}>{name}</text>}
    </g>
  );
}

/** The block with its cover around it, turned by hand or by its sides' names. */
export function Around({ title, cover, on, over }: FlatProps) {
  const [turn, setTurn] = useState(25);
  usePrintedFaces();
  const { flat, closed } = cover;
  const deep = Math.max(flat.spine.width, cover.spine.computed, 0.4);
  const face = (side: Facing, at: api.Rect) => (
    <div class="face" data-face={side}>
      <svg viewBox={`${at.x} ${at.y} ${Math.max(at.width, 0.01)} ${at.height}`} preserveAspectRatio="none" aria-hidden="true"><Printed title={title} cover={cover} on={on} over={over} /></svg>
    </div>
  );
  const style = { "--w": closed.width, "--h": closed.height, "--d": deep, "--turn": `${turn}deg` } as Record<string, string | number>;
  const spine = flat.spine.width > 0 ? flat.spine : { ...flat.spine, x: flat.spine.x - deep / 2, width: deep };
  return (
    <figure class="around">
      <div class="sight" style={style}>
        <div class="block" data-facing={facing(turn)}>
          {face("front", flat.front)}
          {face("back", flat.back)}
          {face("spine", spine)}
          <div class="face paper-edge" data-face="edge" />
          <div class="face paper-edge" data-face="top" />
          <div class="face paper-edge" data-face="foot" />
        </div>
      </div>
      <figcaption class="line-acts">
        {(["front", "spine", "back"] as const).map((side) => (
          <Word key={side} act={`turn-${side}`} aria-pressed={turn === turns[side]} onClick={() => setTurn(turns[side])}>{side[0]!.toUpperCase() + side.slice(1)}</Word>
        ))}
        <label>Turn <input type="range" name="turn" min={-180} max={180} step={5} value={turn} aria-valuetext={turnWords(turn)} onInput={(e) => setTurn(e.currentTarget.valueAsNumber)} /></label>
      </figcaption>
    </figure>
  );
}
