/** Which two places each folded string serves. */
import { type MountPlan, planOf } from './mount-plan.ts';
import { checkOptions, type MountOptions, planNeat, planSmall } from './plan-at-once.ts';
import { tellOfPart, type Watched } from './progress.ts';
import { readColours } from './read-colours.ts';
import { type Effort, numberColours, pairWithFewestCrossings, type Tell } from './search/index.ts';

/**
 * Which two places each folded string serves, and in which order to mount them.
 * @param colours one id per place, left to right, 1 to 200 of them
 * @returns the plan; see {@link MountPlan}. Equal input gives an equal plan on every machine: steps of the search are counted, not timed.
 * `'free'`, and `'forced'` where a plan without crossings exists, are exact at any size in O(n^3). Otherwise `'forced'` is
 * exact up to 24 places; beyond, `exact` says whether it meets `lowerBound`, which says how far it can be off.
 * Ties go to shorter spans, so to neighbours and close nests.
 * @throws TypeError when a colour is no text or number; RangeError when there are none or more than 200, or for another
 * `singles` or `firstHalf`. Rules M1 to M6, M40.
 */
export function planMount(
  colours: readonly (string | number)[],
  options: MountOptions & Watched = {},
): MountPlan {
  checkOptions(options);
  const plan = planNames(readColours(colours), options, 'full', tellOfPart(options, 0, 1));
  options.onProgress?.(1);
  return plan;
}

/** {@link planMount} for ids already checked; `'quick'` spends less on orders that cross, and may prove less. */
export function planNames(
  names: readonly string[],
  options: MountOptions = {},
  effort: Effort = 'full',
  tell: Tell = () => {},
): MountPlan {
  return planNeat(names, options) ?? planSmall(names, options) ?? search(names, options, effort, tell);
}

function search(
  names: readonly string[],
  { firstHalf }: MountOptions,
  effort: Effort,
  tell: Tell,
): MountPlan {
  const { pairs, lowerBound } = pairWithFewestCrossings(numberColours(names), effort, tell);
  return planOf(names, pairs, { lowerBound, firstHalf });
}
