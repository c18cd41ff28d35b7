/**
 * The three canvases of the board (pattern, overlay, others) with the view they share.
 *
 * However often something changes, each layer is drawn at most once a frame, and only when it is stale. The backing stores have as
 * many pixels as the screen: boxes are measured in device pixels.
 */
import type { BoardPoint } from '../../engine/index.ts';
import type { BoardModel } from './board-model.ts';
import type { OtherMaker, OthersPainter } from './draw-others.ts';
import { drawOverlay, type MarksPainter, type Overlay, PLACES_STICK_BELOW } from './draw-overlay.ts';
import { headHeight, isStrip } from './head-layout.ts';
import { type KeptView, keptOf, viewOf } from './kept-view.ts';
import type { Painter, Scene } from './painter.ts';
import { type BeginZoom, PatternLayer } from './pattern-layer.ts';
import { onPixelRatio } from './pixel-ratio.ts';
import { type Textures, texturesBy } from './textures.ts';
import { readTheme, type Theme } from './theme.ts';
import {
  type Extent,
  FOOT,
  fitAll,
  fitFirst,
  fitWidth,
  isOnCanvas,
  keepInSight,
  type PixelPoint,
  panBy,
  reveal,
  type Size,
  type Viewport,
  zoomTo,
} from './viewport.ts';

export type Layer = 'pattern' | 'overlay' | 'others';

export interface CanvasSource {
  readonly model: BoardModel;
  readonly overlay: Overlay;
  readonly others: readonly OtherMaker[];
}

export interface CanvasOptions {
  readonly source: () => CanvasSource;
  /** The view changed. */
  readonly onView: () => void;
  /** Where the maker left the board before; null or absent = it begins from its bar. */
  readonly kept?: KeptView | null;
}

/** See `later-drawing.ts`. */
export interface LaterDrawing {
  readonly drawMarks: MarksPainter;
  readonly drawOthers: OthersPainter;
  readonly beginZoom: BeginZoom;
}

/** What is drawn where nobody else is. */
const NONE = 'none';

export class BoardCanvas {
  readonly #options: CanvasOptions;
  readonly #canvases: Readonly<Record<Layer, HTMLCanvasElement>>;
  readonly #stage: HTMLElement;
  readonly #pattern: PatternLayer;
  readonly #resize: ResizeObserver;
  readonly #stopRatio: () => void;
  readonly #stale = new Set<Layer>();
  /** Called when something here is drawn anew, as by a second look beside this one. */
  readonly followers = new Set<() => void>();
  #painter: Painter;
  #drawMarks: MarksPainter | null = null;
  #drawOthers: OthersPainter | null = null;
  #textures: Textures | null = null;
  #theme: Theme | null = null;
  #view: Viewport = { unit: 30, row: 24, x: 0, y: 0 };
  #size: Size = { width: 0, height: 0 };
  #ratio = 1;
  #frame = 0;
  #drawn: Partial<
    Record<Layer, { readonly key: string; readonly model: BoardModel; readonly theme: Theme }>
  > = {};
  #isFitted = false;
  /** Whether another look stands beside this one. */
  #isBeside = false;
  /** The view of before that; null while it stands alone. */
  #alone: Viewport | null = null;
  /** Whether somebody has moved it. */
  #isMoved = false;
  /** The unit asked for while zooming: the one shown is rounded to device pixels. */
  #wantedUnit = 30;

  constructor(
    stage: HTMLElement,
    canvases: Readonly<Record<Layer, HTMLCanvasElement>>,
    painter: Painter,
    options: CanvasOptions,
  ) {
    this.#stage = stage;
    this.#canvases = canvases;
    this.#painter = painter;
    this.#options = options;
    this.#pattern = new PatternLayer(canvases.pattern);
    this.#resize = new ResizeObserver(() => this.#measure());
    this.#resize.observe(stage);
    this.#stopRatio = onPixelRatio(() => this.#measure());
    this.#measure();
  }

  dispose(): void {
    this.#resize.disconnect();
    this.#stopRatio();
    cancelAnimationFrame(this.#frame);
  }

  get view(): Viewport {
    return this.#view;
  }
  get size(): Size {
    return this.#size;
  }

  /** CSS px² of the pattern that were drawn since the board was opened: what drawing costs, whatever the machine. */
  get paintedArea(): number {
    return this.#pattern.paintedArea;
  }

  setPainter(painter: Painter): void {
    if (painter === this.#painter) return;
    this.#painter = painter;
    // The row at the top stays there, or the head of the board where it is in sight.
    const top = { px: this.#size.width / 2, py: Math.max(0, this.#view.y) };
    this.#show(zoomTo(this.#view, top, this.#view.unit, painter.rowPerPlace, this.#ratio));
    this.invalidate('pattern', 'overlay', 'others');
  }

  /** What is lit, what would be tied and where others are can be drawn from now on, and large boards zoom in parts. */
  useLater({ drawMarks, drawOthers, beginZoom }: LaterDrawing): void {
    this.#drawMarks = drawMarks;
    this.#drawOthers = drawOthers;
    this.#pattern.beginZoom = beginZoom;
    this.#drawn = {};
    this.invalidate('overlay', 'others');
  }

  /** Draws with these textures from now on, and all of it anew. */
  useTextures(textures: Textures | null): void {
    if (textures === this.#textures) return;
    this.#textures = textures;
    this.forgetTheme();
  }

  /** The page's colours changed. */
  forgetTheme(): void {
    this.#theme = null;
    this.invalidate('pattern', 'overlay', 'others');
  }

  invalidate(...layers: readonly Layer[]): void {
    for (const layer of layers) this.#stale.add(layer);
    if (this.#frame === 0) this.#frame = requestAnimationFrame(() => this.#draw());
  }

  /** Where the maker leaves it; null where it was not moved. */
  get kept(): KeptView | null {
    return this.#isMoved && this.#size.width > 0 ? keptOf(this.#view, this.#size) : null;
  }

  /**
   * The board changed: what is held stays where it is, and all of the board is shown the first time.
   * @param way how far the knot that is held has gone in board space
   */
  reshape({ x, y }: BoardPoint = { x: 0, y: 0 }): void {
    if (!this.#isFitted) this.#measure();
    const { unit, row } = this.#view;
    const held = panBy(this.#view, -x * unit, -y * row, this.#ratio);
    // What was in sight may be gone altogether.
    this.#show(held, isOnCanvas(held, this.#size, this.#extent()) ? held : null);
  }

  /** Another look stands beside this one now, or none any more: the board is fitted into what it has, the row at the top stays. */
  setBeside(isBeside: boolean): void {
    if (isBeside === this.#isBeside) return;
    this.#isBeside = isBeside;
    const { y, row } = this.#view;
    const before = isBeside ? this.#view : this.#alone;
    this.#alone = isBeside ? this.#view : null;
    this.#measure();
    if (this.#size.width === 0) return;
    const fitted = isBeside || before === null ? fitFirst(this.#size, this.#extent(), this.#ratio) : before;
    this.#show({ ...fitted, y: y > 0 ? this.#extent().head : (y / row) * fitted.row });
    this.#wantedUnit = this.#view.unit;
  }

  zoomBy(factor: number, at: PixelPoint = { px: this.#size.width / 2, py: this.#size.height / 2 }): void {
    if (Math.abs(this.#wantedUnit - this.#view.unit) > 1) this.#wantedUnit = this.#view.unit;
    this.#wantedUnit *= factor;
    this.#isMoved = true;
    this.#show(zoomTo(this.#view, at, this.#wantedUnit, this.#painter.rowPerPlace, this.#ratio));
  }

  pan(dx: number, dy: number): void {
    this.#isMoved = true;
    this.#show(panBy(this.#view, dx, dy, this.#ratio), this.#view);
  }

  fit(what: 'all' | 'width'): void {
    const fitted = what === 'all' ? fitAll : fitWidth;
    this.#isMoved = true;
    this.#show(fitted(this.#size, this.#extent(), this.#ratio));
    this.#wantedUnit = this.#view.unit;
  }

  /** Brings a point of the board into sight. */
  reveal(point: BoardPoint): void {
    const { head } = this.#extent();
    this.#show(reveal(this.#view, this.#size, point, head, this.#ratio), this.#view);
  }

  #extent(): Extent {
    const { model } = this.#options.source();
    return {
      strings: model.strings,
      rows: model.rows,
      rowPerPlace: this.#painter.rowPerPlace,
      head: headHeight(model.strings, this.#isFolded),
      foot: FOOT,
    };
  }

  get #isFolded(): boolean {
    return this.#isBeside || isStrip(this.#size);
  }

  /** @param was see {@link keepInSight} */
  #show(view: Viewport, was: Viewport | null = null): void {
    if (this.#size.width === 0) return;
    const next = keepInSight(view, this.#size, this.#extent(), this.#ratio, was);
    const { unit, row, x, y } = this.#view;
    if (next.unit === unit && next.row === row && next.x === x && next.y === y) return;
    this.#view = next;
    this.invalidate('pattern', 'overlay', 'others');
    this.#options.onView();
  }

  #measure(): void {
    const { width, height } = this.#stage.getBoundingClientRect();
    const ratio = devicePixelRatio;
    const [pixelsWide, pixelsHigh] = [Math.round(width * ratio), Math.round(height * ratio)];
    const { pattern } = this.#canvases;
    // A canvas that is given its size is empty until the next frame.
    if (
      this.#isFitted &&
      pattern.width === pixelsWide &&
      pattern.height === pixelsHigh &&
      ratio === this.#ratio
    )
      return;
    this.#ratio = ratio;
    // Whole pixels, so that none at the edge is drawn by half.
    this.#size = { width: pixelsWide / this.#ratio, height: pixelsHigh / this.#ratio };
    for (const canvas of Object.values(this.#canvases)) {
      canvas.width = pixelsWide;
      canvas.height = pixelsHigh;
    }
    this.#pattern.forget();
    this.#drawn = {};
    if (!this.#isFitted && width > 0 && this.#options.source().model.rows > 0) {
      this.#isFitted = true;
      const { kept } = this.#options;
      const extent = this.#extent();
      this.#isMoved = kept != null;
      this.#show(
        kept == null
          ? fitFirst(this.#size, extent, this.#ratio)
          : viewOf(kept, this.#size, extent, this.#ratio),
      );
      this.#wantedUnit = this.#view.unit;
    } else this.#show(this.#view);
    this.invalidate('pattern', 'overlay', 'others');
  }

  #draw(): void {
    this.#frame = 0;
    for (const follow of this.followers) follow();
    if (this.#size.width === 0) return;
    this.#theme ??= readTheme(this.#stage);
    const { model, overlay, others } = this.#options.source();
    const scene: Scene = {
      model,
      view: this.#view,
      theme: this.#theme,
      ratio: this.#ratio,
      textures: texturesBy(model.board.pattern.colours, this.#textures),
      isFolded: this.#isFolded,
    };
    const isWhole = !this.#stale.has('pattern') || this.#pattern.draw(this.#painter, scene, this.#size);
    if (this.#stale.has('overlay') && this.#isNew('overlay', scene, overlay))
      drawOverlay(this.#contextOf('overlay'), scene, this.#size, overlay, this.#drawMarks);
    if (this.#stale.has('others') && this.#isNew('others', scene, others)) {
      // An empty canvas over the others would be mixed into every frame all the same.
      this.#canvases.others.hidden = others.length === 0;
      this.#drawOthers?.(this.#contextOf('others'), scene, this.#size, others);
    }
    this.#stale.clear();
    if (!isWhole) this.invalidate('pattern');
  }

  /** Whether the layer would look other than it does: most edits change neither overlay nor others. */
  #isNew(layer: 'overlay' | 'others', scene: Scene, marks: unknown): boolean {
    const { model, view, theme } = scene;
    const before = this.#drawn[layer];
    if (layer === 'others' && before?.key === NONE && (marks as readonly OtherMaker[]).length === 0)
      return false;
    const key =
      layer === 'others' && (marks as readonly OtherMaker[]).length === 0
        ? NONE
        : JSON.stringify([marks, view, model.rows, model.strings, model.start]);
    if (before?.key === key && before.model === model && before.theme === theme) return false;
    // The knots and strings themselves show in the overlay only where something is lit, previewed or stuck to the top.
    const isPlain = layer === 'others' || isBare(marks as Overlay, view);
    if (isPlain && before?.key === key && before.theme === theme) return false;
    this.#drawn[layer] = { key, model, theme };
    return true;
  }

  #contextOf(layer: Layer): CanvasRenderingContext2D {
    const context = this.#canvases[layer].getContext('2d');
    if (context === null) throw new Error(`this browser gives no canvas for the layer ${layer}`);
    context.setTransform(this.#ratio, 0, 0, this.#ratio, 0, 0);
    return context;
  }
}

/** Whether the overlay shows nothing of the knots. */
function isBare({ lit, preview, hover, ink }: Overlay, view: Viewport): boolean {
  return (
    lit === null && (hover === null || ink === null) && preview.length === 0 && view.y > PLACES_STICK_BELOW
  );
}
