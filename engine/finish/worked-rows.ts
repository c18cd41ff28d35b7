/** The rows of a piece one after the other, and where in the pattern each comes from. */
import { type EndKind, type Pattern, rowStride } from '../pattern/index.ts';
import { finishRows } from './finish-rows.ts';

/** How the rows of a pattern are worked in the whole piece. */
export interface PieceRows {
  /** First rows of the pattern that are worked once, above the repeats; 0 to its rows. */
  readonly leadInRows: number;
  /** Times the other rows are worked whole, 0 or more. */
  readonly repeats: number;
  /** Rows of one more repeat, which stops there; 0, or fewer than a repeat has. Default 0. */
  readonly partRows?: number;
  readonly end: EndKind;
}

/** Part of the piece that a row belongs to. */
export type PiecePart = 'lead-in' | 'band' | 'end';

/** Where a row of the piece comes from. */
interface RowSource {
  readonly part: PiecePart;
  /** Repeat it belongs to, from 1; 0 in lead-in and end. */
  readonly repeat: number;
  /** Row of the board's pattern; in the end, row of `finishRows`. */
  readonly partRow: number;
}

/** The rows of a piece as one pattern. */
export interface WorkedRows {
  readonly pattern: Pattern;
  /** By row of `pattern`; null for the untied row between two repeats of an odd number of rows. */
  readonly sources: readonly (RowSource | null)[];
}

/** The pattern down to where the band stops: what comes below it goes on from there. */
export function stoppedAt(pattern: Pattern, { leadInRows, partRows = 0 }: PieceRows): Pattern {
  return partRows === 0 ? pattern : { ...pattern, rows: leadInRows + partRows };
}

/** Rows in all: lead-in, whole repeats, the untied rows between odd repeats, the repeat that stops, end rows. O(N²) for the end. */
export function countRows(pattern: Pattern, piece: PieceRows): number {
  return bandRows(pattern, piece) + finishRows(stoppedAt(pattern, piece), piece.end).rows;
}

function bandRows(pattern: Pattern, { leadInRows, repeats, partRows = 0 }: PieceRows): number {
  const length = pattern.rows - leadInRows;
  const begun = repeats + (partRows > 0 ? 1 : 0);
  return leadInRows + repeats * length + partRows + (length % 2) * Math.max(0, begun - 1);
}

/**
 * Rows of the lead-in come once; an untied row stands between repeats of an odd number of rows, so that each begins at the same strings; the
 * last repeat stops where the piece says, and the end goes on from its last row. O(rows x strings). Rules L7, F4 and Q7.
 */
export function workedRows(pattern: Pattern, piece: PieceRows): WorkedRows {
  const { leadInRows, repeats, partRows = 0, end } = piece;
  const finish = finishRows(stoppedAt(pattern, piece), end);
  const stride = rowStride(pattern.colours.length);
  const rows = bandRows(pattern, piece) + finish.rows;
  const knots = new Uint8Array(rows * stride);
  const sources: (RowSource | null)[] = [];
  const copy = (from: Uint8Array, row: number, source: RowSource): void => {
    knots.set(from.subarray(row * stride, (row + 1) * stride), sources.length * stride);
    sources.push(source);
  };
  for (let row = 0; row < leadInRows; row++)
    copy(pattern.knots, row, { part: 'lead-in', repeat: 0, partRow: row });
  const isOdd = (pattern.rows - leadInRows) % 2 === 1;
  for (let repeat = 1; repeat <= repeats + (partRows > 0 ? 1 : 0); repeat++) {
    if (repeat > 1 && isOdd) sources.push(null);
    const last = repeat <= repeats ? pattern.rows : leadInRows + partRows;
    for (let row = leadInRows; row < last; row++)
      copy(pattern.knots, row, { part: 'band', repeat, partRow: row });
  }
  for (let row = 0; row < finish.rows; row++)
    copy(finish.knots, row, { part: 'end', repeat: 0, partRow: row });
  return { pattern: { ...pattern, rows, knots }, sources };
}
