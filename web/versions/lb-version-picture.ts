/**
 * A board as a small or large picture, its pattern once and whole. Several at one `scale` keep it, so that what grew looks
 * grown. Knots that are named are ringed.
 */
import { html, LitElement, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { type Board, rowStride } from '../../engine/index.ts';
import {
  type BoardModel,
  CHART_ROW,
  clearCanvas,
  drawKnots,
  FrameDrawing,
  KnotSprites,
  LEAST_SPRITE_UNIT,
  modelOf,
  plainLozenge,
  wholeBand,
} from '../board/index.ts';
import { canvasStyles } from '../styles/index.ts';

const MOST_UNIT = 16;
const MARGIN = 2;

/** Strings and rows that have to find room. */
export interface PictureScale {
  readonly strings: number;
  readonly rows: number;
}

export class LbVersionPicture extends LitElement {
  static override styles = canvasStyles;

  /** Null while it is not known. */
  @property({ attribute: false }) board: Board | null = null;
  @property({ attribute: false }) scale: PictureScale | null = null;
  /** Cells to ring, as `row * rowStride + k`. */
  @property({ attribute: false }) marks: ReadonlySet<number> | null = null;
  @query('canvas') private canvas!: HTMLCanvasElement;
  #model: BoardModel | null = null;
  readonly #sprites = new KnotSprites();

  constructor() {
    super();
    new FrameDrawing(this, () => this.#draw());
  }

  protected override render(): TemplateResult {
    return html`<canvas></canvas>`;
  }

  #draw(): void {
    const { board, canvas } = this;
    const { width, height } = this.getBoundingClientRect();
    if (width === 0) return;
    const ratio = devicePixelRatio;
    const context = clearCanvas(canvas, width, height);
    if (board === null || board.pattern.rows === 0) return;
    this.#model = modelOf(board, this.#model);
    const { start, strings, rows } = this.#model;
    const most = this.scale ?? { strings, rows };
    const fit = Math.min(
      MOST_UNIT,
      (width - 2 * MARGIN) / most.strings,
      (height - 2 * MARGIN) / ((most.rows + 1) * CHART_ROW),
    );
    const isSharp = fit >= LEAST_SPRITE_UNIT;
    const snap = (value: number): number => (isSharp ? Math.round(value * ratio) / ratio : value);
    const unit = isSharp ? Math.floor(fit * ratio) / ratio : fit;
    const row = isSharp
      ? Math.max(1 / ratio, Math.floor(unit * CHART_ROW * ratio) / ratio)
      : unit * CHART_ROW;
    context.imageSmoothingEnabled = false;
    const left = snap((width - strings * unit) / 2);
    const top = snap(MARGIN + Math.max(0, (height - 2 * MARGIN - (most.rows + 1) * row) / 2));
    const view = { unit, row, x: left + 0.5 * unit, y: top };
    drawKnots(context, this.#sprites, this.#model, view, wholeBand(this.#model), { ratio });
    if (this.marks === null) return;
    const stride = rowStride(strings);
    for (const cell of this.marks) {
      const [r, k] = [Math.floor(cell / stride), cell % stride];
      const parity = (start + r) & 1;
      if (r >= rows || k >= (strings - parity) >> 1) continue;
      const path = plainLozenge(left + (2 * k + parity + 1) * unit, top + (r + 1) * row, unit, row);
      // Dark within light: seen on every colour.
      for (const [colour, thick] of [
        ['#ffffff', 3.5],
        ['#1b1815', 1.75],
      ] as const) {
        context.strokeStyle = colour;
        context.lineWidth = Math.max(0.75, Math.min(thick, unit * thick * 0.14));
        context.stroke(path);
      }
    }
  }
}
