// The map of the title on the screen: the land on a canvas, photos as dots over
// it. Pointer, wheel, two fingers and keys move it; what is chosen or pointed at
// goes to whoever opened it.

import {
  bounded, dots, fit, fromPlane, fromScreen, named, panned, radiusOfClick, scaleBar, toPlane, toScreen, within, zoomed, grain,
  type Dot, type Outlook, type Spot,
} from "../model/chart";
import type { Photo } from "../model/facts";
import { readOutline, units } from "../model/outline";
import type { PhotoID } from "../model/sequence";
import { bindGestures } from "./gestures";

const slowest = 1.25; // how much nearer one key press brings it
const step = 64; // CSS pixels one arrow moves it

/** A place that was pointed at. */
export interface Pointed {
  readonly lat: number;
  readonly lng: number;
  readonly radius: number; // metres
}

export interface ChartEvents {
  /** Photos were pointed at, or lie in a frame that was drawn. */
  choose(photos: PhotoID[], along: boolean): void;
  /** A place was pointed at while one is to be set. */
  point(at: Pointed): void;
  /** The map shows something else now. */
  moved(inSight: number): void;
}

/** What a press on the map does: moves it, draws a frame to choose by, or sets a place. */
export type ChartMode = "move" | "frame" | "set";

export class Chart {
  private photos: readonly Photo[] = [];
  private chosen: ReadonlySet<PhotoID> = new Set();
  private mark: Pointed | undefined;
  private outlook: Outlook = { x: 0.5, y: 0.5, scale: 1 };
  private opened = false;
  private land: Path2D | undefined;
  private asked = 0;
  private mode: ChartMode = "move";
  private readonly canvas = document.createElement("canvas");
  private readonly over = document.createElement("div");
  private readonly lasso = document.createElement("div");
  private readonly bar = document.createElement("div");
  private readonly size = new ResizeObserver(() => this.resized());
  private readonly unbind: () => void;

  constructor(private readonly host: HTMLElement, private readonly on: ChartEvents) {
    this.over.className = "dots";
    this.lasso.className = "lasso";
    this.lasso.hidden = true;
    this.bar.className = "scale-bar";
    for (const el of [this.canvas, this.over, this.lasso, this.bar]) {
      el.setAttribute("aria-hidden", "true"); // the list beside the map says it in words
      host.append(el);
    }
    this.unbind = bindGestures(host, {
      framing: (e) => this.mode === "frame" || e.shiftKey,
      pan: (dx, dy) => this.look(panned(this.outlook, this.frame, dx, dy)),
      zoom: (factor, at) => this.look(zoomed(this.outlook, this.frame, factor, at)),
      frame: (a, b) => this.drawLasso(a, b),
      framed: (a, b, along) => this.chooseWithin(a, b, along),
      tap: (at, along) => this.tap(at, along),
    });
    host.addEventListener("keydown", this.key);
    this.size.observe(host);
    void this.fetchLand();
  }

  close(): void {
    this.unbind();
    this.host.removeEventListener("keydown", this.key);
    this.size.disconnect();
    cancelAnimationFrame(this.asked);
  }

  /** Shows photos, those of them that are chosen, and the place that is about to be set. */
  show(photos: readonly Photo[], chosen: readonly PhotoID[], mode: ChartMode, mark: Pointed | undefined): void {
    this.photos = photos.filter((p) => p.where);
    this.chosen = new Set(chosen);
    this.mode = mode;
    this.mark = mark;
    this.host.dataset.mode = mode;
    this.draw();
  }

  /** Brings all photos into sight, or the given ones. */
  fit(only?: readonly PhotoID[]): void {
    const shown = only ? this.photos.filter((p) => only.includes(p.number)) : this.photos;
    this.look(fit(shown.map((p) => toPlane(p.where!)), this.frame));
  }

  zoom(factor: number): void {
    this.look(zoomed(this.outlook, this.frame, factor, { x: this.frame.width / 2, y: this.frame.height / 2 }));
  }

  /** The photos in sight. */
  get inSight(): PhotoID[] {
    const { width, height } = this.frame;
    return within(this.photos, this.outlook, this.frame, { x: 0, y: 0 }, { x: width, y: height });
  }

  private get frame() {
    return { width: this.host.clientWidth, height: this.host.clientHeight };
  }

  private look(outlook: Outlook): void {
    this.outlook = outlook;
    this.draw();
    this.on.moved(this.inSight.length);
  }

  private resized(): void {
    if (this.frame.width === 0) return;
    if (!this.opened) this.fit();
    this.opened = true;
    this.outlook = bounded(this.outlook, this.frame);
    this.draw();
  }

  private async fetchLand(): Promise<void> {
    const answer = await fetch(new URL("land.txt", import.meta.url)).catch(() => undefined);
    if (!answer?.ok) return; // without an outline the dots still lie where they lie
    const land = new Path2D();
    for (const ring of readOutline(await answer.text())) {
      land.moveTo(ring[0]!, ring[1]!);
      for (let i = 2; i < ring.length; i += 2) land.lineTo(ring[i]!, ring[i + 1]!);
      land.closePath();
    }
    this.land = land;
    this.draw();
  }

  private key = (e: KeyboardEvent): void => {
    if (e.ctrlKey || e.metaKey || e.altKey || e.target !== this.host) return;
    const { width, height } = this.frame;
    const middle = { x: width / 2, y: height / 2 };
    const way: Record<string, [number, number]> = { ArrowLeft: [step, 0], ArrowRight: [-step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] };
    if (way[e.key]) this.look(panned(this.outlook, this.frame, ...way[e.key]!));
    else if (e.key === "+" || e.key === "=") this.zoom(slowest);
    else if (e.key === "-") this.zoom(1 / slowest);
    else if (e.key === "0") this.fit();
    else if ((e.key === "Enter" || e.key === " ") && this.mode === "set") this.point(middle);
    else if (e.key === "Enter" || e.key === " ") this.on.choose(this.inSight, e.shiftKey);
    else return;
    e.preventDefault();
  };

  private tap(at: Spot, along: boolean): void {
    if (this.mode === "set") return this.point(at);
    const hit = dots(this.photos, this.outlook, this.frame).map((d) => ({ d, far: Math.hypot(d.x - at.x, d.y - at.y) })).sort((a, b) => a.far - b.far)[0];
    if (hit && hit.far < 22) this.on.choose([...hit.d.photos], along);
  }

  private point(at: Spot): void {
    this.on.point({ ...fromPlane(fromScreen(this.outlook, this.frame, at)), radius: radiusOfClick(this.outlook) });
  }

  private drawLasso(a: Spot, b: Spot): void {
    this.lasso.hidden = false;
    Object.assign(this.lasso.style, {
      left: `${Math.min(a.x, b.x)}px`, top: `${Math.min(a.y, b.y)}px`, width: `${Math.abs(a.x - b.x)}px`, height: `${Math.abs(a.y - b.y)}px`,
    });
  }

  private chooseWithin(a: Spot, b: Spot, along: boolean): void {
    this.lasso.hidden = true;
    this.on.choose(within(this.photos, this.outlook, this.frame, a, b), along);
  }

  /** Draws once for all that changed until the screen is drawn again. */
  private draw(): void {
    cancelAnimationFrame(this.asked);
    this.asked = requestAnimationFrame(() => {
      if (this.frame.width === 0) return;
      this.drawLand();
      this.drawDots();
      const { pixels, words } = scaleBar(this.outlook);
      this.bar.style.width = `${pixels}px`;
      this.bar.textContent = words;
    });
  }

  private drawLand(): void {
    const { width, height } = this.frame;
    const ratio = devicePixelRatio;
    if (this.canvas.width !== Math.round(width * ratio) || this.canvas.height !== Math.round(height * ratio)) {
      this.canvas.width = Math.round(width * ratio);
      this.canvas.height = Math.round(height * ratio);
    }
    const pen = this.canvas.getContext("2d");
    if (!pen) return;
    const style = getComputedStyle(this.host);
    const colour = (name: string) => style.getPropertyValue(name).trim();
    pen.setTransform(ratio, 0, 0, ratio, 0, 0);
    pen.fillStyle = colour("--raised");
    pen.fillRect(0, 0, width, height);
    if (!this.land) return;
    pen.fillStyle = colour("--table");
    pen.strokeStyle = colour("--firm");
    const { x, y, scale } = this.outlook;
    const unit = (scale / units) * ratio;
    for (const world of [-1, 0, 1]) {
      const left = width / 2 + (world - x) * scale;
      if (left - scale / 2 > width || left + scale * 1.5 < 0) continue; // what crosses the date line goes on over the world's sides
      pen.setTransform(unit, 0, 0, unit, left * ratio, (height / 2 - y * scale) * ratio);
      pen.lineWidth = ratio / unit;
      pen.fill(this.land, "evenodd");
      pen.stroke(this.land);
    }
  }

  private drawDots(): void {
    const list = dots(this.photos, this.outlook, this.frame);
    const names = named(list);
    const drawn = list.map((d) => this.dot(d, names.has(d)));
    if (this.mark) drawn.push(this.circle(this.mark));
    this.over.replaceChildren(...drawn);
  }

  private dot(d: Dot, withName: boolean): HTMLElement {
    const el = document.createElement("span");
    const chosen = d.photos.filter((id) => this.chosen.has(id)).length;
    el.className = "dot";
    el.dataset.dot = d.photos.join(" ");
    if (chosen > 0) el.dataset.chosen = chosen === d.photos.length ? "all" : "some";
    el.style.translate = `${d.x.toFixed(1)}px ${d.y.toFixed(1)}px`;
    const count = document.createElement("b");
    count.textContent = d.photos.length > 1 ? String(d.photos.length) : "";
    el.append(count);
    if (withName) {
      const name = document.createElement("i");
      name.textContent = d.label;
      el.append(name);
    }
    return el;
  }

  private circle(mark: Pointed): HTMLElement {
    const el = document.createElement("span");
    const at = toScreen(this.outlook, this.frame, toPlane(mark));
    const r = Math.max(6, mark.radius / grain(this.outlook));
    el.className = "mark";
    Object.assign(el.style, { width: `${2 * r}px`, height: `${2 * r}px`, translate: `${at.x - r}px ${at.y - r}px` });
    return el;
  }
}
