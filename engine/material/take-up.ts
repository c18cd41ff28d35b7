/** What each string does on its way through the whole piece. */

import { finishRows, type PieceRows, stoppedAt } from '../finish/index.ts';
import {
  isCrossing,
  isLeftShown,
  type KnotCode,
  type Pattern,
  rowParity,
  rowStride,
} from '../pattern/index.ts';

/**
 * Counts for each string, indexed by its place at the top. Whole numbers kept as doubles: exact to 2^53, so repeats may be many.
 * `knotting + carrier + untied` is the number of rows of the piece for every string.
 */
export interface TakeUp {
  readonly knotting: Float64Array;
  readonly carrier: Float64Array;
  /** Rows in which the string hung on beside the knots. */
  readonly untied: Float64Array;
  /** Place at which the string hangs below the last row. */
  readonly finalPlace: Int32Array;
  /** Rows of the piece: lead-in, repeats, the untied rows between odd repeats, end rows. */
  readonly rows: number;
  readonly knots: number;
}

/** Counts and places while working downwards; indexed by string. */
interface Walk {
  readonly knotting: Float64Array;
  readonly carrier: Float64Array;
  /** String at each place, left to right. */
  order: Int32Array;
  rows: number;
}

/**
 * Follows every string through lead-in, repeats and end rows. One repeat is walked knot by knot; the others follow from the
 * permutation it makes, cycle by cycle.
 * O(rows of the pattern x strings + N²/4 for the end), whatever the number of repeats. Rules L7, L8.
 */
export function takeUp(pattern: Pattern, piece: PieceRows): TakeUp {
  const strings = pattern.colours.length;
  const walk: Walk = {
    knotting: new Float64Array(strings),
    carrier: new Float64Array(strings),
    order: Int32Array.from({ length: strings }, (_, place) => place),
    rows: 0,
  };
  const { leadInRows, repeats, partRows = 0 } = piece;
  const stride = rowStride(strings);
  walkRows(walk, pattern.start, leadInRows, pattern.knots);
  const repeatStart = rowParity(pattern.start, leadInRows);
  const repeatRows = pattern.rows - leadInRows;
  const repeatKnots = pattern.knots.subarray(leadInRows * stride);
  if (repeats > 0) walkRepeats(walk, repeatStart, repeatRows, repeatKnots, repeats);
  if (partRows > 0) {
    if (repeats > 0) walk.rows += repeatRows % 2;
    walkRows(walk, repeatStart, partRows, repeatKnots);
  }
  const finish = finishRows(stoppedAt(pattern, piece), piece.end);
  walkRows(walk, finish.start, finish.rows, finish.knots);

  const untied = new Float64Array(strings);
  const finalPlace = new Int32Array(strings);
  let knots = 0;
  for (let string = 0; string < strings; string++) {
    untied[string] = walk.rows - walk.knotting[string]! - walk.carrier[string]!;
    knots += walk.knotting[string]!;
  }
  for (let place = 0; place < strings; place++) finalPlace[walk.order[place]!] = place;
  return { knotting: walk.knotting, carrier: walk.carrier, untied, finalPlace, rows: walk.rows, knots };
}

function walkRows(walk: Walk, start: 0 | 1, rows: number, knots: Uint8Array): void {
  const { knotting, carrier, order } = walk;
  const strings = order.length;
  const stride = rowStride(strings);
  for (let row = 0; row < rows; row++) {
    const base = row * stride;
    for (let place = rowParity(start, row) as number, cell = base; place + 1 < strings; place += 2, cell++) {
      const knot = knots[cell]! as KnotCode;
      if (knot === 0) continue;
      const left = order[place]!;
      const right = order[place + 1]!;
      const isLeft = isLeftShown(knot);
      knotting[isLeft ? left : right]! += 1;
      carrier[isLeft ? right : left]! += 1;
      if (isCrossing(knot)) {
        order[place] = right;
        order[place + 1] = left;
      }
    }
  }
  walk.rows += rows;
}

function walkRepeats(walk: Walk, start: 0 | 1, rows: number, knots: Uint8Array, repeats: number): void {
  const strings = walk.order.length;
  const once: Walk = {
    knotting: new Float64Array(strings),
    carrier: new Float64Array(strings),
    order: Int32Array.from({ length: strings }, (_, place) => place),
    rows: 0,
  };
  walkRows(once, start, rows, knots);
  // next[place]: where the string that enters a repeat at `place` leaves it, and so enters the following one.
  const next = new Int32Array(strings);
  for (let place = 0; place < strings; place++) next[once.order[place]!] = place;

  const after = new Int32Array(strings);
  for (const cycle of cyclesOf(next)) {
    const length = cycle.length;
    const knotting = windowSums(cycle, once.knotting, repeats);
    const carrier = windowSums(cycle, once.carrier, repeats);
    for (let i = 0; i < length; i++) {
      const string = walk.order[cycle[i]!]!;
      walk.knotting[string]! += knotting[i]!;
      walk.carrier[string]! += carrier[i]!;
      after[cycle[(i + repeats) % length]!] = string;
    }
  }
  walk.order = after;
  // An odd number of rows closes with an untied row before the next repeat, so that its knots begin at the same places.
  walk.rows += rows * repeats + (rows % 2 === 1 ? repeats - 1 : 0);
}

function cyclesOf(next: Int32Array): readonly (readonly number[])[] {
  const seen = new Uint8Array(next.length);
  const cycles: number[][] = [];
  for (let first = 0; first < next.length; first++) {
    if (seen[first] === 1) continue;
    const cycle: number[] = [];
    for (let place = first; seen[place] === 0; place = next[place]!) {
      seen[place] = 1;
      cycle.push(place);
    }
    cycles.push(cycle);
  }
  return cycles;
}

/** For each i the sum of `values` over `count` places of the cycle from i on, going round as often as needed. O(cycle). */
function windowSums(cycle: readonly number[], values: Float64Array, count: number): Float64Array {
  const length = cycle.length;
  const upTo = new Float64Array(2 * length + 1);
  for (let i = 0; i < 2 * length; i++) upTo[i + 1] = upTo[i]! + values[cycle[i % length]!]!;
  const whole = upTo[length]! * Math.floor(count / length);
  const rest = count % length;
  return Float64Array.from(cycle, (_, i) => whole + upTo[i + rest]! - upTo[i]!);
}
