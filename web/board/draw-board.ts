/** Draws the chart: pegs with the mounting arcs, the knots in staggered rows, numbers at the sides. */
import type { BoardModel } from './board-model.ts';
import { drawHitches, drawLozenge } from './draw-knot.ts';
import { ROW, type Size, type Viewport, visibleRows } from './viewport.ts';

/** Colours of the canvas, read from the page's tokens. */
export interface Theme {
  readonly page: string;
  readonly text: string;
  readonly quiet: string;
  readonly line: string;
  readonly accent: string;
  readonly warn: string;
  readonly font: string;
}

/** Height in px that pegs and arcs take above the first row. */
export function headHeight(model: BoardModel): number {
  return 58 + Math.min(110, 16 * deepest(model));
}

function deepest(model: BoardModel): number {
  let most = 1;
  const open: number[] = [];
  for (const { left, right } of model.plan.folds) {
    while (open.length > 0 && open[open.length - 1]! < left) open.pop();
    open.push(right);
    most = Math.max(most, open.length);
  }
  return most;
}

export function drawBoard(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  size: Size,
  theme: Theme,
): void {
  context.clearRect(0, 0, size.width, size.height);
  const rows = visibleRows(view, size, model.rows);
  drawStrings(context, model, view, rows);
  drawKnots(context, model, view, rows);
  drawEnds(context, model, view, size);
  drawRowNumbers(context, model, view, rows, theme);
  drawHead(context, model, view, theme);
}

/** The strings where they hang untied: from every row's order, behind the knots. */
function drawStrings(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  rows: { from: number; to: number },
): void {
  const { strings, weave, hexes } = model;
  const tall = ROW * view.scale;
  context.lineWidth = Math.max(1.5, view.scale * 0.14);
  context.lineCap = 'butt';
  for (let row = rows.from; row <= rows.to; row++) {
    const y = view.y + row * tall;
    for (let place = 0; place < strings; place++) {
      const string = weave.orderFlat[row * strings + place]!;
      context.strokeStyle = hexes[string]!;
      const x = view.x + place * view.scale;
      context.beginPath();
      context.moveTo(x, y);
      context.lineTo(x, y + tall * (row === model.rows - 1 ? 2 : 1.02));
      context.stroke();
    }
  }
}

function drawKnots(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  rows: { from: number; to: number },
): void {
  const { strings, start, weave, hexes } = model;
  const { knots } = model.board.pattern;
  const stride = strings >> 1;
  const tall = ROW * view.scale;
  const half = view.scale;
  const hasStrokes = view.scale >= 9;
  for (let row = rows.from; row <= rows.to; row++) {
    const parity = (start + row) & 1;
    const count = (strings - parity) >> 1;
    const y = view.y + (row + 1) * tall;
    for (let k = 0; k < count; k++) {
      const knot = knots[row * stride + k]!;
      if (knot === 0) continue;
      const x = view.x + (2 * k + parity + 0.5) * view.scale;
      const hex = hexes[weave.shownFlat[row * stride + k]!]!;
      drawLozenge(context, x, y, half - (hasStrokes ? 0.75 : 0), tall - (hasStrokes ? 0.4 : 0), hex);
      if (hasStrokes) drawHitches(context, x, y, half, tall, knot, hex);
    }
  }
}

/** The strings below the last row. */
function drawEnds(context: CanvasRenderingContext2D, model: BoardModel, view: Viewport, size: Size): void {
  const top = view.y + (model.rows + 1) * ROW * view.scale;
  if (top > size.height) return;
  context.lineWidth = Math.max(1.5, view.scale * 0.14);
  const { strings, weave, hexes } = model;
  for (let place = 0; place < strings; place++) {
    context.strokeStyle = hexes[weave.finalOrder[place]!]!;
    context.beginPath();
    context.moveTo(view.x + place * view.scale, top - view.scale * 0.1);
    context.lineTo(view.x + place * view.scale, top + view.scale * 0.9);
    context.stroke();
  }
}

function drawRowNumbers(
  context: CanvasRenderingContext2D,
  _model: BoardModel,
  view: Viewport,
  rows: { from: number; to: number },
  theme: Theme,
): void {
  const tall = ROW * view.scale;
  const step = [1, 2, 5, 10, 20, 50, 100].find((n) => n * tall >= 15) ?? 200;
  context.fillStyle = theme.quiet;
  context.font = `12px ${theme.font}`;
  context.textAlign = 'right';
  context.textBaseline = 'middle';
  for (let row = rows.from; row <= rows.to; row++)
    if ((row + 1) % step === 0 || (row === 0 && step < 5))
      context.fillText(String(row + 1), view.x - Math.max(14, view.scale * 0.7), view.y + (row + 1) * tall);
}

/** The bar, a peg for each place in its string's colour, and an arc for each folded string, numbered in mounting order. */
function drawHead(context: CanvasRenderingContext2D, model: BoardModel, view: Viewport, theme: Theme): void {
  const { strings, plan, hexes } = model;
  const peg = view.y - 26;
  const width = (strings - 1) * view.scale;
  context.fillStyle = theme.page;
  context.fillRect(0, 0, 100_000, Math.max(0, view.y - 4));
  context.strokeStyle = theme.text;
  context.lineCap = 'round';
  context.lineWidth = 4;
  context.beginPath();
  context.moveTo(view.x - view.scale * 0.6, peg);
  context.lineTo(view.x + width + view.scale * 0.6, peg);
  context.stroke();
  const pegWidth = Math.min(16, Math.max(3, view.scale * 0.5));
  for (let place = 0; place < strings; place++) {
    const x = view.x + place * view.scale;
    context.fillStyle = hexes[place]!;
    context.strokeStyle = theme.text;
    context.lineWidth = 1;
    context.beginPath();
    context.roundRect(x - pegWidth / 2, peg - 5, pegWidth, 28, pegWidth / 2);
    context.fill();
    context.stroke();
  }
  const faulty = new Set(plan.crossings.flat());
  const span = Math.max(1, ...plan.folds.map(({ left, right }) => right - left));
  const room = headHeight(model) - 58;
  context.font = `600 12px ${theme.font}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  plan.folds.forEach(({ left, right, turn }, i) => {
    const from = view.x + left * view.scale;
    const to = view.x + right * view.scale;
    const rise = 12 + (room * (right - left)) / span;
    const isFault = faulty.has(i);
    context.strokeStyle = isFault ? theme.warn : theme.quiet;
    context.lineWidth = isFault ? 2.5 : 1.5;
    context.setLineDash(isFault ? [5, 4] : []);
    context.beginPath();
    context.ellipse((from + to) / 2, peg - 7, (to - from) / 2, rise, 0, Math.PI, 2 * Math.PI);
    context.stroke();
    context.setLineDash([]);
    if (to - from < 9) return;
    const label = isFault ? `${turn}!` : String(turn);
    const y = peg - 7 - rise;
    const half = context.measureText(label).width / 2 + 3;
    context.fillStyle = theme.page;
    context.fillRect((from + to) / 2 - half, y - 8, 2 * half, 16);
    context.fillStyle = isFault ? theme.warn : theme.text;
    context.fillText(label, (from + to) / 2, y);
  });
  context.fillStyle = theme.quiet;
  context.font = `12px ${theme.font}`;
  context.textAlign = 'center';
  for (const place of plan.singles) context.fillText('1', view.x + place * view.scale, peg - 16);
}
