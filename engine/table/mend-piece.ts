/** A way on below a mistake: other kinds for the knots of a piece that are not tied yet, so that it comes back to its picture. */
import type { Board, KnotToken } from '../pattern/index.ts';
import { KNOT_TOKENS, knotsInRow, rowParity, rowStride } from '../pattern/index.ts';
import { ANY_KNOT, mendBand, type MendOptions } from '../solve/index.ts';
import { codesWith, wholePiece } from './own-way.ts';
import { knotKey, type TiedKeys } from './piece-knot.ts';

/** How a piece goes on below a mistake. */
export interface MendedPiece {
  /** Kinds that are otherwise than on the board, by `knotKey`: those that were before, the mistake, and those that mend it. */
  readonly kinds: ReadonlyMap<string, KnotToken>;
  /** Knots not yet tied that show another colour than the board means. */
  readonly wrong: number;
  /** Proven: no kinds of the knots not yet tied leave fewer. */
  readonly lowerBound: number;
  /** Whether `wrong` is proven to be the fewest. */
  readonly proven: boolean;
}

/**
 * The kinds of the knots of a piece that are not tied yet with which the fewest of them show another colour than the board means, where some
 * of those that are tied are of other kinds. Knots of the end rows keep the kinds that the end has.
 * @param kinds of what is tied otherwise than on the board, the mistake among them; where it names knots that are not tied, those are tried first
 * @throws RangeError when a kind names no knot of the piece, or the piece has more than 20,000 rows
 * Rule H35.
 */
export function mendPiece(
  board: Board,
  kinds: ReadonlyMap<string, KnotToken>,
  tied: TiedKeys,
  options: Omit<MendOptions, 'onBest'> & { readonly onBest?: (mended: MendedPiece) => void } = {},
): MendedPiece {
  const whole = wholePiece(board);
  const { pattern: meant, sources } = whole;
  const strings = meant.colours.length;
  const stride = rowStride(strings);
  const preferred = codesWith(whole, kinds);
  const held = preferred.slice();
  const keys: (string | null)[] = Array.from(held, () => null);
  for (const [row, source] of sources.entries()) {
    if (source === null) continue;
    const { part, repeat, partRow } = source;
    for (let k = 0; k < knotsInRow(strings, rowParity(meant.start, row)); k++) {
      const cell = row * stride + k;
      const key = knotKey({ part, repeat, row: partRow, k });
      keys[cell] = key;
      if (meant.knots[cell] !== 0 && part !== 'end' && !tied.has(key)) held[cell] = ANY_KNOT;
    }
  }
  const isWanted = (cell: number): boolean => {
    const key = keys[cell];
    return key !== null && key !== undefined && meant.knots[cell] !== 0 && !tied.has(key);
  };
  const named = ({ pattern, wrong, lowerBound, proven }: ReturnType<typeof mendBand>): MendedPiece => {
    const other = new Map<string, KnotToken>();
    for (const [cell, key] of keys.entries())
      if (key !== null && pattern.knots[cell] !== meant.knots[cell])
        other.set(key, KNOT_TOKENS[pattern.knots[cell]!]!);
    return { kinds: other, wrong, lowerBound, proven };
  };
  const { onBest, ...rest } = options;
  return named(
    mendBand(
      { meant, held, preferred, isWanted },
      { ...rest, onBest: onBest && ((mended) => onBest(named(mended))) },
    ),
  );
}
