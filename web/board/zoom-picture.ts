/**
 * A large board while it zooms. The picture of before is shown at the new scale at once, and a sharp one is drawn behind it in parts, one a
 * frame, which then takes its place: however many knots come into sight, a frame draws so many at most.
 */
import { type Context, contextOf, copy, paintStrip } from './pattern-layer.ts';
import type { Painter, Scene } from './painter.ts';
import type { Strip } from './repaint.ts';
import { rowsBetween, type Size, type Viewport } from './viewport.ts';

/** Knots that a frame draws: a few milliseconds of them. */
const KNOTS_A_FRAME = 250;
/** Frames until a picture is sharp, at most. */
const MOST_PARTS = 16;
/** Painters draw pegs and arcs down to so many px below the bar. */
const ABOVE_KNOTS = 2;

interface Picture {
  readonly canvas: OffscreenCanvas;
  readonly view: Viewport;
}

/** Parts in which what a scene shows is drawn; 1 = all at once. */
function partsOf({ model, view }: Scene, { width, height }: Size): number {
  const { from, to } = rowsBetween(view, 0, height, model.rows);
  const places = Math.min(model.strings, Math.ceil(width / view.unit) + 1);
  const knots = (Math.max(0, to - from + 1) * places) / 2;
  return Math.min(MOST_PARTS, Math.max(1, Math.ceil(knots / KNOTS_A_FRAME)));
}

/** The parts from top to bottom: pegs and arcs alone; a few rows, for which knots of each kind are drawn at this scale; all other rows. */
function stripsOf(scene: Scene, size: Size): readonly Strip[] {
  const { width, height } = size;
  const parts = partsOf(scene, size);
  const head = Math.min(height, Math.max(0, Math.ceil(scene.view.y + ABOVE_KNOTS)));
  const rows = Math.min(height, head + Math.ceil(2 * scene.view.row));
  const tops = Array.from({ length: parts + 1 }, (_, n) => rows + Math.round(((height - rows) * n) / parts));
  return [0, head, ...tops]
    .map((top, n, all) => ({ left: 0, top, width, height: (all[n + 1] ?? top) - top }))
    .filter((strip) => strip.height > 0);
}

/** Begins a zoom where the scale is another and more is in sight than a frame draws. */
export function beginZoom(
  canvas: HTMLCanvasElement,
  { view }: Scene,
  scene: Scene,
  size: Size,
): ZoomPicture | null {
  const isOther = view.unit !== scene.view.unit || view.row !== scene.view.row;
  return isOther && partsOf(scene, size) > 1 ? new ZoomPicture(canvas, view) : null;
}

class ZoomPicture {
  /** What is shown, at whatever scale. */
  #shown: Picture;
  /** What is drawn behind it, and how many of its strips are; null = nothing is. */
  #next: (Picture & { readonly strips: readonly Strip[]; done: number }) | null = null;
  /** The canvas that waits for the next. */
  #spare: OffscreenCanvas;

  /** @param canvas shows the board sharply in this view */
  constructor(canvas: HTMLCanvasElement, view: Viewport) {
    this.#shown = { canvas: new OffscreenCanvas(canvas.width, canvas.height), view };
    this.#spare = new OffscreenCanvas(canvas.width, canvas.height);
    copy(contextOf(this.#shown.canvas), canvas, 0, 0);
  }

  /**
   * Draws one part behind what is shown, and puts that on the canvas of the page, at the scale of the scene.
   * @returns whether that is sharp now; else it is to be called at the next frame
   */
  draw(context: Context, painter: Painter, scene: Scene, size: Size): boolean {
    this.#next ??= { canvas: this.#spare, view: scene.view, strips: stripsOf(scene, size), done: 0 };
    const { canvas, view, strips, done } = this.#next;
    paintStrip(contextOf(canvas), painter, { ...scene, view }, strips[done] as Strip);
    this.#next.done += 1;
    if (this.#next.done === strips.length) {
      this.#spare = this.#shown.canvas;
      this.#shown = { canvas, view };
      this.#next = null;
    }
    this.#put(context, scene);
    return isSameView(this.#shown.view, scene.view);
  }

  #put(context: Context, { view, ratio, theme }: Scene): void {
    const { canvas, view: was } = this.#shown;
    const [across, down] = [view.unit / was.unit, view.row / was.row];
    context.save();
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.imageSmoothingEnabled = false;
    context.fillStyle = theme.page;
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.drawImage(
      canvas,
      (view.x - was.x * across) * ratio,
      (view.y - was.y * down) * ratio,
      canvas.width * across,
      canvas.height * down,
    );
    context.restore();
  }
}

function isSameView(one: Viewport, other: Viewport): boolean {
  return one.unit === other.unit && one.row === other.row && one.x === other.x && one.y === other.y;
}
