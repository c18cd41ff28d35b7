/** The band as a small picture, as many repeats long as its box has room for. */
import { html, LitElement, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { type Board, repeatRows } from '../../engine/index.ts';
import { canvasStyles } from '../styles/index.ts';
import { type BoardModel, modelOf } from './board-model.ts';
import { drawHanging } from './draw-hanging.ts';
import { drawKnots, wholeBand } from './draw-knots.ts';
import { clearCanvas, FrameDrawing, whenIdle } from './frame-drawing.ts';
import { KnotSprites } from './knot-sprites.ts';
import { readTheme } from './theme.ts';
import { CHART_ROW } from './viewport.ts';

const MOST_UNIT = 14;
const LEAST_UNIT = 2;

export class LbBandPicture extends LitElement {
  static override styles = canvasStyles;

  @property({ attribute: false }) board: Board | null = null;
  @query('canvas') private canvas!: HTMLCanvasElement;
  #model: BoardModel | null = null;
  readonly #sprites = new KnotSprites();

  constructor() {
    super();
    // A preview may come a moment later than the board itself, and must not hold it up.
    new FrameDrawing(this, () => this.#draw(), whenIdle);
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
    if (board === null) return;
    const whole = (value: number): number => Math.round(value * ratio) / ratio;
    const strings = board.pattern.colours.length;
    const unit = Math.min(
      MOST_UNIT,
      Math.max(LEAST_UNIT, Math.floor(((width - 8) / strings) * ratio) / ratio),
    );
    if (!board.pattern.knots.some((knot) => knot !== 0)) {
      const hexes = board.pattern.colours.map((id) => board.palette.find((colour) => colour.id === id)?.hex);
      const bar = readTheme(this).lineStrong;
      drawHanging(
        context,
        hexes.map((hex) => hex ?? bar),
        width,
        height,
        unit,
        bar,
      );
      return;
    }
    const row = Math.max(1 / ratio, whole(unit * CHART_ROW));
    const rows = Math.max(1, Math.ceil(height / row));
    const repeats = Math.ceil(rows / board.pattern.rows) + 1;
    const most = Math.max(board.pattern.rows, rows + 2 * board.pattern.rows + 2);
    const pattern = repeatRows(board.pattern, 0, repeats, most);
    this.#model = modelOf({ ...board, pattern }, this.#model);
    context.imageSmoothingEnabled = false;
    const view = { unit, row, x: (width - (strings - 1) * unit) / 2, y: 0 };
    const range = { ...wholeBand(this.#model), toRow: Math.min(rows, pattern.rows) - 1 };
    drawKnots(context, this.#sprites, this.#model, view, range, { ratio, isAlike: true });
  }
}
