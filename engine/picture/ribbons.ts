/** Strings as ribbons: the curve of each of the two strings of a knot, and which of them lies on top. */
import { isCrossing, isLeftShown, type KnotCode } from '../pattern/index.ts';

/**
 * A curve through one row in cubic Bezier pieces: x, y of the start, then two control points and an end for each piece.
 * x in places from the knot's left place, y in rows from the row's top: a ribbon runs from y = 0 to y = 1.
 */
export type Curve = readonly number[];

/** The two strings of a knot as curves inside its cell. */
export interface KnotRibbons {
  /** Curve of the carrier, which lies under. */
  readonly under: Curve;
  /** Curve of the knotting string, which lies over it. */
  readonly over: Curve;
  /** Whether the upper curve is that of the string that comes in on the left. */
  readonly isLeftOver: boolean;
}

/** Straight down from one place to another, leaving and arriving upright. */
function across(from: number, to: number): Curve {
  return [from, 0, from, 0.45, to, 0.55, to, 1];
}

/** Out over the carrier and back. */
function bend(home: number, out: number): Curve {
  return [home, 0, home, 0.4, out, 0.12, out, 0.5, out, 0.88, home, 0.6, home, 1];
}

/** How far a bend reaches beyond the carrier's middle, in places. */
const OVERHANG = 0.14;

/**
 * The two ribbons of a tied pair.
 * @throws RangeError for an untied pair, which has none: its strings hang straight
 */
export function knotRibbons(knot: KnotCode): KnotRibbons {
  if (knot === 0) throw new RangeError('an untied pair has no knot to draw');
  const isLeftOver = isLeftShown(knot);
  if (isCrossing(knot)) {
    const toRight = across(0, 1);
    const toLeft = across(1, 0);
    return isLeftOver
      ? { over: toRight, under: toLeft, isLeftOver }
      : { over: toLeft, under: toRight, isLeftOver };
  }
  return isLeftOver
    ? { over: bend(0, 1 + OVERHANG), under: across(1, 1), isLeftOver }
    : { over: bend(1, -OVERHANG), under: across(0, 0), isLeftOver };
}
