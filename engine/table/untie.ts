/** What has to be undone to reach a knot. */
import type { Pattern } from '../pattern/index.ts';
import { type TiedKnots, tiedKnots } from '../work/index.ts';

/** A knot of a pattern. */
interface Cell {
  readonly row: number;
  readonly k: number;
}

/**
 * Every done knot that hangs on a knot through its strings, itself included, in an order in which they can be undone: nothing before
 * what hangs on it. No fewer can be undone to reach it.
 * @param done knots tied so far, closed under what they hang on
 * @param knot one of them
 * @throws RangeError when one of `done` is no tied knot of the pattern or hangs on one that is not done, or `knot` is none of them
 * O(rows x strings). Rule H10.
 */
export function untie(pattern: Pattern, done: readonly Cell[], knot: Cell): readonly Cell[] {
  const knots = tiedKnots(pattern);
  const isDone = markDone(pattern, knots, done);
  const held = new Set<number>();
  const undo: Cell[] = [];
  let isAmong = false;
  for (let at = 0; at < knots.count; at++) {
    if (isDone[at] === 0) continue;
    const [row, k] = [knots.row[at]!, knots.k[at]!];
    const [knotting, carrier] = [knots.knotting[at]!, knots.carrier[at]!];
    const isIt = row === knot.row && k === knot.k;
    if (isIt) isAmong = true;
    if (!isIt && !held.has(knotting) && !held.has(carrier)) continue;
    held.add(knotting).add(carrier);
    undo.push({ row, k });
  }
  if (!isAmong) throw new RangeError(`knot ${knot.k} of row ${knot.row} is none of those that are done`);
  return undo.reverse();
}

/** By number of the knot, whether it is done. */
function markDone(pattern: Pattern, knots: TiedKnots, done: readonly Cell[]): Uint8Array {
  const isDone = new Uint8Array(knots.count);
  const numbers = new Map<string, number>();
  for (let at = 0; at < knots.count; at++) numbers.set(`${knots.row[at]} ${knots.k[at]}`, at);
  for (const { row, k } of done) {
    const at = numbers.get(`${row} ${k}`);
    if (at === undefined)
      throw new RangeError(`knot ${k} of row ${row} is no tied knot of these ${pattern.rows} rows`);
    isDone[at] = 1;
  }
  for (let at = 0; at < knots.count; at++)
    for (const before of [knots.beforeOnKnotting[at]!, knots.beforeOnCarrier[at]!])
      if (isDone[at] === 1 && before >= 0 && isDone[before] === 0)
        throw new RangeError(
          `knot ${knots.k[at]} of row ${knots.row[at]} hangs on knot ${knots.k[before]} of row ${knots.row[before]}, which is not done`,
        );
  return isDone;
}
