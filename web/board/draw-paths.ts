/** The paths: each string as a ribbon on its way through the band, over and under the others. */
import { type Curve, type KnotCode, knotRibbons, rowStride } from '../../engine/index.ts';
import { shade } from './cord.ts';
import { rangeIn } from './draw-chart.ts';
import { drawHead } from './draw-head.ts';
import { textureAlong } from './knot-texture.ts';
import type { Painter, Scene } from './painter.ts';
import type { Strip } from './repaint.ts';

/** Rows are as high as places are wide: a ribbon then crosses at a slope that the eye follows. */
const PATHS_ROW = 1.05;

const TAIL_ROWS = 2;

interface Shades {
  readonly edge: string;
  readonly light: string;
}

const shades = new Map<string, Shades>();

/** A ribbon's edge and the light along it; made once a colour. */
function shadesOf(hex: string): Shades {
  let found = shades.get(hex);
  if (found === undefined) {
    found = { edge: shade(hex, -0.22), light: shade(hex, 0.16) };
    shades.set(hex, found);
  }
  return found;
}

export class PathsPainter implements Painter {
  readonly rowPerPlace = PATHS_ROW;
  readonly hasCarriers = true;

  paint(context: CanvasRenderingContext2D, scene: Scene, strip: Strip): void {
    const { model, view, theme, textures } = scene;
    const { strings, hexes, weave, start } = model;
    const { knots } = model.board.pattern;
    const stride = rowStride(strings);
    const range = rangeIn(scene, strip);
    const wide = Math.max(1.5, view.unit * 0.5);
    const gap = Math.max(0.75, Math.min(3, view.unit * 0.09));
    context.lineJoin = 'round';
    context.lineCap = 'butt';
    const ribbon = (path: Path2D, string: number): void => {
      const hex = hexes[string] as string;
      context.strokeStyle = theme.page;
      context.lineWidth = wide + 2 * gap;
      context.stroke(path);
      // Opaque shades: where two pieces of a ribbon meet nothing shows through.
      const { edge, light } = shadesOf(hex);
      context.strokeStyle = edge;
      context.lineWidth = wide;
      context.stroke(path);
      if (view.unit < 8) return;
      context.strokeStyle = hex;
      context.lineWidth = wide * 0.7;
      context.stroke(path);
      context.strokeStyle = light;
      context.lineWidth = wide * 0.24;
      context.stroke(path);
      const texture = textures?.[string] ?? 0;
      if (texture > 0) textureAlong(context, path, texture, hex, wide);
    };
    const stringAt = (row: number, place: number): number => weave.orderFlat[row * strings + place] as number;
    const straight = (row: number, place: number, length = 1): void => {
      if (place < range.fromPlace || place > range.toPlace) return;
      ribbon(this.#curve(scene, row, place, [0, 0, 0, 0.3, 0, 0.6, 0, length + 0.02]), stringAt(row, place));
    };
    // A row of knots lies half a row lower than its strings come in, so that all looks keep knots at the same height.
    if (range.fromRow === 0)
      for (let place = range.fromPlace; place <= range.toPlace; place++)
        ribbon(this.#curve(scene, -1, place, [0, 0.5, 0, 0.7, 0, 0.9, 0, 1.02]), stringAt(0, place));
    for (let row = range.fromRow; row <= range.toRow; row++) {
      const parity = (start + row) & 1;
      if (parity === 1) straight(row, 0);
      if (((strings - parity) & 1) === 1) straight(row, strings - 1);
      for (let k = 0; k < (strings - parity) >> 1; k++) {
        const place = 2 * k + parity;
        if (place + 1 < range.fromPlace || place > range.toPlace) continue;
        const knot = knots[row * stride + k] as KnotCode;
        if (knot === 0) {
          straight(row, place);
          straight(row, place + 1);
          continue;
        }
        const { over, under, isLeftOver } = knotRibbons(knot);
        ribbon(this.#curve(scene, row, place, under), stringAt(row, place + (isLeftOver ? 1 : 0)));
        ribbon(this.#curve(scene, row, place, over), stringAt(row, place + (isLeftOver ? 0 : 1)));
      }
    }
    if (range.toRow === model.rows - 1)
      for (let place = range.fromPlace; place <= range.toPlace; place++)
        straight(model.rows, place, TAIL_ROWS);
    if (strip.top < view.y + 2) drawHead(context, scene);
  }

  #curve({ view }: Scene, row: number, place: number, curve: Curve): Path2D {
    const x = (value: number): number => view.x + (place + value) * view.unit;
    const y = (value: number): number => view.y + (row + 0.5 + value) * view.row;
    const path = new Path2D();
    path.moveTo(x(curve[0] as number), y(curve[1] as number));
    for (let i = 2; i + 5 < curve.length; i += 6) {
      const [ax, ay, bx, by, cx, cy] = curve.slice(i, i + 6) as [
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      path.bezierCurveTo(x(ax), y(ay), x(bx), y(by), x(cx), y(cy));
    }
    return path;
  }
}
