import { useEffect, useRef, useState } from "preact/hooks";
import type { Desk } from "../model/desk";
import type { PhotoID } from "../model/sequence";
import { miniature, type Tile } from "../model/weeks";
import { cardAddress } from "../net/program";

const pictures = new Map<string, Promise<HTMLImageElement>>(); // small enough to keep: one for each photo of a title

function picture(address: string): Promise<HTMLImageElement> {
  let found = pictures.get(address);
  if (!found) {
    const img = new Image();
    img.src = address;
    found = img.decode().then(() => img);
    found.catch(() => pictures.delete(address)); // a card can be made again any time
    pictures.set(address, found);
  }
  return found;
}

interface SmallWallProps {
  desk: Desk;
  pages: readonly PhotoID[];
  label: string; // what is to be seen, for those who do not see it
  width?: number; // CSS pixels; it shrinks with its place
  high?: number;
}

/** A whole wall as one small picture, drawn when it comes into sight. */
export function SmallWall({ desk, pages, label, width = 300, high = 96 }: SmallWallProps) {
  const ref = useRef<HTMLCanvasElement>(null);
  const [seen, setSeen] = useState(false);
  useEffect(() => {
    const watch = new IntersectionObserver((all) => { if (all.some((e) => e.isIntersecting)) setSeen(true); }, { rootMargin: "200px" });
    watch.observe(ref.current!);
    return () => watch.disconnect();
  }, []);
  const { page, height, tiles } = miniature(pages, width, high);
  const drawnAs = pages.join();
  useEffect(() => {
    if (!seen) return undefined;
    let gone = false;
    const draw = brush(ref.current!, width, height, page);
    for (const tile of tiles) {
      draw(tile);
      if (tile.photo) picture(cardAddress(desk.title.id, tile.photo, 160)).then((img) => { if (!gone) draw(tile, img); }, () => undefined);
    }
    return () => { gone = true; };
  }, [seen, drawnAs, desk.view.ground, width, high]);
  return <canvas ref={ref} class="small-wall" role="img" aria-label={label} style={{ width: `${width}px`, aspectRatio: `${width} / ${height}` }} />;
}

/** Draws pages onto a canvas: the paper, and the photo with a margin around it. */
function brush(canvas: HTMLCanvasElement, width: number, height: number, page: number): (tile: Tile, img?: HTMLImageElement) => void {
  const scale = Math.min(3, Math.max(2, devicePixelRatio)); // fine enough to be looked at closely
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const g = canvas.getContext("2d")!;
  g.scale(scale, scale);
  g.imageSmoothingQuality = "high";
  const style = getComputedStyle(document.documentElement);
  const [paper, line] = [style.getPropertyValue("--paper"), style.getPropertyValue("--line")];
  return ({ x, y, wide }, img) => {
    const [w, h] = [page * (wide ? 2 : 1), page * 1.2];
    g.fillStyle = paper;
    g.fillRect(x, y, w, h);
    if (!img) {
      g.strokeStyle = line;
      g.lineWidth = 0.5;
      g.strokeRect(x + 0.25, y + 0.25, w - 0.5, h - 0.5);
      return;
    }
    const fit = Math.min((w - page * 0.12) / img.naturalWidth, (h - page * 0.12) / img.naturalHeight);
    const [iw, ih] = [img.naturalWidth * fit, img.naturalHeight * fit];
    g.drawImage(img, x + (w - iw) / 2, y + (h - ih) / 2, iw, ih);
  };
}
