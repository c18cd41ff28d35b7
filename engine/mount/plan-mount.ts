/** Which two places each folded string serves. */
import { MAX_STRINGS } from '../pattern/index.ts';
import { crossingBound } from './crossing-bound.ts';
import { pairWithFewestCrossings } from './fewest-crossings.ts';
import { type MountPlan, planOf } from './mount-plan.ts';
import { pairNested } from './nested-pairing.ts';

export interface MountOptions {
  /**
   * `'forced'` (default): one single for each colour of odd count and no more, then the fewest crossings.
   * `'free'`: no crossings, then the fewest singles.
   */
  readonly singles?: 'forced' | 'free';
}

/**
 * Which two places each folded string serves, and in which order to mount them.
 * @param colours one id per place, left to right, 1 to 200 of them
 * @returns the plan; see {@link MountPlan}. Equal input gives an equal plan.
 * `'free'`, and `'forced'` where a plan without crossings exists, are exact at any size in O(n^3). Otherwise `'forced'` is
 * exact up to 24 places; beyond, `exact` says whether it is proven, and `lowerBound` how far it can be off.
 * Ties go to shorter spans, so to neighbours and close nests.
 * @throws TypeError when a colour is no text or number; RangeError when there are none or more than 200. Rules M1 to M6.
 */
export function planMount(colours: readonly (string | number)[], options: MountOptions = {}): MountPlan {
  const names = readColours(colours);
  const kinds = [...new Set(names)];
  const numbers = names.map((name) => kinds.indexOf(name));
  const counts = new Int32Array(kinds.length);
  for (const number of numbers) counts[number]!++;
  const oddColours = counts.filter((count) => count % 2 === 1).length;
  const nested = pairNested(numbers);
  const isNeat = names.length - 2 * nested.length === oddColours;
  if (options.singles === 'free' || isNeat) return planOf(names, nested, 0, true);
  const found = pairWithFewestCrossings(numbers);
  const bound = crossingBound(numbers);
  const plan = planOf(names, found.pairs, Math.max(bound, 1), found.exact);
  return found.exact ? { ...plan, lowerBound: plan.crossings.length } : plan;
}

function readColours(colours: readonly (string | number)[]): string[] {
  if (!Array.isArray(colours)) throw new TypeError(`colours must be a list, not ${typeof colours}`);
  if (colours.length < 1 || colours.length > MAX_STRINGS)
    throw new RangeError(`colours must have 1 to ${MAX_STRINGS} places, not ${colours.length}`);
  return colours.map((colour, place) => {
    if (typeof colour !== 'string' && typeof colour !== 'number')
      throw new TypeError(`colours[${place}] must be text or a number, not ${String(colour)}`);
    return String(colour);
  });
}
