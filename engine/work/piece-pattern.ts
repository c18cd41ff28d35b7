/** The rows a work order covers, and where in the board each comes from. */
import { countRows, type PieceRows, type WorkedRows, workedRows } from '../finish/index.ts';
import { pieceSize } from '../material/index.ts';
import { type Board, type EndKind, MAX_ROWS } from '../pattern/index.ts';

/**
 * What to cover: the rows of the board's pattern once; the whole piece (lead-in, repeats and end rows as the board says); or the
 * pattern with a number of repeats and an end (`'straight'` when left out).
 */
export type Covers = 'pattern' | 'piece' | { readonly repeats: number; readonly end?: EndKind };

/** More rows than an order is made for. */
export interface TooManyRows {
  readonly kind: 'too-large';
  readonly path: 'covers';
  readonly message: string;
}

function extentOf(board: Board, covers: Covers, leadInRows: number): PieceRows {
  if (covers === 'pattern') return { leadInRows, repeats: 1, end: 'straight' };
  if (covers === 'piece') return pieceSize(board);
  if (!(Number.isSafeInteger(covers.repeats) && covers.repeats >= 1))
    throw new RangeError(`covers.repeats must be a whole number from 1, not ${covers.repeats}`);
  return { leadInRows, repeats: covers.repeats, end: covers.end ?? 'straight' };
}

/**
 * The rows of a piece as one pattern: {@link workedRows}. At most 20,000 rows.
 * @throws RangeError when the board's piece or `covers` is out of range
 */
export function piecePattern(
  board: Board,
  covers: Covers,
): { readonly ok: true; readonly value: WorkedRows } | { readonly ok: false; readonly error: TooManyRows } {
  const { pattern } = board;
  const leadIn = board.piece.leadInRows ?? 0;
  if (!(Number.isSafeInteger(leadIn) && leadIn >= 0 && leadIn <= pattern.rows))
    throw new RangeError(`piece.leadInRows must be a whole number from 0 to ${pattern.rows}, not ${leadIn}`);
  const extent = extentOf(board, covers, leadIn);
  const rows = countRows(pattern, extent);
  if (rows > MAX_ROWS) {
    const message = `the piece has ${rows} rows; a work order covers ${MAX_ROWS} at most`;
    return { ok: false, error: { kind: 'too-large', path: 'covers', message } };
  }
  return { ok: true, value: workedRows(pattern, extent) };
}
