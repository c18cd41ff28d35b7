/** The rows a work order covers, and where in the board each comes from. */
import { finishRows } from '../finish/index.ts';
import { pieceSize } from '../material/index.ts';
import { type Board, type EndKind, MAX_ROWS, type Pattern, rowStride } from '../pattern/index.ts';

/**
 * What to cover: the rows of the board's pattern once; the whole piece (lead-in, repeats and end rows as the board says); or the
 * pattern with a number of repeats and an end (`'straight'` when left out).
 */
export type Covers = 'pattern' | 'piece' | { readonly repeats: number; readonly end?: EndKind };

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

export interface PiecePattern {
  readonly pattern: Pattern;
  /** By row of `pattern`; null for the untied row between two repeats of an odd number of rows. */
  readonly sources: readonly (RowSource | null)[];
}

/** More rows than an order is made for. */
export interface TooManyRows {
  readonly kind: 'too-large';
  readonly path: 'covers';
  readonly message: string;
}

interface Extent {
  readonly repeats: number;
  readonly end: EndKind;
}

function extentOf(board: Board, covers: Covers): Extent {
  if (covers === 'pattern') return { repeats: 1, end: 'straight' };
  if (covers === 'piece') {
    const { repeats, end } = pieceSize(board);
    return { repeats, end };
  }
  if (!(Number.isSafeInteger(covers.repeats) && covers.repeats >= 1))
    throw new RangeError(`covers.repeats must be a whole number from 1, not ${covers.repeats}`);
  return { repeats: covers.repeats, end: covers.end ?? 'straight' };
}

/**
 * The rows of a piece as one pattern. Rows of the lead-in come once; an untied row stands between repeats of an odd number of rows, so
 * that each begins at the same strings. At most 20,000 rows.
 * @throws RangeError when the board's piece or `covers` is out of range
 */
export function piecePattern(
  board: Board,
  covers: Covers,
): { readonly ok: true; readonly value: PiecePattern } | { readonly ok: false; readonly error: TooManyRows } {
  const { pattern } = board;
  const { repeats, end } = extentOf(board, covers);
  const leadIn = board.piece.leadInRows ?? 0;
  if (!(Number.isSafeInteger(leadIn) && leadIn >= 0 && leadIn <= pattern.rows))
    throw new RangeError(`piece.leadInRows must be a whole number from 0 to ${pattern.rows}, not ${leadIn}`);
  const finish = finishRows(pattern, end);
  const repeatRows = pattern.rows - leadIn;
  const gap = repeatRows % 2;
  const rows = leadIn + repeats * repeatRows + (repeats - 1) * gap + finish.rows;
  if (rows > MAX_ROWS) {
    const message = `the piece has ${rows} rows; a work order covers ${MAX_ROWS} at most`;
    return { ok: false, error: { kind: 'too-large', path: 'covers', message } };
  }
  const stride = rowStride(pattern.colours.length);
  const knots = new Uint8Array(rows * stride);
  const sources: (RowSource | null)[] = [];
  const copy = (from: Uint8Array, fromRow: number, source: RowSource): void => {
    knots.set(from.subarray(fromRow * stride, (fromRow + 1) * stride), sources.length * stride);
    sources.push(source);
  };
  for (let repeat = 1; repeat <= repeats; repeat++) {
    if (repeat > 1 && gap === 1) sources.push(null);
    for (let row = repeat === 1 ? 0 : leadIn; row < pattern.rows; row++) {
      const part = row < leadIn ? 'lead-in' : 'band';
      copy(pattern.knots, row, { part, repeat: part === 'band' ? repeat : 0, partRow: row });
    }
  }
  for (let row = 0; row < finish.rows; row++)
    copy(finish.knots, row, { part: 'end', repeat: 0, partRow: row });
  return { ok: true, value: { pattern: { ...pattern, rows, knots }, sources } };
}
