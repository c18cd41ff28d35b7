/** What the canvas of the board needs of a wish, so that it is drawn, zoomed and moved as a board is. */
import {
  type Block,
  type Board,
  NOTHING_MOUNTED,
  OPEN,
  rowStride,
  staggerOf,
  Weave,
  type Wish,
  weave,
} from '../../engine/index.ts';
import type { BoardModel } from '../board/index.ts';

/** How a cell is drawn, in the place of a kind of knot. */
export const OPEN_CELL = 0;
const WANTED_CELL = 1;
/** Wanted, and not to be had by the answer looked at. */
export const MISSED_CELL = 2;

export interface WishScene {
  readonly board: Board;
  readonly wish: Wish;
  readonly missed: readonly (readonly [row: number, k: number])[];
  readonly region: Block | null;
}

/**
 * The model of a wish over the strings of its board: above and below the band they hang as on the board. Colours of the palette stand behind
 * those of the strings. O(knots).
 */
export function wishModelOf({ board, wish, missed }: WishScene, previous: BoardModel | null): BoardModel {
  const { pattern, palette } = board;
  const { strings, start, rows } = wish;
  const stride = rowStride(strings);
  const knots = new Uint8Array(rows.length * stride);
  const shown = new Int16Array(rows.length * stride).fill(-1);
  rows.forEach((row, r) => {
    row.forEach((cell, k) => {
      if (cell === OPEN) return;
      knots[r * stride + k] = WANTED_CELL;
      shown[r * stride + k] = strings + cell;
    });
  });
  for (const [row, k] of missed) knots[row * stride + k] = MISSED_CELL;
  const { orderFlat } = weave(pattern);
  const entries = new Map(palette.map((colour) => [colour.id, colour]));
  const all = [...pattern.colours.map((id) => entries.get(id)!), ...palette];
  const isSame = previous !== null && previous.strings === strings;
  return {
    board: {
      ...board,
      // Nothing hangs from a ring yet: which order it will be is for the answers to say.
      piece: { begin: 'loose' },
      pattern: { colours: all.map(({ id }) => id), start, rows: rows.length, knots },
    },
    strings,
    rows: rows.length,
    start,
    stagger: staggerOf({ ...pattern, start, rows: rows.length }),
    weave: new Weave(strings, rows.length, start, shown, orderFlat),
    rewoven: { from: 0, to: rows.length },
    plan: isSame && previous.plan !== null ? previous.plan : NOTHING_MOUNTED,
    isPlanning: false,
    hexes: all.map(({ hex }) => hex),
    names: all.map(({ name, id }) => name || id),
  };
}
