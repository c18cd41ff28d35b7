/**
 * The tied knots of a pattern as a precedence graph.
 *
 * Knots are numbered row after row, left to right, untied pairs left out; so a smaller number never has to wait for a
 * larger one. Each string's knots form a chain, and a knot waits for the last knot on each of its two strings.
 */
import {
  isCrossing,
  isLeftShown,
  type KnotCode,
  knotsInRow,
  NONE,
  type Pattern,
  rowParity,
  rowStride,
} from '../pattern/index.ts';

/** Flat arrays, one cell a knot, length `count`; -1 where there is no such knot. */
export interface TiedKnots {
  readonly count: number;
  readonly strings: number;
  readonly row: Int32Array;
  /** Index of the knot in its row, as in the pattern. */
  readonly k: Int16Array;
  readonly kind: Uint8Array;
  /** String (place at the top) whose colour shows, and the one it is tied round. */
  readonly knotting: Int16Array;
  readonly carrier: Int16Array;
  /** Last knot before this one on its knotting string, and on its carrier. */
  readonly beforeOnKnotting: Int32Array;
  readonly beforeOnCarrier: Int32Array;
  /** Next knot on its knotting string, and on its carrier. */
  readonly afterOnKnotting: Int32Array;
  readonly afterOnCarrier: Int32Array;
}

function countTied(pattern: Pattern): number {
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  let count = 0;
  for (let row = 0; row < pattern.rows; row++) {
    const end = row * stride + knotsInRow(strings, rowParity(pattern.start, row));
    for (let cell = row * stride; cell < end; cell++) if (pattern.knots[cell] !== NONE) count++;
  }
  return count;
}

/** The tied knots of `pattern` and what each waits for. O(rows * strings). Rules O1, O2 in engine/RULES.md. */
export function tiedKnots(pattern: Pattern): TiedKnots {
  const strings = pattern.colours.length;
  const stride = rowStride(strings);
  const count = countTied(pattern);
  const absent = (): Int32Array => new Int32Array(count).fill(-1);
  const knots = {
    count,
    strings,
    row: new Int32Array(count),
    k: new Int16Array(count),
    kind: new Uint8Array(count),
    knotting: new Int16Array(count),
    carrier: new Int16Array(count),
    beforeOnKnotting: absent(),
    beforeOnCarrier: absent(),
    afterOnKnotting: absent(),
    afterOnCarrier: absent(),
  };
  const order = Int16Array.from({ length: strings }, (_, place) => place);
  const last = new Int32Array(strings).fill(-1);
  const link = (before: number, string: number, knot: number): void => {
    if (before < 0) return;
    const after = knots.knotting[before] === string ? knots.afterOnKnotting : knots.afterOnCarrier;
    after[before] = knot;
  };
  let knot = 0;
  for (let row = 0; row < pattern.rows; row++) {
    const parity = rowParity(pattern.start, row);
    const inRow = knotsInRow(strings, parity);
    for (let k = 0; k < inRow; k++) {
      const kind = pattern.knots[row * stride + k] as KnotCode;
      if (kind === NONE) continue;
      const place = 2 * k + parity;
      const left = order[place]!;
      const right = order[place + 1]!;
      const knotting = isLeftShown(kind) ? left : right;
      const carrier = knotting === left ? right : left;
      knots.row[knot] = row;
      knots.k[knot] = k;
      knots.kind[knot] = kind;
      knots.knotting[knot] = knotting;
      knots.carrier[knot] = carrier;
      knots.beforeOnKnotting[knot] = last[knotting]!;
      knots.beforeOnCarrier[knot] = last[carrier]!;
      link(last[knotting]!, knotting, knot);
      link(last[carrier]!, carrier, knot);
      last[knotting] = knot;
      last[carrier] = knot;
      if (isCrossing(kind)) {
        order[place] = right;
        order[place + 1] = left;
      }
      knot++;
    }
  }
  return knots;
}
