/**
 * A board as a small or large picture, its pattern once and whole. Several at one `scale` keep it, so that what grew looks
 * grown. Knots that are named are ringed.
 */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { type Board, rowStride } from '../../engine/index.ts';
import {
  type BoardModel,
  CHART_ROW,
  clearCanvas,
  FrameDrawing,
  KnotSprites,
  modelOf,
} from '../board/index.ts';

const MOST_UNIT = 16;
/** From this many px a place on knots are copied sharp; below, they are plain lozenges of any size. */
const SHARP_UNIT = 2;
const MARGIN = 2;

/** Strings and rows that have to find room. */
export interface PictureScale {
  readonly strings: number;
  readonly rows: number;
}

export class LbVersionPicture extends LitElement {
  static override styles = css`
    :host {
      display: block;
      overflow: hidden;
    }
    canvas {
      display: block;
      width: 100%;
      height: 100%;
    }
  `;

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
    const { weave, hexes, start, strings, rows } = this.#model;
    const most = this.scale ?? { strings, rows };
    const fit = Math.min(
      MOST_UNIT,
      (width - 2 * MARGIN) / most.strings,
      (height - 2 * MARGIN) / ((most.rows + 1) * CHART_ROW),
    );
    const isSharp = fit >= SHARP_UNIT;
    const snap = (value: number): number => (isSharp ? Math.round(value * ratio) / ratio : value);
    const unit = isSharp ? Math.floor(fit * ratio) / ratio : fit;
    const row = isSharp
      ? Math.max(1 / ratio, Math.floor(unit * CHART_ROW * ratio) / ratio)
      : unit * CHART_ROW;
    context.imageSmoothingEnabled = false;
    if (isSharp) this.#sprites.scaleTo(unit, row, ratio);
    const stride = rowStride(strings);
    const left = snap((width - strings * unit) / 2);
    const top = snap(MARGIN + Math.max(0, (height - 2 * MARGIN - (most.rows + 1) * row) / 2));
    for (let r = 0; r < rows; r++) {
      const parity = (start + r) & 1;
      for (let k = 0; k < (strings - parity) >> 1; k++) {
        const string = weave.shownFlat[r * stride + k] as number;
        if (string < 0) continue;
        const x = left + (2 * k + parity + 1) * unit;
        const y = top + (r + 1) * row;
        const hex = hexes[string] as string;
        if (isSharp) {
          const knot = board.pattern.knots[r * stride + k] as number;
          const sprite = this.#sprites.of(hex, knot);
          const [w, h] = [this.#sprites.width, this.#sprites.height];
          context.drawImage(sprite, snap(x - w / 2), snap(y - h / 2), w, h);
        } else {
          context.fillStyle = hex;
          context.fill(lozenge(x, y, unit + 0.3, row + 0.3));
        }
      }
    }
    if (this.marks === null) return;
    for (const cell of this.marks) {
      const [r, k] = [Math.floor(cell / stride), cell % stride];
      const parity = (start + r) & 1;
      if (r >= rows || k >= (strings - parity) >> 1) continue;
      const path = lozenge(left + (2 * k + parity + 1) * unit, top + (r + 1) * row, unit, row);
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

function lozenge(x: number, y: number, half: number, tall: number): Path2D {
  const path = new Path2D();
  path.moveTo(x, y - tall);
  path.lineTo(x + half, y);
  path.lineTo(x, y + tall);
  path.lineTo(x - half, y);
  path.closePath();
  return path;
}
