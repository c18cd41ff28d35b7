/** What comes of a knot that was tied wrongly, if it stays. */
import { workingGauge } from '../material/index.ts';
import {
  type Board,
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
import { codesWith, wholePiece } from './own-way.ts';
import { knotKey, type PieceKnot } from './piece-knot.ts';

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

/** The kind of knot that a mistake comes to, strings, colours and lengths alike: `meant` is no untied pair. Rule H34. */
export function mistakenKind(meant: KnotToken, mistake: Mistake): KnotToken {
  if (mistake !== 'exchanged' && mistake !== 'half') return mistake;
  const kinds = mistake === 'exchanged' ? EXCHANGED : HALF;
  return kinds[meant];
}

/** Two strings that changed places before a knot stand after it as if the other one had tied it and they had, or had not, changed places. */
const EXCHANGED: Readonly<Record<KnotToken, KnotToken>> = { '-': '-', f: 'bf', b: 'fb', fb: 'b', bf: 'f' };
const HALF: Readonly<Record<KnotToken, KnotToken>> = { '-': '-', f: 'f', b: 'b', fb: 'f', bf: 'b' };

/**
 * Follows the strings through the whole piece as they hang when one knot was tied wrongly.
 * @throws RangeError when the piece ties no knot there or has more than 20,000 rows
 * O(knots). Rule H18.
 */
export function ifItStays(board: Board, knot: PieceKnot, mistake: Mistake): AsItStays {
  const { pattern, sources } = wholePiece(board);
  const row = sources.findIndex(
    (source) => source?.part === knot.part && source.repeat === knot.repeat && source.partRow === knot.row,
  );
  const strings = pattern.colours.length;
  const isThere = row >= 0 && knot.k < knotsInRow(strings, rowParity(pattern.start, row));
  const code = isThere ? pattern.knots[row * rowStride(strings) + knot.k]! : NONE;
  if (code === NONE)
    throw new RangeError(`the piece ties no knot ${knot.k} in row ${knot.row} of ${knot.part}`);
  const kind = mistakenKind(KNOT_TOKENS[code]!, mistake);
  return ifTiedSo(board, new Map([[knotKey(knot), kind]]));
}

/**
 * What differs from the board where some knots are of other kinds and all else is tied as meant.
 * @param kinds by `knotKey`
 * @throws RangeError when the piece has no such knot or more than 20,000 rows
 * O(knots). Rule H34.
 */
export function ifTiedSo(board: Board, kinds: ReadonlyMap<string, KnotToken>): AsItStays {
  const whole = wholePiece(board);
  const { pattern, sources } = whole;
  const own = codesWith(whole, kinds);
  const { colours } = pattern;
  const strings = colours.length;
  const meant = strandsOf(strings);
  const actual = strandsOf(strings);
  const wrong: PieceKnot[] = [];
  for (let row = 0; row < pattern.rows; row++) {
    const source = sources[row];
    const parity = rowParity(pattern.start, row);
    for (let k = 0; k < knotsInRow(strings, parity); k++) {
      const cell = row * rowStride(strings) + k;
      const place = 2 * k + parity;
      const shown = tie(meant, place, pattern.knots[cell]! as KnotCode);
      const shows = tie(actual, place, own[cell]! as KnotCode);
      if (source && colourOf(colours, shown) !== colourOf(colours, shows))
        wrong.push({ part: source.part, repeat: source.repeat, row: source.partRow, k });
    }
  }
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

function colourOf(colours: readonly string[], string: number): string | null {
  return string < 0 ? null : colours[string]!;
}
