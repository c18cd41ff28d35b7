/**
 * A design with the ids of everything in it, hidden halves included, as plain data: what two designs are compared by.
 *
 * Layout of `knots`: byte `i * stringPairIds.length + j` holds the knots of row pair `i` at string pair `j`, inside in
 * the low half, seam in the high half.
 */
import {
  type Board,
  type ColourId,
  type KnotCode,
  knotsInRow,
  type Pattern,
  rowParity,
  rowStride,
} from '../../pattern/index.ts';
import type { Half } from '../schema.ts';

/** Which halves at the edges are hidden. */
export interface Ends {
  readonly firstHidden: boolean;
  readonly lastHidden: boolean;
  readonly loneString: boolean;
}

/** A design at one moment with all ids. Immutable; made by `readKeyed`. */
export interface KeyedDesign {
  /** Id of the pattern: where it differs, every row, string and knot is another. */
  readonly patternId: string;
  /** What is shown. */
  readonly board: Board;
  readonly rowPairIds: readonly string[];
  readonly stringPairIds: readonly string[];
  readonly ends: Ends;
  /** Colour of each string, two for each pair. */
  readonly ofPairs: readonly ColourId[];
  /** Laid out as described at the top of this file. */
  readonly knots: Uint8Array;
  /** What replaced each colour that was removed. */
  readonly instead: Readonly<Record<ColourId, ColourId>>;
}

/** The pattern as shown: what hidden ends leave of the pairs. */
export function shownPattern(keyed: Omit<KeyedDesign, 'board'>): Pattern {
  const { ends, rowPairIds, stringPairIds, ofPairs, knots } = keyed;
  const start = ends.firstHidden ? 1 : 0;
  const rows = Math.max(0, rowPairIds.length * 2 - start - (ends.lastHidden ? 1 : 0));
  const strings = stringPairIds.length * 2 - (ends.loneString ? 1 : 0);
  const stride = rowStride(strings);
  const shown = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++) {
    const parity = rowParity(start, row);
    const from = ((row + start) >> 1) * stringPairIds.length;
    for (let k = 0; k < knotsInRow(strings, parity); k++)
      shown[row * stride + k] = halfOf(knots[from + k]!, parity === 0 ? 'inside' : 'seam');
  }
  return { colours: ofPairs.slice(0, strings), start, rows, knots: shown };
}

/** One of the two knots in a byte of {@link KeyedDesign.knots}. */
export function halfOf(byte: number, half: Half): KnotCode {
  return (half === 'inside' ? byte & 15 : byte >> 4) as KnotCode;
}

/** Whether the knot of row pair `i` at string pair `j` is shown. */
export function isShown(keyed: KeyedDesign, i: number, j: number, half: Half): boolean {
  const { rows, start, colours } = keyed.board.pattern;
  const parity = half === 'inside' ? 0 : 1;
  const row = i * 2 + parity - start;
  return row >= 0 && row < rows && j < knotsInRow(colours.length, parity);
}
