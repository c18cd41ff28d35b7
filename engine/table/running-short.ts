/** A string that gets short: how far it reaches, and where a new one is laid in. */
import { type Doubt, doubtOf, gaugeDoubt, SINGLE_TUCK_MM } from '../material/index.ts';
import type { Board } from '../pattern/index.ts';
import type { WorkStep } from '../work/index.ts';
import { type KnotAhead, type StillNeeded, stillNeeded, waysOf } from './still-needed.ts';

/** Knots running that a new string is laid along with the old one, which carries. Common practice, no source. */
export const LAY_IN_KNOTS = 3;

/** How far what is left of a string goes. */
export interface Reach {
  readonly need: StillNeeded;
  /** `tight`: to the end, but not with what the fingers take. */
  readonly verdict: 'enough' | 'tight' | 'short';
  /** How sure the need up to its last knot is; null where the gauge does not tell. */
  readonly doubt: Doubt | null;
  /** Last knot that it reaches with what the fingers take; null when that is not even the next. */
  readonly likely: KnotAhead | null;
  /** The same if the gauge errs to the one and to the other side, in 19 cases of 20; as `likely` where the gauge does not tell. */
  readonly surely: KnotAhead | null;
  readonly atMost: KnotAhead | null;
}

/**
 * Whether what is left of a string, measured from its last knot, is enough from step `at` on, and until which knot.
 * @param string by its place at the top
 * @throws RangeError when `at` or `string` is outside, or `leftMm` is no length; FieldRangeError as `cutList`
 * O(steps). Rule H14.
 */
export function reachOf(
  board: Board,
  steps: readonly WorkStep[],
  at: number,
  string: number,
  leftMm: number,
): Reach {
  const way = waysOf(board, steps, at)[string];
  if (way === undefined) throw new RangeError(`there is no string ${string}`);
  if (!(Number.isFinite(leftMm) && leftMm >= 0)) throw new RangeError(`${leftMm} mm is no length`);
  const need = stillNeeded(board, steps, at)[string]!;
  const gauge = gaugeDoubt(board.gauge);
  const use = { cord: 0, row: 0, knotting: 0, carrier: 0, knots: 0 };
  let sumMm = 0;
  let doubt: Doubt | null = doubtOf(gauge, use);
  const last: Record<'likely' | 'surely' | 'atMost', KnotAhead | null> = {
    likely: null,
    surely: null,
    atMost: null,
  };
  for (const knot of way.knots) {
    sumMm += knot.takesMm;
    use.row += knot.rowsBefore;
    use[knot.isKnotting ? 'knotting' : 'carrier']++;
    use.knots++;
    doubt = doubtOf(gauge, { ...use });
    const off = doubt?.plusMinusMm ?? 0;
    const roomMm = leftMm - need.spareMm - sumMm;
    if (roomMm >= 0) last.likely = knot;
    if (roomMm >= off) last.surely = knot;
    if (roomMm >= -off) last.atMost = knot;
  }
  const toEndMm = need.knotsMm + need.endMm;
  const verdict = leftMm >= toEndMm + need.spareMm ? 'enough' : leftMm >= toEndMm ? 'tight' : 'short';
  return { need, verdict, doubt, ...last };
}

/** A stretch in which a new string can be laid in. */
export interface LayIn {
  /** Where the new string begins, as late as the old one still reaches. */
  readonly start: KnotAhead;
  /** First and last knot of the stretch in which the string is carrier throughout. */
  readonly from: KnotAhead;
  readonly to: KnotAhead;
  /** Length of the new string, the short end that is hidden included, in mm. */
  readonly newMm: number;
}

/**
 * Where a new string can be laid in for one that gets short: stretches in which it is the carrier for at least so many knots running, and
 * which what is left of it reaches. The last one takes the least string; none where there is no such place.
 * @param string by its place at the top
 * @param leftMm what is left of it, measured from its last knot
 * @param least  knots that the old and the new string are carried together, 1 or more
 * @throws RangeError as {@link reachOf}
 * O(steps). Rule H15.
 */
export function layIns(
  board: Board,
  steps: readonly WorkStep[],
  at: number,
  string: number,
  leftMm: number,
  least: number = LAY_IN_KNOTS,
): readonly LayIn[] {
  if (!(Number.isInteger(least) && least >= 1)) throw new RangeError(`${least} knots running are none`);
  const { need } = reachOf(board, steps, at, string, leftMm);
  const { knots } = waysOf(board, steps, at)[string]!;
  const reach: number[] = [];
  let sumMm = 0;
  for (const { takesMm } of knots) {
    sumMm += takesMm;
    reach.push(sumMm);
  }
  const found: LayIn[] = [];
  for (let from = 0; from < knots.length; from++) {
    if (knots[from]!.isKnotting) continue;
    let to = from;
    while (to + 1 < knots.length && !knots[to + 1]!.isKnotting) to++;
    let start = to - least + 1;
    while (start >= from && reach[start + least - 1]! + need.spareMm > leftMm) start--;
    if (start >= from) {
      const beforeMm = start === 0 ? 0 : reach[start - 1]!;
      const newMm = sumMm - beforeMm + need.endMm + need.spareMm + SINGLE_TUCK_MM;
      found.push({ start: knots[start]!, from: knots[from]!, to: knots[to]!, newMm });
    }
    from = to;
  }
  return found;
}
