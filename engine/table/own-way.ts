/** A keychain that is made otherwise than its board says: some knots of another kind, or fewer rows. */
import type { WorkedRows } from '../finish/index.ts';
import { pieceSize } from '../material/index.ts';
import {
  type Board,
  codeOfToken,
  type KnotToken,
  knotsInRow,
  rowParity,
  rowStride,
} from '../pattern/index.ts';
import { piecePattern, type WorkStep } from '../work/index.ts';
import { readKnotKey, type TiedKeys } from './piece-knot.ts';

/** What is otherwise than on the board. */
export interface OwnWay {
  /** Kinds by `knotKey`; `-` for a knot that is left out. */
  readonly kinds: ReadonlyMap<string, KnotToken>;
  /** Rows of the piece after which the end begins; null = as the board says. */
  readonly endsAfter: number | null;
}

/** As the board says. */
export const AS_BOARD: OwnWay = { kinds: new Map(), endsAfter: null };

/** A keychain as it is made: a board whose pattern is worked once, and where each of its rows comes from. */
export interface OwnPiece {
  readonly board: Board;
  /** By row of the piece; null where the board is worked as it is, whose steps say so themselves. */
  readonly sources: WorkedRows['sources'] | null;
}

/** The rows of a piece one after the other. @throws RangeError when it has more than 20,000 */
export function wholePiece(board: Board): WorkedRows {
  const piece = piecePattern(board, 'piece');
  if (!piece.ok) throw new RangeError(piece.error.message);
  return piece.value;
}

/**
 * The knots of a piece with other kinds, laid out as in its pattern.
 * @throws RangeError when one of them names no knot of the piece
 * O(knots).
 */
export function codesWith(
  { pattern, sources }: WorkedRows,
  kinds: ReadonlyMap<string, KnotToken>,
): Uint8Array<ArrayBuffer> {
  const codes = Uint8Array.from(pattern.knots);
  if (kinds.size === 0) return codes;
  const rowOf = new Map<string, number>();
  for (const [row, source] of sources.entries())
    if (source !== null) rowOf.set(`${source.part} ${source.repeat} ${source.partRow}`, row);
  const strings = pattern.colours.length;
  for (const [key, kind] of kinds) {
    const knot = readKnotKey(key);
    const row = knot === null ? undefined : rowOf.get(`${knot.part} ${knot.repeat} ${knot.row}`);
    if (knot === null || row === undefined || knot.k >= knotsInRow(strings, rowParity(pattern.start, row)))
      throw new RangeError(`the piece has no knot ${key}`);
    codes[row * rowStride(strings) + knot.k] = codeOfToken(kind)!;
  }
  return codes;
}

/**
 * The board of a keychain that is made in a way of its own: worked once, with these kinds, and ended after so many rows. Orders of work and
 * lengths of that board are those of the keychain.
 * @throws RangeError when a kind names no knot of the piece, or it ends after more rows than it has
 * O(knots). Rule H33.
 */
export function ownPiece(board: Board, { kinds, endsAfter }: OwnWay): OwnPiece {
  if (kinds.size === 0 && endsAfter === null) return { board, sources: null };
  const whole = wholePiece(board);
  const knots = codesWith(whole, kinds);
  const { endRows } = pieceSize(board);
  const body = whole.pattern.rows - endRows;
  if (endsAfter !== null && !(Number.isInteger(endsAfter) && endsAfter >= 1 && endsAfter <= body))
    throw new RangeError(`a piece of ${body} rows above its end cannot end after ${endsAfter}`);
  const { repeats: _r, lengthMm: _l, lengthOf: _o, stopAt: _s, leadInRows: _i, ...piece } = board.piece;
  const stride = rowStride(whole.pattern.colours.length);
  // What is otherwise in the end rows stands in the pattern; rows that the end has by itself cannot.
  const isEndOwn = endsAfter === null && [...kinds.keys()].some((key) => key.startsWith('end '));
  const rows = isEndOwn ? whole.pattern.rows : (endsAfter ?? body);
  const own: Board = {
    ...board,
    pattern: { ...whole.pattern, rows, knots: knots.slice(0, rows * stride) },
    piece: { ...piece, repeats: 1, ...(isEndOwn ? { end: 'straight' as const } : {}) },
  };
  const { pattern } = wholePiece(own);
  const sources = Array.from({ length: pattern.rows }, (_, row) =>
    row < rows ? whole.sources[row]! : { part: 'end' as const, repeat: 0, partRow: row - rows },
  );
  return { board: own, sources };
}

/** Steps of the board of {@link ownPiece} by the names that their knots have on the board that was begun. O(steps). */
export function nameSteps(steps: readonly WorkStep[], { sources }: OwnPiece): readonly WorkStep[] {
  if (sources === null) return steps;
  return steps.map((step) => {
    const source = sources[step.row];
    if (source == null) throw new RangeError(`row ${step.row} is none of this piece`);
    return { ...step, ...source };
  });
}

/** What is still otherwise where one ties as the board says from now on: what is tied stays. O(kinds). Rule H33. */
export function backToBoard({ kinds }: OwnWay, tied: TiedKeys): OwnWay {
  return { kinds: new Map([...kinds].filter(([key]) => tied.has(key))), endsAfter: null };
}

/** What is otherwise by the names that another board has for its knots, of what is tied alone. O(kinds). Rule H33. */
export function renamedWay({ kinds }: OwnWay, names: ReadonlyMap<string, string>): OwnWay {
  const renamed = [...kinds].flatMap(([key, kind]) => {
    const name = names.get(key);
    return name === undefined ? [] : [[name, kind] as const];
  });
  return { kinds: new Map(renamed), endsAfter: null };
}
