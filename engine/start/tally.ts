/** What a board comes to, for one line beside its picture. */
import { type BarFit, cutList, fitBoard, minutesOf } from '../material/index.ts';
import { planMount } from '../mount/index.ts';
import type { Board } from '../pattern/index.ts';
import { workOrder } from '../work/index.ts';

/** What a board comes to; lengths in mm. */
export interface Tally {
  /** Whether its order mounts without a crossing; what it takes else stands in `crossings`. */
  readonly isNeat: boolean;
  readonly crossings: number;
  readonly singles: number;
  readonly leadInRows: number;
  /** Cords to cut, folded ones and singles. */
  readonly cords: number;
  /** Of the piece's bar or ring, with those that would do. */
  readonly fit: BarFit;
  /** Rows and length of the tied band. */
  readonly rows: number;
  readonly bandMm: number;
  readonly knots: number;
  /** Of all: cutting, mounting, tying, finishing. */
  readonly minutes: number;
  /** How often another string is taken up in one repeat, tied by segments. */
  readonly pickUps: number;
  /** What the longest and the shortest end need, from the bar on. */
  readonly longestMm: number;
  readonly shortestMm: number;
}

/**
 * What a board comes to, by the same functions that the panels ask.
 * @throws FieldRangeError when a field of piece or gauge is out of range
 * Costs a plan, a cutting list and an order of tying of one repeat. Rule J20.
 */
export function tallyOf(board: Board): Tally {
  const plan = planMount(board.pattern.colours, { singles: board.piece.singles ?? 'forced' });
  const cut = cutList(board, { plan });
  const ends = cut.ends.map(({ needMm }) => needMm);
  const { rows, bandMm, leadInRows } = cut.size;
  const cords = plan.folds.length + plan.singles.length;
  return {
    isNeat: plan.neat,
    crossings: plan.crossings.length,
    singles: plan.singles.length,
    leadInRows,
    cords,
    fit: fitBoard(board),
    rows,
    bandMm,
    knots: cut.knots,
    minutes: minutesOf(board.piece, cut.knots, cords).all,
    pickUps: workOrder(board).pickUps,
    longestMm: Math.max(...ends),
    shortestMm: Math.min(...ends),
  };
}
