/** The one drawer of a band's knots: the board, a comparison, a version and the small band all show them by it. */
import { rowStride } from '../../engine/index.ts';
import type { BoardModel } from './board-model.ts';
import type { KnotSprites } from './knot-sprites.ts';
import type { Viewport } from './viewport.ts';

/** Below this many px from place to place a copied picture would be a blot: knots are plain lozenges of any size. */
export const LEAST_SPRITE_UNIT = 2;

/** Rows and places of which something is to be drawn, ends included. */
export interface KnotRange {
  readonly fromRow: number;
  readonly toRow: number;
  readonly fromPlace: number;
  readonly toPlace: number;
}

/** How knots look beside their colour. */
export interface KnotLook {
  /** Device px of a CSS px. */
  readonly ratio: number;
  /** Number of the texture of each string's colour, 0 for none; default none. */
  readonly textures?: readonly number[] | null;
  /** Whether all bear the strokes of a forward knot. */
  readonly isAlike?: boolean;
}

/** Rows and places of a whole band. */
export function wholeBand({ rows, strings }: BoardModel): KnotRange {
  return { fromRow: 0, toRow: rows - 1, fromPlace: 0, toPlace: strings - 1 };
}

/**
 * Draws the knots of a range; untied pairs stay bare. All copies lie on whole device pixels, so that those of one kind are alike, and cheap.
 * @param sprites brought to the scale of the view
 */
export function drawKnots(
  context: CanvasRenderingContext2D,
  sprites: KnotSprites,
  { strings, start, weave, hexes, board }: BoardModel,
  view: Viewport,
  range: KnotRange,
  { ratio, textures, isAlike = false }: KnotLook,
): void {
  const { knots } = board.pattern;
  const stride = rowStride(strings);
  const isSprite = view.unit >= LEAST_SPRITE_UNIT;
  if (isSprite) sprites.scaleTo(view.unit, view.row, ratio);
  const { width, height } = sprites;
  const whole = (value: number): number => Math.round(value * ratio) / ratio;
  const x0 = whole(view.x + 0.5 * view.unit - width / 2);
  const y0 = whole(view.y + view.row - height / 2);
  for (let row = range.fromRow; row <= range.toRow; row++) {
    const parity = (start + row) & 1;
    const first = Math.max(0, (range.fromPlace - parity - 1) >> 1);
    const last = Math.min(((strings - parity) >> 1) - 1, (range.toPlace - parity) >> 1);
    for (let k = first; k <= last; k++) {
      const knot = knots[row * stride + k] as number;
      if (knot === 0) continue;
      const string = weave.shownFlat[row * stride + k] as number;
      const hex = hexes[string] as string;
      const along = (2 * k + parity) * view.unit;
      if (isSprite) {
        const sprite = sprites.of(hex, isAlike ? 1 : knot, textures?.[string]);
        context.drawImage(sprite, x0 + along, y0 + row * view.row, width, height);
      } else {
        const [x, y] = [view.x + 0.5 * view.unit + along, view.y + (row + 1) * view.row];
        context.fillStyle = hex;
        context.fill(plainLozenge(x, y, view.unit + 0.3, view.row + 0.3));
      }
    }
  }
}

/** A lozenge around (x, y), `half` wide and `tall` high to each side, its corners sharp. */
export function plainLozenge(x: number, y: number, half: number, tall: number): Path2D {
  const path = new Path2D();
  path.moveTo(x, y - tall);
  path.lineTo(x + half, y);
  path.lineTo(x, y + tall);
  path.lineTo(x - half, y);
  path.closePath();
  return path;
}
