/** Pictures as the search has them, written as rows of numbers. */
import { rowStride } from '../../engine/index.ts';
import { ANY_KNOT, ANY_ORDER, type Routing, type TopRule } from '../../engine/solve/routing.ts';

interface RoutingParts extends Partial<Pick<Routing, 'start' | 'colours' | 'bottom' | 'seam'>> {
  /** Rows of knots that stay, 255 where the search chooses; none stays unless it is said. */
  readonly kept?: readonly (readonly number[])[];
  readonly top?: Partial<TopRule>;
}

/** @param wishes rows of colours, -1 where any may show */
export function routing(
  strings: number,
  wishes: readonly (readonly number[])[],
  { kept = [], top, ...more }: RoutingParts = {},
): Routing {
  const stride = rowStride(strings);
  const rows = wishes.length;
  const wished = new Int16Array(rows * stride).fill(-1);
  const knots = new Uint8Array(rows * stride).fill(ANY_KNOT);
  for (const [r, row] of wishes.entries()) wished.set(row, r * stride);
  for (const [r, row] of kept.entries()) knots.set(row, r * stride);
  return {
    strings,
    rows,
    start: 0,
    colours: 3,
    wishes: wished,
    weights: new Int32Array(rows * stride).fill(1),
    kept: knots,
    top: { ...ANY_ORDER, ...top },
    bottom: null,
    seam: -1,
    ...more,
  };
}
