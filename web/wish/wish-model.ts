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
import { type BoardModel, isInBlock } from '../board/index.ts';

/** How a cell is drawn, in the place of a kind of knot. */
export const OPEN_CELL = 0;
const WANTED_CELL = 1;
/** Wanted, and not to be had by the answer looked at. */
export const MISSED_CELL = 2;
/** Outside the part that is painted: it stays as it shows now. */
export const STAYING_CELL = 3;

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
export function wishModelOf(
  { board, wish, missed, region }: WishScene,
  previous: BoardModel | null,
): BoardModel {
  const { pattern, palette } = board;
  const { strings, start, rows } = wish;
  const stride = rowStride(strings);
  const knots = new Uint8Array(rows.length * stride);
  const shown = new Int16Array(rows.length * stride).fill(-1);
  const woven = weave(pattern);
  const stagger = staggerOf({ ...pattern, start, rows: rows.length });
  rows.forEach((row, r) => {
    row.forEach((cell, k) => {
      const at = r * stride + k;
      if (region !== null && !isInBlock(stagger, region, { row: r, k })) {
        shown[at] = woven.shownFlat[at]!;
        knots[at] = shown[at]! < 0 ? OPEN_CELL : STAYING_CELL;
      } else if (cell !== OPEN) {
        knots[at] = WANTED_CELL;
        shown[at] = strings + cell;
      }
    });
  });
  for (const [row, k] of missed) knots[row * stride + k] = MISSED_CELL;
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
    stagger,
    weave: new Weave(strings, rows.length, start, shown, woven.orderFlat),
    rewoven: { from: 0, to: rows.length },
    plan: isSame && previous.plan !== null ? previous.plan : NOTHING_MOUNTED,
    isPlanning: false,
    hexes: all.map(({ hex }) => hex),
    names: all.map(({ name, id }) => name || id),
  };
}
