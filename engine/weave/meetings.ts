/** Knots that touch in the picture. */
import { type Pattern, rowParity } from '../pattern/index.ts';
import { weave } from './weave.ts';

/**
 * Hears of two shown knots that share an edge: knot `k` of `row` and knot `belowK` of the row below, which hangs under one of its sides.
 * @param upper string that shows in the upper knot, by its place at the top
 * @param lower string that shows in the lower one
 */
export type OnMeeting = (upper: number, lower: number, row: number, k: number, belowK: number) => void;

/**
 * Walks once over all neighbours among the shown knots of a pattern as it stands, row by row; for the meeting of two repeats tile it first.
 * @throws RangeError as {@link weave}
 * O(rows x strings).
 */
export function walkMeetings(pattern: Pattern, onMeeting: OnMeeting): void {
  const { shown } = weave(pattern);
  for (let row = 0; row + 1 < pattern.rows; row++) {
    const upper = shown[row]!;
    const lower = shown[row + 1]!;
    // Under a row of parity 0 hang the knots k - 1 and k, under one of parity 1 the knots k and k + 1.
    const shift = rowParity(pattern.start, row) === 0 ? -1 : 0;
    for (let k = 0; k < upper.length; k++) {
      if (upper[k]! < 0) continue;
      for (let belowK = Math.max(0, k + shift); belowK <= k + shift + 1 && belowK < lower.length; belowK++)
        if (lower[belowK]! >= 0) onMeeting(upper[k]!, lower[belowK]!, row, k, belowK);
    }
  }
}
