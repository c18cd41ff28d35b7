/** What a board would show with some knots tied otherwise, before they are. */
import { isCrossing, isLeftShown, type KnotCode, knotsInRow, rowParity } from '../../engine/index.ts';
import type { BoardModel } from './board-model.ts';
import type { TiedCell } from './mirror.ts';

/** A knot as it would be; `hex` null where it would show nothing. */
export interface AheadCell extends TiedCell {
  readonly hex: string | null;
}

/**
 * The knots down to a row that would be of another kind or colour, from the top.
 * @param knots inside the pattern
 * O(strings x rows from the first of them on).
 */
export function weaveAhead(
  { board: { pattern }, strings, weave, hexes }: Pick<BoardModel, 'board' | 'strings' | 'weave' | 'hexes'>,
  knots: readonly TiedCell[],
  toRow: number,
): readonly AheadCell[] {
  const changed = new Map(knots.map(({ row, k, knot }) => [row * strings + k, knot]));
  const from = Math.min(...knots.map(({ row }) => row));
  const stride = strings >> 1;
  const order = weave.orderFlat.slice(from * strings, (from + 1) * strings);
  const found: AheadCell[] = [];
  for (let row = from; row <= Math.min(toRow, pattern.rows - 1); row++) {
    const parity = rowParity(pattern.start, row);
    for (let k = 0; k < knotsInRow(strings, parity); k++) {
      const place = 2 * k + parity;
      const was = pattern.knots[row * stride + k] as KnotCode;
      const knot = changed.get(row * strings + k) ?? was;
      const left = order[place] as number;
      const right = order[place + 1] as number;
      const hex = knot === 0 ? null : (hexes[isLeftShown(knot) ? left : right] as string);
      const before = weave.shownFlat[row * stride + k] as number;
      if (knot !== was || hex !== (before < 0 ? null : hexes[before])) found.push({ row, k, knot, hex });
      if (isCrossing(knot)) {
        order[place] = right;
        order[place + 1] = left;
      }
    }
  }
  return found;
}
