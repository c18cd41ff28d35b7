/** What comes of a knot that was tied wrongly, if it stays. */
import { workingGauge } from '../material/index.ts';
import {
  type Board,
  BACKWARD,
  FORWARD,
  isCrossing,
  isLeftShown,
  KNOT_TOKENS,
  type KnotCode,
  type KnotToken,
  knotsInRow,
  NONE,
  rowParity,
  rowStride,
} from '../pattern/index.ts';
import { piecePattern } from '../work/index.ts';
import type { PieceKnot } from './piece-knot.ts';

/**
 * What was done instead: another knot, `-` none; `exchanged`: the two strings changed places before it, so that the other one tied it;
 * `half`: one half hitch only, after which the string that tied is on the other side.
 */
export type Mistake = KnotToken | 'exchanged' | 'half';

/** What differs from the board if a mistake stays and all else is tied as meant. */
export interface AsItStays {
  /** Knots, and the place of the mistake where it shows none, whose colour is another one than meant. */
  readonly wrong: readonly PieceKnot[];
  /** Places, from the left, at which below the last row a string of another colour hangs than meant. */
  readonly hangsWrong: readonly number[];
  /** Whether below the last row every string hangs where it was meant to. */
  readonly endsAsMeant: boolean;
  /** What each string, by its place at the top, takes more than meant, in mm; less when below 0. One half hitch counts as a knot. */
  readonly moreMm: readonly number[];
}

/**
 * Follows the strings through the whole piece as they hang when one knot was tied wrongly.
 * @throws RangeError when the piece ties no knot there or has more than 20,000 rows
 * O(knots). Rule H18.
 */
export function ifItStays(board: Board, knot: PieceKnot, mistake: Mistake): AsItStays {
  const piece = piecePattern(board, 'piece');
  if (!piece.ok) throw new RangeError(piece.error.message);
  const { pattern, sources } = piece.value;
  const { colours } = pattern;
  const strings = colours.length;
  const meant = strandsOf(strings);
  const actual = strandsOf(strings);
  const wrong: PieceKnot[] = [];
  let isMet = false;
  for (let row = 0; row < pattern.rows; row++) {
    const source = sources[row];
    const parity = rowParity(pattern.start, row);
    for (let k = 0; k < knotsInRow(strings, parity); k++) {
      const code = pattern.knots[row * rowStride(strings) + k]! as KnotCode;
      const place = 2 * k + parity;
      const isIt = isSame(knot, source, k) && code !== NONE;
      if (isIt) isMet = true;
      if (isIt && mistake === 'exchanged') exchange(actual, place);
      const shown = tie(meant, place, code);
      const shows = tie(actual, place, isIt ? codeOf(mistake, code) : code);
      if (source && colourOf(colours, shown) !== colourOf(colours, shows))
        wrong.push({ part: source.part, repeat: source.repeat, row: source.partRow, k });
    }
  }
  if (!isMet) throw new RangeError(`the piece ties no knot ${knot.k} in row ${knot.row} of ${knot.part}`);
  const { knottingMm, carrierMm, rowMm } = workingGauge(board.gauge);
  const takes = ({ knotting, carrier }: Strands, string: number): number =>
    knotting[string]! * (knottingMm.valueMm - rowMm.valueMm) +
    carrier[string]! * (carrierMm.valueMm - rowMm.valueMm);
  return {
    wrong,
    hangsWrong: colours.flatMap((_, place) =>
      colours[actual.order[place]!] === colours[meant.order[place]!] ? [] : [place],
    ),
    endsAsMeant: actual.order.every((string, place) => string === meant.order[place]),
    moreMm: colours.map((_, string) => takes(actual, string) - takes(meant, string)),
  };
}

interface Strands {
  readonly order: Int16Array;
  readonly knotting: Int32Array;
  readonly carrier: Int32Array;
}

function strandsOf(strings: number): Strands {
  return {
    order: Int16Array.from({ length: strings }, (_, place) => place),
    knotting: new Int32Array(strings),
    carrier: new Int32Array(strings),
  };
}

/** Ties a knot; gives the string that shows, -1 when none does. */
function tie(strands: Strands, place: number, code: KnotCode): number {
  if (code === NONE) return -1;
  const [left, right] = [strands.order[place]!, strands.order[place + 1]!];
  const [knotting, carrier] = isLeftShown(code) ? [left, right] : [right, left];
  strands.knotting[knotting]!++;
  strands.carrier[carrier]!++;
  if (isCrossing(code)) exchange(strands, place);
  return knotting;
}

function exchange({ order }: Strands, place: number): void {
  [order[place], order[place + 1]] = [order[place + 1]!, order[place]!];
}

function codeOf(mistake: Mistake, meant: KnotCode): KnotCode {
  if (mistake === 'exchanged') return meant;
  if (mistake === 'half') return isLeftShown(meant) ? FORWARD : BACKWARD;
  return KNOT_TOKENS.indexOf(mistake) as KnotCode;
}

function colourOf(colours: readonly string[], string: number): string | null {
  return string < 0 ? null : colours[string]!;
}

function isSame(
  knot: PieceKnot,
  source: { readonly part: string; readonly repeat: number; readonly partRow: number } | null | undefined,
  k: number,
): boolean {
  return (
    source?.part === knot.part && source.repeat === knot.repeat && source.partRow === knot.row && k === knot.k
  );
}
