/** A band made of parts, each the mirror image of the one beside it. */
import {
  type KnotCode,
  knotsInRow,
  MIRRORED_KNOT,
  type Pattern,
  rowParity,
  rowStride,
} from '../pattern/index.ts';

/** One part of a band. */
interface Part {
  /** Strings of the part. */
  readonly strings: number;
  readonly rows: number;
  readonly start: 0 | 1;
  /** Colour of the string at each place of the part. */
  readonly colours: readonly string[];
  /**
   * The knot of that row between the places `place` and `place + 1` of the part; -1 and `strings - 1` are those with the same place of
   * the part to the left and to the right, where both strings are of one colour.
   */
  readonly knotAt: (row: number, place: number) => KnotCode;
}

/** `across` parts beside each other; every other one is mirrored. O(knots). */
export function unfold(part: Part, across: number): Pattern {
  const strings = part.strings * across;
  const stride = rowStride(strings);
  const knots = new Uint8Array(part.rows * stride);
  for (let row = 0; row < part.rows; row++) {
    const parity = rowParity(part.start, row);
    for (let k = 0; k < knotsInRow(strings, parity); k++) {
      const place = 2 * k + parity;
      const isMirrored = Math.floor(place / part.strings) % 2 === 1;
      const local = place % part.strings;
      const knot = part.knotAt(row, isMirrored ? part.strings - 2 - local : local);
      knots[row * stride + k] = isMirrored ? MIRRORED_KNOT[knot] : knot;
    }
  }
  const colours = Array.from({ length: strings }, (_, place) => {
    const local = place % part.strings;
    const isMirrored = Math.floor(place / part.strings) % 2 === 1;
    return part.colours[isMirrored ? part.strings - 1 - local : local] as string;
  });
  return { colours, start: part.start, rows: part.rows, knots };
}
