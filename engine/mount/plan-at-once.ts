/** Plans that take few steps: neat ones, and those of up to 24 places. Apart from plan-mount.ts, so that a page need not load the search. */
import type { Half } from '../pattern/index.ts';
import { type MountPlan, planOf } from './mount-plan.ts';
import { readColours } from './read-colours.ts';
import { isNeatlyMountable, numberColours, pairAtOnce, pairNested } from './search/index.ts';

/** What a plan may use. */
export interface MountOptions {
  /**
   * `'forced'` (default): one single for each colour of odd count and no more, then the fewest crossings.
   * `'free'`: no crossings, then the fewest singles.
   */
  readonly singles?: 'forced' | 'free';
  /** From which side one mounts; the pairing is the same. Default 'left'. */
  readonly firstHalf?: Half;
}

/**
 * `planMount` where that takes no search: the same plan, or null where the order crosses and has more than 24 places.
 * O(n^3) where it is neat; else at most 4,096 rows of open folds after each of the places. Rule M18.
 * @throws as `planMount`
 */
export function planAtOnce(
  colours: readonly (string | number)[],
  options: MountOptions = {},
): MountPlan | null {
  checkOptions(options);
  const names = readColours(colours);
  return planNeat(names, options) ?? planSmall(names, options);
}

/** @throws RangeError for another `singles` or `firstHalf` */
export function checkOptions({ singles, firstHalf }: MountOptions): void {
  if (singles !== undefined && singles !== 'forced' && singles !== 'free')
    throw new RangeError(`singles must be 'forced' or 'free', not ${JSON.stringify(singles)}`);
  if (firstHalf !== undefined && firstHalf !== 'left' && firstHalf !== 'right')
    throw new RangeError(`firstHalf must be 'left' or 'right', not ${JSON.stringify(firstHalf)}`);
}

/** The plan without crossings, null where there is none. */
export function planNeat(names: readonly string[], options: MountOptions): MountPlan | null {
  const numbers = numberColours(names);
  const isNeat = options.singles === 'free' || isNeatlyMountable(numbers);
  return isNeat ? planOf(names, pairNested(numbers), { firstHalf: options.firstHalf }) : null;
}

/** The plan of an order that crosses; null where it has too many places. */
export function planSmall(names: readonly string[], { firstHalf }: MountOptions): MountPlan | null {
  const pairs = pairAtOnce(numberColours(names));
  return pairs === null ? null : planOf(names, pairs, { firstHalf });
}

/** Whether an order mounts without crossings and with one single for each colour of odd count. As {@link isNeatlyMountable}. */
export function isNeatOrder(colours: readonly string[]): boolean {
  return isNeatlyMountable(numberColours(colours));
}
