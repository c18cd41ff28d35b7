/** The commands that turn one pattern into another. */
import type { Command } from '../../engine/document/index.ts';
import { type KnotCode, knotsInRow, type Pattern, rowParity, rowStride } from '../../engine/index.ts';
import { recolourings } from '../board/index.ts';

/**
 * Only what differs is written where rows and strings stay, so that what others change meanwhile elsewhere stays; else the
 * whole pattern anew. None where nothing differs. O(knots).
 */
export function patternChange(from: Pattern, to: Pattern): readonly Command[] {
  const strings = from.colours.length;
  if (to.rows !== from.rows || to.start !== from.start || to.colours.length !== strings)
    return [{ kind: 'replace-pattern', pattern: to }];
  const stride = rowStride(strings);
  const knots: { row: number; k: number; knot: KnotCode }[] = [];
  for (let row = 0; row < from.rows; row++)
    for (let k = 0; k < knotsInRow(strings, rowParity(from.start, row)); k++) {
      const knot = to.knots[row * stride + k]!;
      if (knot !== from.knots[row * stride + k]) knots.push({ row, k, knot: knot as KnotCode });
    }
  return [
    ...(knots.length === 0 ? [] : [{ kind: 'set-knots', knots } as const]),
    ...recolourings(from.colours, to.colours),
  ];
}
