/** Draws where the other makers are: their knot with their name, and their selection. */
import { type Block, type Cell, cellToPoint, inkOn } from '../../engine/index.ts';
import { drawBlock, isInside, outlineCell } from './draw-overlay.ts';
import type { Scene } from './painter.ts';
import { pointToPixel, type Size } from './viewport.ts';

export interface OtherMaker {
  readonly name: string;
  readonly hex: string;
  readonly at: Cell | null;
  readonly selection: Block | null;
}

export type OthersPainter = (
  context: CanvasRenderingContext2D,
  scene: Scene,
  size: Size,
  others: readonly OtherMaker[],
) => void;

export const drawOthers: OthersPainter = (context, scene, size, others) => {
  context.clearRect(0, 0, size.width, size.height);
  for (const { hex, selection } of others)
    if (selection !== null) drawBlock(context, scene, selection, hex, [3, 3]);
  for (const { name, hex, at } of others) {
    if (at === null || !isInside(scene, at)) continue;
    outlineCell(context, scene, at, hex, 2.5);
    drawName(context, scene, size, name, hex, at);
  }
};

function drawName(
  context: CanvasRenderingContext2D,
  { model, view, theme }: Scene,
  size: Size,
  name: string,
  hex: string,
  at: Cell,
): void {
  const { px, py } = pointToPixel(view, cellToPoint(model.stagger, at));
  context.font = `600 12px ${theme.font}`;
  context.textAlign = 'left';
  context.textBaseline = 'middle';
  const letters = [...name];
  const short = letters.length > 18 ? `${letters.slice(0, 17).join('')}…` : name;
  const width = context.measureText(short).width + 14;
  const left = Math.min(size.width - width - 4, px + view.unit * 0.3);
  const top = Math.max(4, py - view.row - 20);
  context.beginPath();
  context.roundRect(left, top, width, 19, 7);
  context.fillStyle = hex;
  context.fill();
  context.strokeStyle = theme.page;
  context.lineWidth = 1.5;
  context.stroke();
  context.fillStyle = inkOn(hex);
  context.fillText(short, left + 7, top + 10);
}
