/** The order row by row. */
import { knotsInRow, MIRRORED_KNOT, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import type { TiedKnots } from './knots.ts';

/**
 * Whether the left and the right half of a row mirror each other, knot for knot. A knot in the middle may be any. False under an odd
 * number of strings, where no row has a middle.
 */
function isRowMirrored(pattern: Pattern, row: number): boolean {
  const strings = pattern.colours.length;
  if (strings % 2 === 1) return false;
  const base = row * rowStride(strings);
  const count = knotsInRow(strings, rowParity(pattern.start, row));
  for (let k = 0; k < count >> 1; k++) {
    const left = pattern.knots[base + k]!;
    if (pattern.knots[base + count - 1 - k] !== MIRRORED_KNOT[left]) return false;
  }
  return true;
}

/** Positions `0 … count - 1` from the middle out: the middle one, the left half outwards, then the right half outwards. */
function middleOut(count: number): readonly number[] {
  const half = count >> 1;
  const middle = count % 2 === 1 ? [half] : [];
  const left = Array.from({ length: half }, (_, i) => half - 1 - i);
  return [...middle, ...left, ...left.map((k) => count - 1 - k)];
}

/**
 * Knots row by row; within a row that is mirrored from the middle outwards, first the left half, then the right; in other
 * rows left to right. O(knots). Rule O3.
 */
export function orderRows(pattern: Pattern, knots: TiedKnots): Int32Array {
  const strings = pattern.colours.length;
  const order = new Int32Array(knots.count);
  const at = new Int32Array(rowStride(strings));
  let tied = 0;
  for (let from = 0; from < knots.count; ) {
    const row = knots.row[from]!;
    at.fill(-1);
    let to = from;
    for (; to < knots.count && knots.row[to] === row; to++) at[knots.k[to]!] = to;
    const count = knotsInRow(strings, rowParity(pattern.start, row));
    if (isRowMirrored(pattern, row)) {
      for (const k of middleOut(count)) if (at[k]! >= 0) order[tied++] = at[k]!;
    } else {
      for (let knot = from; knot < to; knot++) order[tied++] = knot;
    }
    from = to;
  }
  return order;
}
