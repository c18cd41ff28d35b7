/**
 * The canvas of the pattern. Draws what changed and nothing else: the tiles an edit reached, the strips a scroll brought into sight.
 *
 * Invariant: after a `draw` that says so, the canvas shows the scene given, as if all of it had been drawn anew. Only while a large board
 * zooms it takes several.
 */

import { ColourNumbers, PaintedRows, stripsOfTiles } from './painted-rows.ts';
import type { Painter, Scene } from './painter.ts';
import { findRepaint, type Strip } from './repaint.ts';
import { rowsBetween, type Size } from './viewport.ts';

/** Of a canvas in the page, or of one that is never seen. */
export type Context = CanvasRenderingContext2D;

/** A zoom under way: see `zoom-picture.ts`, which is fetched later. */
interface Zoom {
  draw(context: Context, painter: Painter, scene: Scene, size: Size): boolean;
}
/** @returns null where nothing zooms, or little is in sight */
export type BeginZoom = (canvas: HTMLCanvasElement, before: Scene, scene: Scene, size: Size) => Zoom | null;

interface Shown {
  readonly painter: Painter;
  readonly scene: Scene;
  readonly size: Size;
  readonly rows: PaintedRows;
}

export class PatternLayer {
  readonly #canvas: HTMLCanvasElement;
  readonly #context: Context;
  readonly #numbers = new ColourNumbers();
  /** What is shifted goes through here: a canvas that is drawn onto itself is given new memory in each frame. */
  #spare: OffscreenCanvas | null = null;
  #shown: Shown | null = null;
  /** Null while nothing zooms. */
  #zoom: Zoom | null = null;
  /** Undefined while all is drawn at once. */
  beginZoom?: BeginZoom;
  /** CSS px² that were drawn since the canvas was made: what drawing costs grows with it. */
  paintedArea = 0;

  constructor(canvas: HTMLCanvasElement) {
    this.#canvas = canvas;
    this.#context = contextOf(canvas);
  }

  /** The canvas was given another size, and is empty. */
  forget(): void {
    this.#shown = null;
    this.#spare = null;
    this.#zoom = null;
  }

  /** @returns whether the canvas shows the scene now; else it is to be called again at the next frame */
  draw(painter: Painter, scene: Scene, size: Size): boolean {
    const before = this.#shown;
    const isSame = before !== null && isSameSurface(before, painter, scene, size);
    const isSameBoard = isSame && before.scene.model === scene.model;
    if (isSameBoard) this.#zoom ??= this.beginZoom?.(this.#canvas, before.scene, scene, size) ?? null;
    const zoom = this.#zoom;
    this.#zoom = null;
    if (!isSameBoard || zoom === null) {
      // A zoom that is broken off leaves what is no scene's picture.
      this.#update(painter, scene, size, isSame && zoom === null ? before : null);
      return true;
    }
    const isSharp = zoom.draw(this.#context, painter, scene, size);
    if (isSharp) this.#shown = { painter, scene, size, rows: this.#rowsIn(scene, painter, size) };
    else this.#zoom = zoom;
    return isSharp;
  }

  #rowsIn(scene: Scene, painter: Painter, size: Size): PaintedRows {
    const inSight = rowsBetween(scene.view, 0, size.height, scene.model.rows);
    return new PaintedRows(scene.model, inSight, painter.hasCarriers, this.#numbers);
  }

  /** @param before what the canvas shows; null = nothing that can be kept */
  #update(painter: Painter, scene: Scene, size: Size, before: Shown | null): void {
    if (before !== null && before.scene.model === scene.model && before.scene.view === scene.view) return;
    const shown = { painter, scene, size, rows: this.#rowsIn(scene, painter, size) };
    this.#shown = shown;
    const strips = before === null ? 'all' : this.#stripsSince(before, shown);
    if (strips === 'all') this.#paint(painter, scene, { left: 0, top: 0, ...size });
    else for (const strip of strips) this.#paint(painter, scene, strip);
  }

  /** Moves what can be kept; the strips are to be drawn then. */
  #stripsSince(before: Shown, { scene, size, rows }: Shown): readonly Strip[] | 'all' {
    const repaint = findRepaint(before.scene.view, scene.view, size);
    if (repaint.kind === 'all') return 'all';
    const tiles = before.scene.model === scene.model ? new Set<number>() : before.rows.changedTiles(rows);
    if (tiles === 'all') return 'all';
    const strips = [...stripsOfTiles(tiles, scene.model, scene.view, size)];
    if (repaint.kind === 'scroll') {
      this.#shift(repaint.dx * scene.ratio, repaint.dy * scene.ratio);
      strips.push(...repaint.strips);
    }
    return strips;
  }

  #shift(dx: number, dy: number): void {
    const { width, height } = this.#canvas;
    this.#spare ??= new OffscreenCanvas(width, height);
    copy(contextOf(this.#spare), this.#canvas, Math.round(dx), Math.round(dy));
    copy(this.#context, this.#spare, 0, 0);
  }

  #paint(painter: Painter, scene: Scene, strip: Strip): void {
    this.paintedArea += strip.width * strip.height;
    paintStrip(this.#context, painter, scene, strip);
  }
}

/** Draws anew what lies in a strip of the canvas, and nothing beside it. */
export function paintStrip(context: Context, painter: Painter, scene: Scene, strip: Strip): void {
  context.save();
  context.setTransform(scene.ratio, 0, 0, scene.ratio, 0, 0);
  context.imageSmoothingEnabled = false;
  context.beginPath();
  context.rect(strip.left, strip.top, strip.width, strip.height);
  context.clip();
  context.fillStyle = scene.theme.page;
  context.fillRect(strip.left, strip.top, strip.width, strip.height);
  painter.paint(context, scene, strip);
  context.restore();
}

export function contextOf(canvas: HTMLCanvasElement | OffscreenCanvas): Context {
  const context = canvas.getContext('2d', { alpha: false });
  if (context === null) throw new Error('this browser gives no canvas to draw the pattern on');
  return context as Context;
}

/** Puts a picture in the place of all that a canvas shows. */
export function copy(context: Context, picture: CanvasImageSource, x: number, y: number): void {
  context.save();
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.globalCompositeOperation = 'copy';
  context.imageSmoothingEnabled = false;
  context.drawImage(picture, x, y);
  context.restore();
}

/** Whether what is drawn can be kept where it shows the same. */
function isSameSurface(
  before: Shown,
  painter: Painter,
  { theme, ratio, isFolded }: Scene,
  size: Size,
): boolean {
  return (
    before.painter === painter &&
    before.scene.theme === theme &&
    before.scene.ratio === ratio &&
    before.scene.isFolded === isFolded &&
    before.size.width === size.width &&
    before.size.height === size.height
  );
}
