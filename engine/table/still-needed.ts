/** What each string still needs at a moment of the work. */
import { allowancesOf, pieceSize, workingGauge } from '../material/index.ts';
import type { Board } from '../pattern/index.ts';
import type { WorkStep } from '../work/index.ts';

/** What one string needs from a step on, in mm. */
export interface StillNeeded {
  /** Up to its last knot: what the knots take, and the rows that it hangs on the way to each. */
  readonly knotsMm: number;
  /** What hangs after its last knot: rows below it, and what closes the end. */
  readonly endMm: number;
  /** For the fingers. */
  readonly spareMm: number;
}

/**
 * What each string, by its place at the top, needs from step `at` on. `knotsMm` falls at each step for its knotting string and its carrier
 * alone and is 0 after the last; at 0 the three and what is above the first row are `needMm` of `cutList`.
 * @param steps of `workOrder(board, {covers: 'piece', …})`
 * @param at    steps done, 0 to all
 * @throws RangeError when `at` is outside; FieldRangeError as `cutList`
 * O(steps + strings). Rule H13.
 */
export function stillNeeded(board: Board, steps: readonly WorkStep[], at: number): readonly StillNeeded[] {
  const ways = waysOf(board, steps, at);
  const { tailMm, spareMm } = allowancesOf(
    board.piece,
    workingGauge(board.gauge).cordMm.valueMm,
    board.pattern.colours.length,
  );
  return ways.map(({ knots, below }) => ({
    knotsMm: knots.reduce((sum, { takesMm }) => sum + takesMm, 0),
    endMm: tailMm + below * workingGauge(board.gauge).rowMm.valueMm,
    spareMm,
  }));
}

/** A knot that a string still has to go through. */
export interface KnotAhead {
  /** Index of the step. */
  readonly step: number;
  readonly row: number;
  readonly isKnotting: boolean;
  /** Rows that the string hangs before it. */
  readonly rowsBefore: number;
  /** String that it takes, those rows included, in mm. */
  readonly takesMm: number;
}

/** What a string does from a step on. */
interface WayAhead {
  readonly knots: readonly KnotAhead[];
  /** Rows of the piece below its last knot. */
  readonly below: number;
}

/** What each string, by its place at the top, does from step `at` on. @throws RangeError when `at` is outside. O(steps). */
export function waysOf(board: Board, steps: readonly WorkStep[], at: number): readonly WayAhead[] {
  if (!(Number.isInteger(at) && at >= 0 && at <= steps.length))
    throw new RangeError(`step ${at} is outside 0 to ${steps.length}`);
  const { knottingMm, carrierMm, rowMm } = workingGauge(board.gauge);
  const { rows } = pieceSize(board);
  const strings = board.pattern.colours.length;
  const knots = Array.from({ length: strings }, (): KnotAhead[] => []);
  const last = new Int32Array(strings).fill(-1);
  for (const [index, { row, knotting, carrier }] of steps.entries())
    for (const string of [knotting, carrier]) {
      const isKnotting = string === knotting;
      const rowsBefore = row - last[string]! - 1;
      last[string] = row;
      if (index < at) continue;
      const takesMm = (isKnotting ? knottingMm : carrierMm).valueMm + rowsBefore * rowMm.valueMm;
      knots[string]!.push({ step: index, row, isKnotting, rowsBefore, takesMm });
    }
  return knots.map((ahead, string) => ({ knots: ahead, below: rows - 1 - last[string]! }));
}
