/** A wish on the canvas: plain lozenges of the colours wanted, a faint outline where any may show, a cross where a colour can't be had. */
import { inkOn, rowStride } from '../../engine/index.ts';
import {
  axisX,
  CHART_ROW,
  drawAxes,
  drawHead,
  type MarksPainter,
  outlineCell,
  type Painter,
  plainLozenge,
  rowsBetween,
  type Scene,
  type Strip,
  withMirrored,
} from '../board/index.ts';
import { MISSED_CELL, OPEN_CELL, STAYING_CELL } from './wish-model.ts';

/** Px from place to place below which marks would be blots. */
const LEAST_MARK_UNIT = 7;
/** How clearly shows what stays. */
const STAYING_ALPHA = 0.35;

export class WishPainter implements Painter {
  readonly rowPerPlace = CHART_ROW;
  readonly hasCarriers = false;

  paint(context: CanvasRenderingContext2D, scene: Scene, strip: Strip): void {
    const { model, view, theme } = scene;
    const { strings, start, hexes, weave, board } = model;
    const stride = rowStride(strings);
    const { from, to } = rowsBetween(view, strip.top, strip.top + strip.height, model.rows);
    const open = new Path2D();
    const missed: (readonly [x: number, y: number, hex: string])[] = [];
    for (let row = from; row <= to; row++) {
      const parity = (start + row) & 1;
      for (let k = 0; k < (strings - parity) >> 1; k++) {
        const at = row * stride + k;
        const x = view.x + (2 * k + parity + 0.5) * view.unit;
        const y = view.y + (row + 1) * view.row;
        if (x + view.unit < strip.left || x - view.unit > strip.left + strip.width) continue;
        const cell = board.pattern.knots[at]!;
        if (cell === OPEN_CELL) {
          open.addPath(plainLozenge(x, y, view.unit * 0.86, view.row * 0.86));
          continue;
        }
        const hex = hexes[weave.shownFlat[at]!]!;
        context.fillStyle = hex;
        context.globalAlpha = cell === STAYING_CELL ? STAYING_ALPHA : 1;
        context.fill(plainLozenge(x, y, view.unit - 0.6, view.row - 0.6));
        context.globalAlpha = 1;
        if (cell === MISSED_CELL) missed.push([x, y, hex]);
      }
    }
    context.strokeStyle = theme.lineStrong;
    context.globalAlpha = 0.7;
    context.lineWidth = 1;
    if (view.unit >= LEAST_MARK_UNIT) context.setLineDash([3, 3]);
    context.stroke(open);
    context.setLineDash([]);
    context.globalAlpha = 1;
    for (const [x, y, hex] of missed) drawCross(context, x, y, view.unit, view.row, hex);
    if (strip.top < view.y + 2) drawHead(context, scene);
  }
}

/** What a line would paint, or what a press would paint on the other side of a mirror; and the mirror's axes. */
export const drawWishMarks: MarksPainter = (context, scene, size, overlay) => {
  const { hover, mirror, preview } = overlay;
  const { stagger } = scene.model;
  drawAxes(context, scene, size, overlay);
  for (const cell of preview) outlineCell(context, scene, cell, scene.theme.accent, 2);
  const hasAxis = mirror.level !== null || axisX(mirror, stagger.strings) !== null;
  if (hover === null || preview.length > 0 || !hasAxis) return;
  context.setLineDash([4, 3]);
  for (const cell of withMirrored(stagger, mirror, [{ ...hover, knot: 0 }]))
    if (cell.row !== hover.row || cell.k !== hover.k)
      outlineCell(context, scene, cell, scene.theme.text, 1.5);
  context.setLineDash([]);
};

/** Told by its form, not by a colour: it stands on any. */
function drawCross(
  context: CanvasRenderingContext2D,
  x: number,
  y: number,
  unit: number,
  row: number,
  hex: string,
): void {
  const [half, tall] = [unit * 0.34, row * 0.34];
  const path = new Path2D();
  path.moveTo(x - half, y - tall);
  path.lineTo(x + half, y + tall);
  path.moveTo(x + half, y - tall);
  path.lineTo(x - half, y + tall);
  context.strokeStyle = inkOn(hex);
  context.lineWidth = Math.max(1, unit * 0.12);
  context.lineCap = 'round';
  context.stroke(path);
}
