/** Ties a band anew so that a motion lays it onto itself. */
import { closeRepeat, NONE, type Pattern, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import {
  flipsEnds,
  flipsSides,
  imageOfBoundary,
  imageOfKnot,
  imageOfPlace,
  imageOfRow,
  keepsStagger,
  type Motion,
  unmovedKnot,
} from './motion.ts';
import { orderAt } from './order-at.ts';

/**
 * The pattern with knots and colours changed so that its endless band is laid onto itself by the motion.
 *
 * Knots: the rows from the axis, centre or top on stay, and those that they fall on become their images. On the axis or
 * centre itself a knot that would not be its own image keeps the string that shows and changes whether the two change
 * places; on the middle line of a mirror it stays (every knot there shows one of two strings of one colour); on that of a
 * glide that comes back to the same row it is untied.
 * Colours: strings whose ends must then have one colour all get the one that most of them had, else that of the leftmost.
 *
 * @param motion one that nearSymmetries gives, or any other with whole rows, 0 or more
 * @returns a pattern with an even number of rows (an odd number is closed by its untied row), same strings and start
 * @throws RangeError when the rows are no whole number of 0 or more, or the motion does not lay the stagger onto itself
 * O(knots + strings x repeats above the axis). Rule S9.
 */
export function repairSymmetry(pattern: Pattern, motion: Motion): Pattern {
  const strings = pattern.colours.length;
  if (!(Number.isInteger(motion.rows) && motion.rows >= 0 && keepsStagger(motion, strings)))
    throw new RangeError(
      `a ${motion.kind} of ${motion.rows} rows does not lay ${strings} strings onto their stagger`,
    );
  const closed = closeRepeat(pattern);
  const tied = { ...closed, knots: repairedKnots(closed, motion) };
  return { ...tied, colours: repairedColours(tied, motion) };
}

/** The first row from the axis or centre on, else the top row. */
function firstStaying({ kind, rows }: Motion): number {
  return flipsEnds(kind) ? Math.floor((rows + 1) / 2) : 0;
}

function repairedKnots(closed: Pattern, motion: Motion): Uint8Array {
  const { colours, start, rows } = closed;
  const strings = colours.length;
  const stride = rowStride(strings);
  const knots = closed.knots.slice();
  const isDone = new Uint8Array(knots.length);
  const first = firstStaying(motion);
  for (let i = 0; i < rows; i++) {
    const row = wrap(first + i, rows);
    for (let place = (start + row) & 1; place + 1 < strings; place += 2) {
      const cell = row * stride + (place >> 1);
      if (isDone[cell] === 1) continue;
      // Follow the cell until it falls on itself again; only then is it known whether it can be its own image.
      let knot = knots[cell]!;
      let [toRow, toPlace, to] = [row, place, cell];
      do {
        knots[to] = knot;
        isDone[to] = 1;
        knot = imageOfKnot(motion.kind, knot);
        toRow = wrap(imageOfRow(motion, toRow), rows);
        toPlace = imageOfPlace(motion.kind, toPlace, strings);
        to = toRow * stride + (toPlace >> 1);
      } while (to !== cell);
      if (knot === knots[cell]) continue;
      untangle(knots, closed, motion, row, place);
    }
  }
  return knots;
}

/** Mends a cell that fell on itself as another knot, and all that it falls on. */
function untangle(
  knots: Uint8Array,
  { colours, rows }: Pattern,
  motion: Motion,
  row: number,
  place: number,
): void {
  const strings = colours.length;
  const stride = rowStride(strings);
  const cell = row * stride + (place >> 1);
  if (motion.kind === 'mirror') return;
  const unmoved = unmovedKnot(motion.kind, knots[cell]!) ?? NONE;
  let [toRow, toPlace, to] = [row, place, cell];
  let knot: number = unmoved;
  do {
    knots[to] = knot;
    knot = imageOfKnot(motion.kind, knot);
    toRow = wrap(imageOfRow(motion, toRow), rows);
    toPlace = imageOfPlace(motion.kind, toPlace, strings);
    to = toRow * stride + (toPlace >> 1);
  } while (to !== cell);
}

/** Colours under which the boundary at the axis, centre or top falls on its like. */
function repairedColours(tied: Pattern, motion: Motion): string[] {
  const strings = tied.colours.length;
  const woven = weave(tied);
  const boundary = firstStaying(motion);
  const order = orderAt(woven, boundary);
  const image = orderAt(woven, imageOfBoundary(motion, boundary));
  const group = Int16Array.from({ length: strings }, (_, string) => string);
  const leader = (string: number): number => {
    let at = string;
    while (group[at] !== at) at = group[at]!;
    return at;
  };
  order.forEach((string, place) => {
    const a = leader(string);
    const b = leader(image[flipsSides(motion.kind) ? strings - 1 - place : place]!);
    group[Math.max(a, b)] = Math.min(a, b);
  });
  return tied.colours.map((_, string) => {
    const ofGroup = tied.colours.filter((__, other) => leader(other) === leader(string));
    return mostFrequent(ofGroup);
  });
}

/** The colour that occurs most often; of several the first. */
function mostFrequent(colours: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const colour of colours) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const most = Math.max(...counts.values());
  return colours.find((colour) => counts.get(colour) === most)!;
}

function wrap(row: number, rows: number): number {
  return ((row % rows) + rows) % rows;
}
