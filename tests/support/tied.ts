import { type Pattern, rowStride } from '../../engine/index.ts';
import type { TiedCell } from '../../web/board/mirror.ts';

/** The pattern with these knots tied. */
export function tied(pattern: Pattern, knots: readonly TiedCell[]): Pattern {
  const copy = pattern.knots.slice();
  for (const { row, k, knot } of knots) copy[row * rowStride(pattern.colours.length) + k] = knot;
  return { ...pattern, knots: copy };
}
