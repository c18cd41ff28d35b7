/** How many rows a piece has, and how long it gets. */
import { countRows, finishedStops, finishRows, type PieceRows, stoppedAt } from '../finish/index.ts';
import { type Board, type EndKind, MAX_ROWS } from '../pattern/index.ts';
import { FieldRangeError, requirePositive, requireWhole } from './field-error.ts';
import { besideBand } from './whole-length.ts';
import { workingGauge } from './working-gauge.ts';

/** Most repeats a piece may ask for. */
const MAX_REPEATS = 1_000_000;

/** Rows of a piece, and what they come to. */
export interface PieceSize extends PieceRows {
  /** Rows of one more repeat, which stops there; 0 where the last repeat is whole. */
  readonly partRows: number;
  /** Rows in all: lead-in, repeats, the untied rows between odd repeats, the repeat that stops, end rows. */
  readonly rows: number;
  readonly endRows: number;
  /** Length of the tied band in mm, from the upper edge of the first knots to the lower edge of the last. */
  readonly bandMm: number;
  /** Length of all: ring and lark's heads or what stands in their place, band, end knot and tail, as far as they are said. */
  readonly wholeMm: number;
  /** Length of the band that was asked for; null where repeats were. */
  readonly askedMm: number | null;
}

/** Both ways to meet a length. */
export interface PieceStops {
  /** At the row that comes nearest. */
  readonly row: PieceSize;
  /** At the nearest row that looks finished (L60). */
  readonly finished: PieceSize;
}

/**
 * The rows a board asks for. `piece.repeats` as given; from `piece.lengthMm` the rows that bring the band, or the whole piece as
 * `piece.lengthOf` says, nearest to it with lead-in and end: anywhere in the repeat, or as `piece.stopAt` says where it looks finished; else one
 * repeat. At least one row below the lead-in, where there is one.
 * @throws FieldRangeError when a field of piece or gauge is out of range, or both repeats and lengthMm are set
 * O(N²) for the end rows; where finished stops are looked for, O(rows x strings). Rules L7, L60 and L61.
 */
export function pieceSize(board: Board): PieceSize {
  const asked = readPiece(board);
  if (asked.lengthMm === null) return sized(board, asked, { repeats: asked.repeats, partRows: 0 });
  return board.piece.stopAt === 'finished' ? finishedSize(board, asked) : nearestSize(board, asked);
}

/** Where the length asked for can be met; null where repeats are asked for. @throws as {@link pieceSize} */
export function pieceStops(board: Board): PieceStops | null {
  const asked = readPiece(board);
  if (asked.lengthMm === null) return null;
  return { row: nearestSize(board, asked), finished: finishedSize(board, asked) };
}

/** Length of so many tied rows in mm: a knot is two rows high, and each row hangs one lower. Rule L45. */
function bandLength(rows: number, rowMm: number): number {
  return rows === 0 ? 0 : (rows + 1) * rowMm;
}

interface Asked {
  readonly leadInRows: number;
  readonly end: EndKind;
  readonly repeats: number;
  /** Of the band; null where repeats count. */
  readonly lengthMm: number | null;
  readonly rowMm: number;
  readonly besideMm: number;
}

/** Where the band stops: whole repeats, and rows of one more. */
interface Stop {
  readonly repeats: number;
  readonly partRows: number;
}

function readPiece(board: Board): Asked {
  const { pattern, piece } = board;
  const { repeats, lengthMm, leadInRows = 0, end = 'straight' } = piece;
  requireWhole('piece.leadInRows', leadInRows, 0, pattern.rows);
  const rowMm = workingGauge(board.gauge).rowMm.valueMm;
  const { ringMm, headsMm, headMm, tailMm } = besideBand(board);
  const besideMm = ringMm + headsMm + headMm + tailMm;
  const rest = { leadInRows, end, rowMm, besideMm };
  if (lengthMm === undefined) {
    if (repeats !== undefined) requireWhole('piece.repeats', repeats, 1, MAX_REPEATS);
    return { ...rest, repeats: repeats ?? 1, lengthMm: null };
  }
  if (repeats !== undefined)
    throw new FieldRangeError('piece.lengthMm', { be: 'unset-beside', other: 'piece.repeats' }, lengthMm);
  requirePositive('piece.lengthMm', lengthMm);
  const repeatRows = pattern.rows - leadInRows;
  if (repeatRows > 0 && lengthMm / rowMm / (repeatRows + (repeatRows % 2)) > MAX_REPEATS)
    throw new FieldRangeError('piece.lengthMm', { be: 'short-for-repeats', most: MAX_REPEATS }, lengthMm);
  return { ...rest, repeats: 1, lengthMm: piece.lengthOf === 'whole' ? lengthMm - besideMm : lengthMm };
}

function sized({ pattern }: Board, asked: Asked, stop: Stop): PieceSize {
  const { leadInRows, end, rowMm, besideMm, lengthMm } = asked;
  const worked = { leadInRows, end, ...stop };
  const rows = countRows(pattern, worked);
  const bandMm = bandLength(rows, rowMm);
  return {
    ...worked,
    rows,
    endRows: finishRows(stoppedAt(pattern, worked), end).rows,
    bandMm,
    wholeMm: bandMm + besideMm,
    askedMm: lengthMm === null ? null : Math.max(0, lengthMm),
  };
}

function nearestSize(board: Board, asked: Asked): PieceSize {
  const length = board.pattern.rows - asked.leadInRows;
  return nearestOf(
    board,
    asked,
    Array.from({ length }, (_, i) => i + 1),
  );
}

function finishedSize(board: Board, asked: Asked): PieceSize {
  return nearestOf(board, asked, finishedStops(board.pattern, asked.leadInRows));
}

/** Of all stops after such numbers of rows of a repeat, the one that brings the band nearest; of two alike the shorter one. */
function nearestOf(board: Board, asked: Asked, stops: readonly number[]): PieceSize {
  const length = board.pattern.rows - asked.leadInRows;
  if (length === 0) return sized(board, asked, { repeats: 1, partRows: 0 });
  const step = length + (length % 2);
  const target = (asked.lengthMm as number) / asked.rowMm - 1;
  const rowsOf = endRowsByStop(board, asked);
  // Whole repeats above the stop, about which the end makes some rows of difference.
  const about = Math.floor((target - asked.leadInRows) / step);
  const around = Math.ceil(board.pattern.colours.length / step) + 1;
  let best: Stop | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let above = Math.max(0, about - around); above <= Math.max(0, about + 1); above++)
    for (const rows of stops) {
      const off = Math.abs(asked.leadInRows + above * step + rows + rowsOf(rows) - target);
      if (off >= least - 1e-9) continue;
      least = off;
      best = rows === length ? { repeats: above + 1, partRows: 0 } : { repeats: above, partRows: rows };
    }
  return sized(board, asked, best as Stop);
}

/** Rows of the end below a stop: they depend on its stagger alone. */
function endRowsByStop({ pattern }: Board, { leadInRows, end }: Asked): (rows: number) => number {
  const [odd, even] = [1, 2].map(
    (rows) => finishRows({ ...pattern, rows: Math.min(MAX_ROWS, leadInRows + rows) }, end).rows,
  ) as [number, number];
  return (rows) => (rows % 2 === 1 ? odd : even);
}
