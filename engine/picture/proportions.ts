/** How the finished piece measures, in cord diameters, so that a picture of it has true proportions. */
import { workedRows } from '../finish/index.ts';
import {
  headOf,
  pieceSize,
  rowPerWidth,
  TAIL_MM,
  THREAD_PER_WIDTH,
  workingGauge,
} from '../material/index.ts';
import { type Board, endKnotOf, isHung, MAX_ROWS, type Pattern } from '../pattern/index.ts';

/** How large a band is, in mm. */
export interface BandProportions {
  readonly strings: number;
  /** Height of a row in cord diameters; a place is one cord diameter wide. */
  readonly rowPerCord: number;
  /** Whether cord and row were measured by the maker. */
  readonly isMeasured: boolean;
  /** Width of the band and length of its tied part, in mm. */
  readonly widthMm: number;
  readonly bandMm: number;
  /** Length of the hanging ends, in cord diameters. */
  readonly tailPerCord: number;
  /** Width of the bar or inner width of the ring, in cord diameters; null when the board does not say, or has none. */
  readonly holderPerCord: number | null;
  /** Of what stands above the first row without a ring, in cord diameters: the loop, and all of it with the loop. */
  readonly loopPerCord: number;
  readonly headPerCord: number;
}

/** The proportions of the piece a board asks for. @throws RangeError when a field of piece or gauge is out of range */
export function bandProportions(board: Board): BandProportions {
  const { cordMm, rowMm } = workingGauge(board.gauge);
  const strings = board.pattern.colours.length;
  const { piece } = board;
  const hung = isHung(piece);
  const holderMm = (piece.ring === 'round' ? piece.ringMm : piece.barMm) ?? null;
  const head = headOf(piece, THREAD_PER_WIDTH * cordMm.valueMm, strings);
  return {
    strings,
    rowPerCord: rowPerWidth(board.gauge),
    isMeasured: !cordMm.estimate && !rowMm.estimate,
    widthMm: strings * cordMm.valueMm,
    bandMm: pieceSize(board).bandMm,
    tailPerCord: (piece.tailMm ?? TAIL_MM[endKnotOf(piece)]) / cordMm.valueMm,
    holderPerCord: holderMm === null || !hung ? null : holderMm / cordMm.valueMm,
    loopPerCord: head.loopMm / cordMm.valueMm,
    headPerCord: head.longMm / cordMm.valueMm,
  };
}

/**
 * The rows of the piece to draw: lead-in once, repeats with an untied row between repeats of an odd number of rows, the repeat that stops, end
 * rows. Of more than `mostRows` rows of the band repeats are left out: a picture of more shows nothing new. The last repeat and the end come always.
 * @param mostRows at most 20,000
 * @throws RangeError when a field of piece is out of range or `mostRows` is none
 */
export function pieceRows(board: Board, mostRows: number): Pattern {
  if (!(mostRows >= 1 && mostRows <= MAX_ROWS))
    throw new RangeError(`mostRows must be 1 to ${MAX_ROWS}, not ${mostRows}`);
  const { pattern } = board;
  const size = pieceSize(board);
  const length = pattern.rows - size.leadInRows;
  const step = length + (length % 2);
  const room = mostRows - size.leadInRows - size.partRows + (size.partRows > 0 ? 0 : length % 2);
  const fitting = step === 0 ? 1 : Math.floor(room / step);
  const repeats = Math.min(size.repeats, Math.max(size.partRows > 0 ? 0 : 1, fitting));
  return workedRows(pattern, { ...size, repeats }).pattern;
}
