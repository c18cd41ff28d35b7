/** One knot by itself, as it stands on the chart. Nobody waits for it to tie. */
import { cellToPoint, HITCH_STROKES, inkOn } from '../../engine/index.ts';
import { roundedLozenge } from './knot-sprites.ts';
import type { TiedCell } from './mirror.ts';
import type { Scene } from './painter.ts';
import { pointToPixel } from './viewport.ts';

/** One knot drawn straight onto the canvas. */
export function drawKnot(
  context: CanvasRenderingContext2D,
  { view, model }: Scene,
  { row, k, knot }: TiedCell,
  hex: string,
): void {
  const { px, py } = pointToPixel(view, cellToPoint(model.stagger, { row, k }));
  context.save();
  context.translate(px, py);
  context.fillStyle = hex;
  context.fill(roundedLozenge(view.unit - 1, view.row - 1, view.unit * 0.16));
  if (knot !== 0 && view.unit >= 9) {
    context.strokeStyle = inkOn(hex);
    context.lineWidth = Math.max(1, view.unit * 0.11);
    context.lineCap = 'round';
    context.beginPath();
    for (const [x0, y0, x1, y1] of HITCH_STROKES[knot] ?? []) {
      context.moveTo(x0 * view.unit, y0 * view.row);
      context.lineTo(x1 * view.unit, y1 * view.row);
    }
    context.stroke();
  }
  context.restore();
}
