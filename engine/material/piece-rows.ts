/** How many rows a piece has, and how long it gets. */
import { finishRows } from '../finish/index.ts';
import type { Board } from '../pattern/index.ts';
import { FieldRangeError, requirePositive, requireWhole } from './field-error.ts';
import type { PieceRows } from './take-up.ts';
import { workingGauge } from './working-gauge.ts';

/** Most repeats a piece may ask for. */
const MAX_REPEATS = 1_000_000;

/** Rows of a piece, and what they come to. */
export interface PieceSize extends PieceRows {
  /** Rows in all: lead-in, repeats, the untied rows between odd repeats, end rows. */
  readonly rows: number;
  readonly endRows: number;
  /** Length of the tied band in mm, from the upper edge of the first knots to the lower edge of the last. */
  readonly bandMm: number;
}

/**
 * The rows a board asks for. `piece.repeats` as given; from `piece.lengthMm` the whole number of repeats, at least one, that brings
 * the band with lead-in and end nearest to it; else one.
 * @throws FieldRangeError when a field of piece or gauge is out of range, or both repeats and lengthMm are set
 * O(N²) for the end rows. Rule L7.
 */
export function pieceSize(board: Board): PieceSize {
  const { pattern, piece } = board;
  const leadInRows = piece.leadInRows ?? 0;
  requireWhole('piece.leadInRows', leadInRows, 0, pattern.rows);
  const end = piece.end ?? 'straight';
  const endRows = finishRows(pattern, end).rows;
  const rowMm = workingGauge(board.gauge).rowMm.valueMm;
  const repeatRows = pattern.rows - leadInRows;
  const gap = repeatRows % 2;
  const repeats = repeatsOf(board, (lengthMm) => {
    const left = lengthMm / rowMm - 1 - leadInRows - endRows + gap;
    return repeatRows === 0 ? 1 : Math.max(1, Math.round(left / (repeatRows + gap)));
  });
  const rows = leadInRows + repeats * repeatRows + gap * (repeats - 1) + endRows;
  return { leadInRows, repeats, end, endRows, rows, bandMm: bandLength(rows, rowMm) };
}

/** Length of so many tied rows in mm: a knot is two rows high, and each row hangs one lower. Rule L45. */
function bandLength(rows: number, rowMm: number): number {
  return rows === 0 ? 0 : (rows + 1) * rowMm;
}

function repeatsOf(board: Board, fromLength: (lengthMm: number) => number): number {
  const { repeats, lengthMm } = board.piece;
  if (lengthMm === undefined) {
    if (repeats === undefined) return 1;
    requireWhole('piece.repeats', repeats, 1, MAX_REPEATS);
    return repeats;
  }
  if (repeats !== undefined)
    throw new FieldRangeError('piece.lengthMm', { be: 'unset-beside', other: 'piece.repeats' }, lengthMm);
  requirePositive('piece.lengthMm', lengthMm);
  const found = fromLength(lengthMm);
  if (found > MAX_REPEATS)
    throw new FieldRangeError('piece.lengthMm', { be: 'short-for-repeats', most: MAX_REPEATS }, lengthMm);
  return found;
}
