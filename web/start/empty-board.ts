/** What an empty board is offered: beginnings for its strings and its colours. */
import {
  type BeginningKind,
  type Board,
  beginBoard,
  fitShape,
  type PaletteColour,
  planAtOnce,
  tilePattern,
} from '../../engine/index.ts';

/** The first three of the trade. */
const KINDS: readonly BeginningKind[] = ['stripes', 'arrowheads', 'diamonds'];
/** More colours than these make no clearer figure. */
const MOST_COLOURS = 3;

/** A board as it would be. */
export interface Offered {
  readonly kind: BeginningKind;
  readonly board: Board;
}

/** Whether nothing is tied yet. */
export function isEmptyBoard({ pattern }: Board): boolean {
  return pattern.rows > 0 && pattern.knots.every((knot) => knot === 0);
}

/** The colours that its strings have, in the order of the palette; all of it where they are fewer than two. */
function coloursToBegin({ palette, pattern }: Board): readonly PaletteColour[] {
  const used = new Set(pattern.colours);
  const onStrings = palette.filter(({ id }) => used.has(id));
  return (onStrings.length < 2 ? palette : onStrings).slice(0, MOST_COLOURS);
}

/**
 * Three beginnings for the strings and the colours of a board, about as many rows long, each neat by the engine's verdict. None where the
 * palette has one colour alone, in which no figure can be seen. O(knots).
 */
export function offeredFor(board: Board): readonly Offered[] {
  const colours = coloursToBegin(board);
  if (colours.length < 2) return [];
  return KINDS.map((kind) => {
    const shape = fitShape(kind, board.pattern.colours.length, { colours: colours.length });
    const { pattern } = beginBoard(shape, colours);
    const times = Math.max(1, Math.round(board.pattern.rows / pattern.rows));
    return { kind, board: { ...board, pattern: tilePattern(pattern, times) } };
  }).filter(({ board: { pattern } }) => planAtOnce(pattern.colours)?.neat === true);
}
