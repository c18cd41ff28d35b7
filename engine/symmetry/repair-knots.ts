/** Knots that a motion lays onto each other, made alike. */
import { NONE, type Pattern, rowStride } from '../pattern/index.ts';
import { flipsEnds, imageOfKnot, imageOfPlace, imageOfRow, type Motion, unmovedKnot } from './motion.ts';

/**
 * Whose knots stay where two that fall on each other differ: `first` those of the rows from the axis, centre or top on, `second` those that
 * they fall on, `fewest` what most of all that fall on each other are (of two the first).
 */
export type Keep = 'fewest' | 'first' | 'second';

/** The first row from the axis or centre on, else the top row. */
export function firstStaying({ kind, rows }: Motion): number {
  return flipsEnds(kind) ? Math.floor((rows + 1) / 2) : 0;
}

/**
 * The rows, from 0, that stay as they are where `first` is kept, both ends included; the last may stand above the first, since the band goes
 * on. Under a glide they are what all others are made of.
 * @param rows of the pattern, closed to an even number
 */
export function stayingRows(rows: number, motion: Motion): { readonly from: number; readonly to: number } {
  const closed = rows + (rows & 1);
  const count = flipsEnds(motion.kind) ? closed >> 1 : greatestCommon(closed, motion.rows);
  const from = firstStaying(motion) % closed;
  return { from, to: (from + count - 1) % closed };
}

function greatestCommon(a: number, b: number): number {
  return b === 0 ? a : greatestCommon(b, a % b);
}

/**
 * Knots that keep the motion. A knot that falls on itself, on an axis or centre, keeps the string that shows and changes whether the two
 * change places; on the middle line of a mirror it stays; where a glide brings it back to its place mirrored it is untied.
 * @param closed of an even number of rows
 * O(knots).
 */
export function repairedKnots(closed: Pattern, motion: Motion, keep: Keep): Uint8Array {
  const knots = closed.knots.slice();
  for (const orbit of orbitsOf(closed, motion)) tie(knots, orbit, motion, baseOf(knots, orbit, motion, keep));
  return knots;
}

/** Ties what falls on each other as a knot and its images. */
export function tie(knots: Uint8Array, orbit: readonly number[], { kind }: Motion, base: number): void {
  orbit.forEach((at, step) => {
    knots[at] = step % 2 === 0 ? base : imageOfKnot(kind, base);
  });
}

/** What the first cell of those that fall on each other may be. */
export function basesOf(orbit: readonly number[], { kind }: Motion): readonly number[] {
  const all = [1, 2, 3, 4];
  return orbit.length % 2 === 1 ? all.filter((knot) => imageOfKnot(kind, knot) === knot) : all;
}

/**
 * Cells of the knots that fall on each other, each followed by the one it falls on, begun in the rows that stay first. Left out is the
 * middle line of a mirror, where any knot will do.
 */
export function orbitsOf(closed: Pattern, motion: Motion): readonly (readonly number[])[] {
  const { colours, start, rows } = closed;
  const strings = colours.length;
  const stride = rowStride(strings);
  const isDone = new Uint8Array(closed.knots.length);
  const first = firstStaying(motion);
  const orbits: number[][] = [];
  for (let i = 0; i < rows; i++) {
    const row = wrap(first + i, rows);
    for (let place = (start + row) & 1; place + 1 < strings; place += 2) {
      const cell = row * stride + (place >> 1);
      if (isDone[cell] === 1) continue;
      const orbit: number[] = [];
      let [toRow, toPlace, to] = [row, place, cell];
      do {
        orbit.push(to);
        isDone[to] = 1;
        toRow = wrap(imageOfRow(motion, toRow), rows);
        toPlace = imageOfPlace(motion.kind, toPlace, strings);
        to = toRow * stride + (toPlace >> 1);
      } while (to !== cell);
      if (orbit.length > 1 || motion.kind !== 'mirror') orbits.push(orbit);
    }
  }
  return orbits;
}

/** What the first cell of those that fall on each other becomes. An image of an image is the knot again. */
function baseOf(knots: Uint8Array, orbit: readonly number[], { kind }: Motion, keep: Keep): number {
  // Of an odd number the first falls on itself, mirrored or turned, so that it must be its own image.
  const isOwnImage = orbit.length % 2 === 1;
  const wishes = orbit.map((cell, step) => {
    const knot = knots[cell]!;
    const wish = step % 2 === 0 ? knot : imageOfKnot(kind, knot);
    return isOwnImage ? (unmovedKnot(kind, wish) ?? NONE) : wish;
  });
  if (keep === 'first') return wishes[0]!;
  if (keep === 'second') return wishes[1] ?? wishes[0]!;
  // What is exactly as it would become counts; the rest is changed whichever wins.
  const votes = new Map<number, number>();
  orbit.forEach((cell, step) => {
    const wish = wishes[step]!;
    const becomes = step % 2 === 0 ? wish : imageOfKnot(kind, wish);
    votes.set(wish, (votes.get(wish) ?? 0) + (becomes === knots[cell] ? 1 : 0));
  });
  const most = Math.max(...votes.values());
  return wishes.find((wish) => votes.get(wish) === most)!;
}

function wrap(row: number, rows: number): number {
  return ((row % rows) + rows) % rows;
}
