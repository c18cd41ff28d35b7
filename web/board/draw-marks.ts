/**
 * Draws marks on the board that nobody waits for to tie: what is lit, what a press or a line would tie and what that changes further down,
 * axes of mirrored tying.
 */
import { drawKnot } from './draw-knot.ts';
import { drawLit } from './draw-lit.ts';
import { isInside, outlineCell, type Overlay } from './draw-overlay.ts';
import { cellsToFill, inkedCells } from './knot-choice.ts';
import { axisX, type TiedCell, withMirrored } from './mirror.ts';
import type { Scene } from './painter.ts';
import { rowsBetween, type Size } from './viewport.ts';
import { weaveAhead } from './weave-ahead.ts';

/** How clearly a knot shows that would be tied, and one that would look otherwise for it. */
const OWN_ALPHA = 0.85;
const CHANGED_ALPHA = 0.5;

export function drawMarks(
  context: CanvasRenderingContext2D,
  scene: Scene,
  size: Size,
  overlay: Overlay,
): void {
  if (overlay.lit !== null) drawLit(context, scene, size, overlay.lit, overlay.isPaths);
  drawAhead(context, scene, size, overlay);
  drawAxes(context, scene, size, overlay);
}

/** What a press on the knot under the pointer would tie, mirrored knots included. */
function underPointer(
  { model }: Scene,
  { hover, ink, isFilling, mirror, selection }: Overlay,
): readonly TiedCell[] {
  if (hover === null || ink === null) return [];
  const cells = isFilling ? cellsToFill(model, selection, hover, ink.kind === 'show') : [hover];
  return withMirrored(model.stagger, mirror, inkedCells(model.board.pattern, model.weave, cells, ink));
}

/** The band as it would be: its knots as they would show, and faint what looks otherwise further down. */
function drawAhead(context: CanvasRenderingContext2D, scene: Scene, size: Size, overlay: Overlay): void {
  const { model, view, theme } = scene;
  const isHover = overlay.preview.length === 0;
  const knots = (isHover ? underPointer(scene, overlay) : overlay.preview).filter((cell) =>
    isInside(scene, cell),
  );
  if (knots.length === 0) return;
  const { to } = rowsBetween(view, 0, size.height, model.rows);
  const own = new Set(knots.map(({ row, k }) => `${row}:${k}`));
  for (const { hex, ...cell } of weaveAhead(model, knots, to)) {
    const isOwn = own.has(`${cell.row}:${cell.k}`);
    // What stands there now does not show through its strokes.
    context.globalAlpha = isOwn ? 1 : CHANGED_ALPHA;
    drawKnot(context, scene, { ...cell, knot: 0 }, theme.page);
    context.globalAlpha = isOwn ? OWN_ALPHA : CHANGED_ALPHA;
    if (hex !== null) drawKnot(context, scene, cell, hex);
    context.globalAlpha = 1;
  }
  for (const cell of knots) {
    const isPointed = cell.row === overlay.hover?.row && cell.k === overlay.hover.k;
    if (isHover && (isPointed || overlay.isFilling)) continue;
    context.setLineDash(isHover ? [4, 3] : []);
    outlineCell(context, scene, cell, isHover ? theme.text : theme.accent, 1.5);
    context.setLineDash([]);
  }
}

/** The axes of mirrored tying. */
export function drawAxes(
  context: CanvasRenderingContext2D,
  { view, theme, model }: Scene,
  size: Size,
  { mirror }: Overlay,
): void {
  const x = axisX(mirror, model.strings);
  context.strokeStyle = theme.accent;
  context.lineWidth = 1.5;
  context.setLineDash([7, 5]);
  context.beginPath();
  if (x !== null) {
    const px = view.x + x * view.unit;
    context.moveTo(px, Math.max(0, view.y));
    context.lineTo(px, Math.min(size.height, view.y + (model.rows + 1) * view.row + 12));
  }
  if (mirror.level !== null) {
    const y = view.y + (mirror.level + 1) * view.row;
    context.moveTo(view.x - 0.9 * view.unit, y);
    context.lineTo(view.x + (model.strings - 0.1) * view.unit, y);
  }
  context.stroke();
  context.setLineDash([]);
}
