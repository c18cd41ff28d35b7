/** Bands written down knot after knot, as a book tells them, rather than row by row. */
import { type KnotCode, type Pattern, rowStride } from '../../engine/index.ts';

export interface Tie {
  /** The left of the two places that are tied, from 0. */
  readonly place: number;
  readonly knot: KnotCode;
}

export interface TiedByHand {
  readonly pattern: Pattern;
  /** Where each tie lies in the pattern, in the order in which they were given. */
  readonly cells: readonly { readonly row: number; readonly k: number }[];
}

/** Lays each tie into the first row of its stagger below the last tie on either of its places. */
export function tiedByHand(colours: readonly string[], ties: readonly Tie[]): TiedByHand {
  const free = Array<number>(colours.length).fill(0);
  const placed = ties.map(({ place, knot }) => {
    const first = Math.max(free[place]!, free[place + 1]!);
    const row = first + ((first ^ place) & 1);
    free[place] = row + 1;
    free[place + 1] = row + 1;
    return { row, k: place >> 1, knot };
  });
  const rows = Math.max(0, ...free);
  const stride = rowStride(colours.length);
  const knots = new Uint8Array(rows * stride);
  for (const { row, k, knot } of placed) knots[row * stride + k] = knot;
  return { pattern: { colours, start: 0, rows, knots }, cells: placed.map(({ row, k }) => ({ row, k })) };
}

/**
 * A bar: the string at place `from` is the cord and goes to place `to`; every string on its way is knotted over it.
 * To the right each knot is tied by the right string (backward), to the left by the left one (forward).
 */
export function bar(from: number, to: number): Tie[] {
  const length = Math.abs(to - from);
  return Array.from({ length }, (_, i) =>
    to > from ? { place: from + i, knot: 2 as const } : { place: from - 1 - i, knot: 1 as const },
  );
}
