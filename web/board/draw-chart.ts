/** The chart: knots as lozenges with their half hitches, untied strings hanging, pegs and arcs above. */
import { placeOfCell, rowStride } from '../../engine/index.ts';
import { drawHead } from './draw-head.ts';
import { drawKnots, type KnotRange } from './draw-knots.ts';
import { KnotSprites, roundedLozenge } from './knot-sprites.ts';
import type { Painter, Scene } from './painter.ts';
import type { Strip } from './repaint.ts';
import { CHART_ROW, rowsBetween } from './viewport.ts';

/** Rows of string that hang below the last row of knots. */
const TAIL_ROWS = 2.4;

/** Rows and places of which something lies in the strip. */
export function rangeIn({ model, view }: Scene, strip: Strip): KnotRange {
  const { from, to } = rowsBetween(view, strip.top, strip.top + strip.height, model.rows);
  return {
    fromRow: from,
    toRow: to,
    fromPlace: Math.max(0, Math.floor((strip.left - view.x) / view.unit) - 2),
    toPlace: Math.min(model.strings - 1, Math.ceil((strip.left + strip.width - view.x) / view.unit) + 2),
  };
}

export class ChartPainter implements Painter {
  readonly rowPerPlace: number;
  readonly hasCarriers = false;
  readonly #sprites = new KnotSprites();

  /** @param rowPerPlace height of a row: flat, so that much is in sight, unless the true shape is wanted */
  constructor(rowPerPlace = CHART_ROW) {
    this.rowPerPlace = rowPerPlace;
  }

  paint(context: CanvasRenderingContext2D, scene: Scene, strip: Strip): void {
    const range = rangeIn(scene, strip);
    drawHanging(context, scene, range);
    drawTails(context, scene, strip, range);
    drawKnots(context, this.#sprites, scene.model, scene.view, range, scene);
    if (strip.top < scene.view.y + 2) drawHead(context, scene);
  }
}

/** Strings that are not tied in a row: at the edges, and in untied pairs, which have a faint outline. */
function drawHanging(context: CanvasRenderingContext2D, scene: Scene, range: KnotRange): void {
  const { model, view, theme } = scene;
  const { strings, weave, hexes, stagger } = model;
  const { knots } = model.board.pattern;
  const stride = rowStride(strings);
  const wide = stringWidth(view.unit);
  // A fine edge keeps a string of the page's own colour in sight.
  const edge = view.unit >= 8 ? 0.6 : 0;
  const outlines: Path2D[] = [];
  const hang = (row: number, place: number): void => {
    if (place < range.fromPlace || place > range.toPlace) return;
    const x = view.x + place * view.unit;
    if (edge > 0) {
      context.fillStyle = theme.lineStrong;
      context.fillRect(x - wide / 2 - edge, view.y + row * view.row, wide + 2 * edge, 2 * view.row);
    }
    context.fillStyle = hexes[weave.orderFlat[row * strings + place] as number] as string;
    context.fillRect(x - wide / 2, view.y + row * view.row, wide, 2 * view.row);
  };
  const outline = roundedLozenge(view.unit * 0.86, view.row * 0.86, view.unit * 0.16);
  for (let row = range.fromRow; row <= range.toRow; row++) {
    const parity = (model.start + row) & 1;
    if (parity === 1) hang(row, 0);
    if (((strings - parity) & 1) === 1) hang(row, strings - 1);
    for (let k = 0; k < (strings - parity) >> 1; k++) {
      if (knots[row * stride + k] !== 0) continue;
      const place = 2 * k + parity;
      if (place + 1 < range.fromPlace || place > range.toPlace) continue;
      hang(row, place);
      hang(row, place + 1);
      if (view.unit < 9) continue;
      const moved = new Path2D();
      const x = view.x + (placeOfCell(stagger, { row, k }) + 0.5) * view.unit;
      moved.addPath(outline, new DOMMatrix().translate(x, view.y + (row + 1) * view.row));
      outlines.push(moved);
    }
  }
  context.strokeStyle = theme.lineStrong;
  context.globalAlpha = 0.4;
  context.lineWidth = 1;
  context.setLineDash([3, 3]);
  for (const path of outlines) context.stroke(path);
  context.setLineDash([]);
  context.globalAlpha = 1;
}

/** The strings below the last row. */
function drawTails(context: CanvasRenderingContext2D, scene: Scene, strip: Strip, range: KnotRange): void {
  const { model, view, theme } = scene;
  const top = view.y + model.rows * view.row;
  if (strip.top + strip.height < top) return;
  const wide = stringWidth(view.unit);
  for (let place = range.fromPlace; place <= range.toPlace; place++) {
    context.fillStyle = model.hexes[model.weave.finalOrder[place] as number] as string;
    context.beginPath();
    const length = (TAIL_ROWS + ((place * 7) % 5) * 0.12) * view.row;
    context.roundRect(view.x + place * view.unit - wide / 2, top, wide, view.row + length, wide / 2);
    context.fill();
    if (view.unit < 8) continue;
    context.strokeStyle = theme.lineStrong;
    context.lineWidth = 0.8;
    context.globalAlpha = 0.6;
    context.stroke();
    context.globalAlpha = 1;
  }
}

/** Width of a hanging string in px. */
function stringWidth(unit: number): number {
  return Math.max(1, Math.min(9, unit * 0.2));
}
