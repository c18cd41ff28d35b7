/**
 * One side of a comparison: the board as a chart, with marks that differ in shape as well as in colour. A ring: another
 * knot. A dot: the same knot in another colour. A bar at the edge with + or −: rows or strings of this side alone. A square
 * with a question mark: both sides changed it.
 */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import { type Board, placeOfCell } from '../../engine/index.ts';
import {
  type BoardModel,
  CHART_ROW,
  ChartPainter,
  chosenTextures,
  clearCanvas,
  FrameDrawing,
  modelOf,
  readTheme,
  snapped,
  type Theme,
  texturesBy,
  type Viewport,
} from '../board/index.ts';
import type { Marks } from './marks.ts';

const SIDE = 30;
const HEAD = 26;
const MOST_UNIT = 22;
const LEAST_UNIT = 2;

export class LbComparePicture extends LitElement {
  static override styles = css`
    :host {
      display: block;
      min-width: 0;
    }
    .sheet {
      position: relative;
    }
    canvas {
      position: sticky;
      inset-block-start: 0;
      display: block;
      width: 100%;
    }
  `;

  @property({ attribute: false }) board: Board | null = null;
  @property({ attribute: false }) marks: Marks | null = null;
  /** Rows to point out; null = none. */
  @property({ attribute: false }) pointed: { readonly from: number; readonly to: number } | null = null;
  @property() caption = '';
  /** Scrolls around this element; drawing covers what it shows. */
  @property({ attribute: false }) scroller: HTMLElement | null = null;
  @query('.sheet') private sheet!: HTMLElement;
  @query('canvas') private canvas!: HTMLCanvasElement;
  #model: BoardModel | null = null;
  readonly #painter = new ChartPainter();
  readonly #drawing = new FrameDrawing(this, () => this.#draw());
  /** Draws what is in sight, at the next frame. */
  readonly redraw = this.#drawing.later;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('board')) this.#model = this.board === null ? null : modelOf(this.board, this.#model);
  }

  protected override render(): TemplateResult {
    return html`<div class="sheet"><canvas role="img" aria-label=${this.caption}></canvas></div>`;
  }

  /** Height of a row above the top of the picture, in px. */
  topOf(row: number): number {
    const view = this.#view();
    return view === null ? 0 : HEAD + row * view.row;
  }

  #view(): Viewport | null {
    const model = this.#model;
    const width = this.clientWidth;
    if (model === null || width === 0) return null;
    const unit = Math.min(MOST_UNIT, Math.max(LEAST_UNIT, (width - SIDE - 10) / model.strings));
    const ratio = devicePixelRatio;
    const sharp = Math.max(LEAST_UNIT, Math.floor(unit * ratio) / ratio);
    const band = (model.strings - 1) * sharp;
    const x = Math.max(SIDE + sharp / 2, SIDE + (width - SIDE - 6 - band) / 2);
    return snapped(Math.max(3, sharp), CHART_ROW, x, HEAD, ratio);
  }

  #draw(): void {
    const model = this.#model;
    const view = this.#view();
    if (model === null || view === null) return;
    const height = HEAD + (model.rows + 4) * view.row;
    this.sheet.style.height = `${height}px`;
    const seen = Math.min(height, this.scroller?.clientHeight ?? height);
    const width = this.clientWidth;
    const ratio = devicePixelRatio;
    this.canvas.style.height = `${seen}px`;
    const context = clearCanvas(this.canvas, width, seen);
    const top = Math.min(height - seen, Math.max(0, this.scroller?.scrollTop ?? 0));
    context.setTransform(ratio, 0, 0, ratio, 0, -Math.round(top * ratio));
    const theme = readTheme(this);
    // The painter's own head stands above row 0; here there is no room for it, and marks take its place.
    const strip = { left: 0, top: Math.max(top, HEAD + 2), width, height: seen };
    context.save();
    context.beginPath();
    context.rect(0, Math.max(top, HEAD - view.row * 0.4), width, seen + HEAD);
    context.clip();
    const { palette, pattern } = model.board;
    const textures = texturesBy(pattern.colours, chosenTextures(palette) ?? null);
    this.#painter.paint(context, { model, view, theme, ratio, textures, isFolded: true }, strip);
    context.restore();
    drawNumbers(context, model, view, theme, top, seen);
    if (this.marks !== null) drawMarks(context, model, view, theme, this.marks, top, seen);
    const { pointed } = this;
    if (pointed !== null) {
      context.strokeStyle = theme.accent;
      context.lineWidth = 2;
      context.setLineDash([6, 3]);
      const y = view.y + pointed.from * view.row;
      context.strokeRect(2, y, width - 4, (pointed.to - pointed.from + 2) * view.row);
      context.setLineDash([]);
    }
  }
}

function drawNumbers(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  theme: Theme,
  top: number,
  seen: number,
): void {
  const every = view.row >= 14 ? 1 : view.row >= 7 ? 2 : view.row >= 3 ? 5 : 10;
  context.fillStyle = theme.quiet;
  context.font = `11px ${theme.font}`;
  context.textAlign = 'right';
  context.textBaseline = 'middle';
  const first = Math.max(0, Math.floor((top - view.y) / view.row) - 1);
  const last = Math.min(model.rows - 1, Math.ceil((top + seen - view.y) / view.row));
  for (let row = first; row <= last; row++)
    if ((row + 1) % every === 0 || row === 0)
      context.fillText(String(row + 1), SIDE - 10, view.y + (row + 1) * view.row);
}

function drawMarks(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  theme: Theme,
  marks: Marks,
  top: number,
  seen: number,
): void {
  const middleOf = (row: number, k: number): readonly [number, number] => [
    view.x + (placeOfCell(model.stagger, { row, k }) + 0.5) * view.unit,
    view.y + (row + 1) * view.row,
  ];
  for (const { row, k, kind } of marks.knots) {
    const [x, y] = middleOf(row, k);
    if (y < top - 20 || y > top + seen + 20) continue;
    if (kind === 'changed') ring(context, x, y, Math.max(4, view.unit * 0.62), theme);
    else if (kind === 'asked') question(context, x, y, Math.max(5, view.unit * 0.5), theme);
    else dot(context, x, y, Math.max(1.2, view.unit * 0.14), theme);
  }
  for (const { from, to, kind } of marks.rows) {
    const [y0, y1] = [view.y + (from + 0.4) * view.row, view.y + (to + 1.6) * view.row];
    bar(context, [SIDE - 5, y0], [SIDE - 5, y1], theme);
    const middle = (y0 + y1) / 2;
    if (kind === 'asked') question(context, SIDE - 5, middle, 7, theme);
    else sign(context, SIDE - 5, middle, kind === 'added' ? '+' : '−', theme);
  }
  for (const { at, kind } of marks.strings) {
    const x = view.x + at * view.unit;
    if (kind === 'changed') {
      ring(context, x, HEAD - 9, Math.max(3.5, Math.min(7, view.unit * 0.4)), theme);
      continue;
    }
    if (kind === 'asked') {
      question(context, x, HEAD - 10, Math.max(5, Math.min(8, view.unit * 0.45)), theme);
      continue;
    }
    bar(context, [x, HEAD - 14], [x, HEAD - 4], theme);
    sign(context, x, HEAD - 14, kind === 'added' ? '+' : '−', theme);
  }
}

/** A dark line within a light one is seen on every colour. */
function twice(context: CanvasRenderingContext2D, theme: Theme, wide: number, draw: () => void): void {
  for (const [colour, width] of [
    [theme.page, wide + 2.5],
    [theme.text, wide],
  ] as const) {
    context.strokeStyle = colour;
    context.lineWidth = width;
    draw();
  }
}

function ring(context: CanvasRenderingContext2D, x: number, y: number, radius: number, theme: Theme): void {
  twice(context, theme, 1.8, () => {
    context.beginPath();
    context.arc(x, y, radius, 0, 2 * Math.PI);
    context.stroke();
  });
}

function dot(context: CanvasRenderingContext2D, x: number, y: number, radius: number, theme: Theme): void {
  context.beginPath();
  context.arc(x, y, radius + 1, 0, 2 * Math.PI);
  context.fillStyle = theme.page;
  context.fill();
  context.beginPath();
  context.arc(x, y, radius, 0, 2 * Math.PI);
  context.fillStyle = theme.text;
  context.fill();
}

function bar(
  context: CanvasRenderingContext2D,
  from: readonly [number, number],
  to: readonly [number, number],
  theme: Theme,
): void {
  context.lineCap = 'round';
  twice(context, theme, 3, () => {
    context.beginPath();
    context.moveTo(...from);
    context.lineTo(...to);
    context.stroke();
  });
}

/** A square with a question mark: no other mark has corners. */
function question(context: CanvasRenderingContext2D, x: number, y: number, half: number, theme: Theme): void {
  context.beginPath();
  context.roundRect(x - half, y - half, 2 * half, 2 * half, half * 0.35);
  context.fillStyle = theme.text;
  context.fill();
  context.strokeStyle = theme.page;
  context.lineWidth = 1.5;
  context.stroke();
  context.fillStyle = theme.page;
  context.font = `700 ${Math.round(half * 1.6)}px ${theme.font}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.fillText('?', x, y + 0.5);
}

function sign(context: CanvasRenderingContext2D, x: number, y: number, text: string, theme: Theme): void {
  context.beginPath();
  context.arc(x, y, 7, 0, 2 * Math.PI);
  context.fillStyle = theme.text;
  context.fill();
  context.fillStyle = theme.page;
  context.font = `700 12px ${theme.font}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  context.fillText(text, x, y + 0.5);
}
