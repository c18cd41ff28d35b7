/** Draws what lies over the pattern: marks, selection, what is lit, axes, row and place numbers that stay in sight. */
import { type Block, type Cell, cellToPoint, knotsIn } from '../../engine/index.ts';
import { pegWidth } from './draw-head.ts';
import { roundedLozenge } from './knot-sprites.ts';
import type { Lit } from './lit-set.ts';
import type { Ink } from './knot-choice.ts';
import type { Mirror, TiedCell } from './mirror.ts';
import type { Scene } from './painter.ts';
import { pointToPixel, rowsBetween, type Size } from './viewport.ts';

/** Place numbers stick to the top once the first row is higher than this, in px. */
export const PLACES_STICK_BELOW = 14;

export interface Overlay {
  readonly hover: Cell | null;
  /** What a press on the knot under the pointer would tie; null where it would tie nothing. */
  readonly ink: Ink | null;
  /** Whether it would fill. */
  readonly isFilling: boolean;
  readonly mirror: Mirror;
  readonly cursor: Cell | null;
  /** Place of the peg that the keyboard is on. */
  readonly peg: number | null;
  readonly hasFocus: boolean;
  readonly selection: Block | null;
  readonly shift: Block | null;
  readonly preview: readonly TiedCell[];
  readonly lit: Lit | null;
  /** Whether strings are shown as ribbons, not as knots. */
  readonly isPaths: boolean;
}

/** Draws what nobody waits for to tie: what is lit, what would be tied, axes; fetched once the board is seen. */
export type MarksPainter = (
  context: CanvasRenderingContext2D,
  scene: Scene,
  size: Size,
  overlay: Overlay,
) => void;

/** @param drawMarks null while it is not there */
export function drawOverlay(
  context: CanvasRenderingContext2D,
  scene: Scene,
  size: Size,
  overlay: Overlay,
  drawMarks: MarksPainter | null,
): void {
  context.clearRect(0, 0, size.width, size.height);
  drawMarks?.(context, scene, size, overlay);
  if (overlay.selection !== null) drawBlock(context, scene, overlay.selection, scene.theme.accent, []);
  if (overlay.shift !== null) drawBlock(context, scene, overlay.shift, scene.theme.accent, [6, 4]);
  if (overlay.hover !== null && isInside(scene, overlay.hover))
    outlineCell(context, scene, overlay.hover, scene.theme.text, 2);
  if (overlay.hasFocus) drawFocus(context, scene, overlay);
  drawRowNumbers(context, scene, size);
  drawPlaceNumbers(context, scene, size);
}

export function isInside({ model }: Scene, { row, k }: Cell): boolean {
  return k >= 0 && k < knotsIn(model.stagger, row);
}

/** Outlines a knot in a colour, on a band of the page's colour so that it shows on any other. */
export function outlineCell(
  context: CanvasRenderingContext2D,
  scene: Scene,
  cell: Cell,
  colour: string,
  width: number,
): void {
  const { view, theme, model } = scene;
  const { px, py } = pointToPixel(view, cellToPoint(model.stagger, cell));
  const path = roundedLozenge(view.unit + 1, view.row + 1, view.unit * 0.16);
  context.save();
  context.translate(px, py);
  context.lineJoin = 'round';
  context.strokeStyle = theme.page;
  context.lineWidth = width + 2.5;
  context.stroke(path);
  context.strokeStyle = colour;
  context.lineWidth = width;
  context.stroke(path);
  context.restore();
}

/** Outlines a block of rows and places. */
export function drawBlock(
  context: CanvasRenderingContext2D,
  { view, theme }: Scene,
  block: Block,
  colour: string,
  dash: readonly number[],
): void {
  const from = pointToPixel(view, { x: block.fromPlace - 0.5, y: block.fromRow });
  const to = pointToPixel(view, { x: block.toPlace + 0.5, y: block.toRow + 2 });
  const path = new Path2D();
  path.roundRect(from.px, from.py, to.px - from.px, to.py - from.py, 6);
  context.globalAlpha = 0.12;
  context.fillStyle = colour;
  context.fill(path);
  context.globalAlpha = 1;
  context.strokeStyle = theme.page;
  context.lineWidth = 4;
  context.stroke(path);
  context.strokeStyle = colour;
  context.lineWidth = 2;
  context.setLineDash([...dash]);
  context.stroke(path);
  context.setLineDash([]);
}

function drawFocus(context: CanvasRenderingContext2D, scene: Scene, { cursor, peg }: Overlay): void {
  const { view, theme } = scene;
  if (cursor !== null && isInside(scene, cursor)) {
    outlineCell(context, scene, cursor, theme.accent, 3);
    return;
  }
  if (peg === null) return;
  const half = pegWidth(view.unit) / 2 + 3;
  context.strokeStyle = theme.accent;
  context.lineWidth = 3;
  context.beginPath();
  context.roundRect(view.x + peg * view.unit - half, view.y - 42, 2 * half, 36, half);
  context.stroke();
}

/** Every how many the numbers come, so that they have room. */
function numberStep(px: number, room: number): number {
  return [1, 2, 5, 10, 20, 50, 100, 200].find((n) => n * px >= room) ?? 500;
}

function drawRowNumbers(context: CanvasRenderingContext2D, { model, view, theme }: Scene, size: Size): void {
  const { from, to } = rowsBetween(view, 0, size.height, model.rows);
  const step = numberStep(view.row, 17);
  const beside = view.x - view.unit * 0.5 - 10;
  const isStuck = beside < 30;
  const x = isStuck ? 30 : beside;
  context.font = `500 11.5px ${theme.font}`;
  context.textAlign = 'right';
  context.textBaseline = 'middle';
  for (let row = from; row <= to; row++) {
    if ((row + 1) % step !== 0 && row !== 0) continue;
    if (row === 0 && step > 2) continue;
    const y = view.y + (row + 1) * view.row;
    const label = String(row + 1);
    if (isStuck) chip(context, x - context.measureText(label).width - 4, y - 8, x + 4, theme.page);
    context.fillStyle = theme.quiet;
    context.fillText(label, x, y);
  }
}

function chip(
  context: CanvasRenderingContext2D,
  left: number,
  top: number,
  right: number,
  fill: string,
): void {
  context.globalAlpha = 0.88;
  context.fillStyle = fill;
  context.beginPath();
  context.roundRect(left, top, right - left, 16, 5);
  context.fill();
  context.globalAlpha = 1;
}

/** Once the pegs are out of sight: place numbers at the top, each over the colour of the string that hangs there. */
function drawPlaceNumbers(
  context: CanvasRenderingContext2D,
  { model, view, theme }: Scene,
  size: Size,
): void {
  if (view.y > PLACES_STICK_BELOW || model.rows === 0) return;
  const row = Math.min(model.rows, Math.max(0, Math.floor(-view.y / view.row)));
  const order = row * model.strings;
  const step = numberStep(view.unit, 22);
  context.fillStyle = theme.page;
  context.fillRect(0, 0, size.width, 25);
  context.fillStyle = theme.line;
  context.fillRect(0, 25, size.width, 1);
  context.font = `500 11px ${theme.font}`;
  context.textAlign = 'center';
  context.textBaseline = 'middle';
  const wide = Math.max(1.5, view.unit * 0.5);
  for (let place = 0; place < model.strings; place++) {
    const x = view.x + place * view.unit;
    context.fillStyle = model.hexes[model.weave.orderFlat[order + place] as number] as string;
    context.fillRect(x - wide / 2, 17, wide, 6);
    if ((place + 1) % step !== 0 && !(place === 0 && step <= 2)) continue;
    context.fillStyle = theme.quiet;
    context.fillText(String(place + 1), x, 9);
  }
}
