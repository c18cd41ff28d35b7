/** Draws what lies over the pattern: the marked knot, what is lit, and where the others are. */
import type { PersonHere } from '../sync/index.ts';
import type { BoardModel } from './board-model.ts';
import type { Theme } from './draw-board.ts';
import { inkOn } from './draw-knot.ts';
import type { Lit } from './lit-set.ts';
import { knotToPixel, ROW, type Size, type Viewport, visibleRows } from './viewport.ts';

export interface Mark {
  readonly row: number;
  readonly k: number;
}

export interface Overlay {
  readonly cursor: Mark | null;
  readonly hasFocus: boolean;
  readonly hover: Mark | null;
  readonly lit: Lit | null;
  readonly others: readonly { readonly person: PersonHere['presence']['person']; readonly at: Mark }[];
}

function outline(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  at: Mark,
  grow = 0,
): void {
  const { x, y } = knotToPixel(view, at.row, at.k, model.start);
  const half = view.scale + grow;
  const tall = ROW * view.scale + grow;
  context.beginPath();
  context.moveTo(x, y - tall);
  context.lineTo(x + half, y);
  context.lineTo(x, y + tall);
  context.lineTo(x - half, y);
  context.closePath();
}

export function drawOverlay(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  size: Size,
  theme: Theme,
  overlay: Overlay,
): void {
  context.clearRect(0, 0, size.width, size.height);
  const isInside = ({ row, k }: Mark): boolean =>
    row >= 0 && row < model.rows && k >= 0 && k < (model.strings - ((model.start + row) & 1)) >> 1;
  drawLit(context, model, view, size, theme, overlay.lit);
  if (overlay.hover && isInside(overlay.hover)) {
    outline(context, model, view, overlay.hover);
    context.strokeStyle = theme.text;
    context.lineWidth = 1.5;
    context.stroke();
  }
  if (overlay.cursor && overlay.hasFocus && isInside(overlay.cursor)) {
    outline(context, model, view, overlay.cursor, 2);
    context.strokeStyle = theme.page;
    context.lineWidth = 6;
    context.stroke();
    context.strokeStyle = theme.accent;
    context.lineWidth = 3;
    context.stroke();
  }
  for (const { person, at } of overlay.others) {
    if (!isInside(at)) continue;
    outline(context, model, view, at, 1);
    context.strokeStyle = person.hex;
    context.lineWidth = 3;
    context.stroke();
    const { x, y } = knotToPixel(view, at.row, at.k, model.start);
    context.font = `600 12px ${theme.font}`;
    const width = context.measureText(person.name).width + 12;
    const top = y - ROW * view.scale - 20;
    context.fillStyle = person.hex;
    context.beginPath();
    context.roundRect(x - 4, top, width, 18, 6);
    context.fill();
    context.fillStyle = inkOn(person.hex);
    context.textAlign = 'left';
    context.textBaseline = 'middle';
    context.fillText(person.name, x + 2, top + 9);
  }
}

/** Dims the board but for what is lit: the way of strings through the band, and knots. */
function drawLit(
  context: CanvasRenderingContext2D,
  model: BoardModel,
  view: Viewport,
  size: Size,
  theme: Theme,
  lit: Lit | null,
): void {
  if (lit === null) return;
  for (const at of lit.knots ?? []) {
    outline(context, model, view, at, 2);
    context.strokeStyle = theme.accent;
    context.lineWidth = 4;
    context.stroke();
  }
  const wanted = new Set(lit.strings ?? []);
  if (wanted.size === 0) return;
  const rows = visibleRows(view, size, model.rows);
  const tall = ROW * view.scale;
  for (const string of wanted) {
    const trace = new Path2D();
    let isFirst = true;
    for (let row = rows.from; row <= rows.to + 1; row++) {
      const order = model.weave.orderFlat.subarray(row * model.strings, (row + 1) * model.strings);
      const x = view.x + order.indexOf(string) * view.scale;
      const y = view.y + (row + 0.5) * tall;
      if (isFirst) trace.moveTo(x, row === 0 ? view.y - 26 : y);
      trace.lineTo(x, y);
      isFirst = false;
    }
    context.lineJoin = 'round';
    context.strokeStyle = theme.page;
    context.lineWidth = Math.max(5, view.scale * 0.34);
    context.stroke(trace);
    context.strokeStyle = theme.accent;
    context.lineWidth = Math.max(3, view.scale * 0.2);
    context.stroke(trace);
  }
}
