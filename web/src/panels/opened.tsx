import type { PageLine } from "../model/beside";
import type { Desk } from "../model/desk";
import { cropped, type Opened } from "../model/plan";
import type { PhotoID } from "../model/sequence";
import type * as api from "../net/api";
import { cardAddress } from "../net/program";
import { usePrintedFaces } from "./faces";

/** A crop that is in the hand and not kept yet. */
export interface Live {
  readonly photo: PhotoID;
  readonly crop: api.Crop;
}

/** What must stay in sight, while it is being marked. */
export interface Mark {
  readonly photo: PhotoID;
  readonly at: api.Point;
}

interface Props {
  desk: Desk;
  shown: api.BookShown;
  of: Opened;
  lines: readonly PageLine[];
  size: 400 | 1600; // of the pictures
  live?: Live | undefined;
  mark?: Mark | undefined;
  keeps?: boolean | undefined; // points that must stay in sight are marked, and where they must not lie
}

/** What of two pages is drawn, in millimetres from the left page's top left corner: with its bleed when that is to be seen. */
export function field(format: api.Format, lines: readonly PageLine[]) {
  const b = lines.includes("bleed") ? format.bleed : 0;
  return { x: -b, y: -b, width: 2 * (format.trim.width + b), height: format.trim.height + 2 * b };
}

/** Two facing pages at true proportion. */
export function OpenedPages({ desk, shown, of, lines, size, live, mark, keeps }: Props) {
  usePrintedFaces();
  const { format } = shown.book;
  const f = field(format, lines);
  return (
    <svg class="opened printed-words" viewBox={`${f.x} ${f.y} ${f.width} ${f.height}`} aria-hidden="true">
      {([of.left, of.right] as const).map((page) => page && (
        <PageDrawn key={page.number} desk={desk} page={page} text={shown.lines[page.number - 1] ?? []} format={format} lines={lines} size={size} live={live} mark={mark} keeps={keeps} />
      ))}
    </svg>
  );
}

interface PageProps extends Omit<Props, "shown" | "of"> {
  page: api.BookPage;
  text: readonly api.TextLine[];
  format: api.Format;
}

function PageDrawn({ desk, page, text, format, lines, size, live, mark, keeps }: PageProps) {
  const { trim: { width: w, height: h }, bleed: b, safe } = format;
  const right = page.number % 2 === 1;
  const left = right ? 0 : -b; // the fold cuts, as paper does
  return (
    <svg x={right ? w : -b} y={-b} width={w + b} height={h + 2 * b} viewBox={`${left} ${-b} ${w + b} ${h + 2 * b}`}>
      <rect class="paper" width={w} height={h} />
      {page.shown && <Picture desk={desk} of={page.shown} size={size} live={live} />}
      {text.map((line, i) => <text key={i} x={line.x} y={line.y} font-size={line.size}>{line.text}</text>)}
      {keeps && (page.shown?.keep || (page.shown && mark?.photo === page.shown.photo)) && <Dangers format={format} right={right} across={page.shown.across} />}
      {lines.includes("safe") && <rect class="line safe" x={safe} y={safe} width={w - 2 * safe} height={h - 2 * safe} />}
      {lines.includes("bleed") && <rect class="line bleed" x={left} y={-b} width={w + b} height={h + 2 * b} />}
      {lines.includes("trim") && <rect class="line trim" width={w} height={h} />}
      {keeps && page.shown && <Keep desk={desk} of={page.shown} live={live} mark={mark} />}
    </svg>
  );
}

/** Where the picture of a page lies: by a crop in the hand, if there is one. */
export function pictureOf(desk: Desk, of: api.Shown, live: Live | undefined): api.Rect {
  const photo = desk.photos.get(of.photo);
  return live?.photo === of.photo && photo ? cropped(of.whole, photo.width, photo.height, live.crop) : of.picture;
}

function Picture({ desk, of, size, live }: { desk: Desk; of: api.Shown; size: 400 | 1600; live: Live | undefined }) {
  const { x, y, width, height } = of.window;
  const p = pictureOf(desk, of, live);
  return (
    <svg x={x} y={y} width={width} height={height} viewBox={`${x} ${y} ${width} ${height}`} preserveAspectRatio="none">
      <image href={cardAddress(desk.title.id, of.photo, size)} x={p.x} y={p.y} width={p.width} height={p.height} preserveAspectRatio="none" />
    </svg>
  );
}

/** Where nothing may lie that must stay in sight: near the trim, and in the gutter. */
function Dangers({ format, right, across }: { format: api.Format; right: boolean; across: boolean }) {
  const { trim: { width: w, height: h }, safe, swallow } = format;
  const gutter = across ? Math.max(swallow, safe) : swallow;
  const outer = right ? w - safe : 0;
  return (
    <g class="danger">
      <rect x={0} y={0} width={w} height={safe} />
      <rect x={0} y={h - safe} width={w} height={safe} />
      <rect x={outer} y={safe} width={safe} height={h - 2 * safe} />
      {gutter > 0 && <rect x={right ? 0 : w - gutter} y={safe} width={gutter} height={h - 2 * safe} />}
    </g>
  );
}

function Keep({ desk, of, live, mark }: { desk: Desk; of: api.Shown; live: Live | undefined; mark: Mark | undefined }) {
  const keep = mark?.photo === of.photo ? mark.at : of.keep;
  if (!keep) return null;
  const p = pictureOf(desk, of, live);
  const [x, y] = [p.x + keep.x * p.width, p.y + keep.y * p.height];
  return <g class="keep-mark"><circle class="below" cx={x} cy={y} r={3} /><circle cx={x} cy={y} r={3} /><path d={`M${x - 5} ${y}h10M${x} ${y - 5}v10`} /></g>;
}
