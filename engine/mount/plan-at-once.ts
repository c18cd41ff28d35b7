/** Plans that take few steps: neat ones, and those of up to 24 places. Apart from plan-mount.ts, so that a page need not load the search. */
import { countOdd, numberColours, readColours } from './colour-numbers.ts';
import { type MountPlan, planOf } from './mount-plan.ts';
import { pairNested } from './nested-pairing.ts';
import { foldFromLeft } from './open-folds.ts';

/** Up to this many places the fewest crossings are found at once. */
const PLACES_AT_ONCE = 24;

/** What a plan may use. */
export interface MountOptions {
  /**
   * `'forced'` (default): one single for each colour of odd count and no more, then the fewest crossings.
   * `'free'`: no crossings, then the fewest singles.
   */
  readonly singles?: 'forced' | 'free';
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
  return planNeat(names, options) ?? planSmall(names);
}

/** @throws RangeError for another `singles` */
export function checkOptions({ singles }: MountOptions): void {
  if (singles !== undefined && singles !== 'forced' && singles !== 'free')
    throw new RangeError(`singles must be 'forced' or 'free', not ${JSON.stringify(singles)}`);
}

/** The plan without crossings, null where there is none. */
export function planNeat(names: readonly string[], { singles }: MountOptions): MountPlan | null {
  const numbers = numberColours(names);
  return singles === 'free' || isNeatlyMountable(numbers)
    ? planOf(names, pairNested(numbers), 0, true)
    : null;
}

/** The plan of an order that crosses; null where it has too many places. */
export function planSmall(names: readonly string[]): MountPlan | null {
  if (names.length > PLACES_AT_ONCE) return null;
  const { pairs } = foldFromLeft(numberColours(names), { width: 2 ** 20 });
  return planOf(names, pairs!, pairs!.length === 0 ? 0 : countCrossings(pairs!), true);
}

/** O(folds^2). */
export function countCrossings(pairs: readonly (readonly [number, number])[]): number {
  let crossings = 0;
  for (const [a, b] of pairs) for (const [c, d] of pairs) if (a < c && c < b && b < d) crossings++;
  return crossings;
}

/**
 * Whether a plan with one single for each colour of odd count and no crossings exists.
 * O(n) where no colour of odd count comes in, or where the others alone cross already; else O(n^3).
 */
export function isNeatlyMountable(numbers: ArrayLike<number>): boolean {
  const counts = new Uint8Array(256);
  for (let place = 0; place < numbers.length; place++) counts[numbers[place]!]!++;
  // Folding equal neighbours of the colours of even count away, in any order, always leaves the same word.
  const open = new Uint8Array(numbers.length);
  let height = 0;
  let odd = 0;
  for (let place = 0; place < numbers.length; place++) {
    const colour = numbers[place]!;
    if (counts[colour]! % 2 === 1) odd++;
    else if (height > 0 && open[height - 1] === colour) height--;
    else open[height++] = colour;
  }
  if (height > 0 || odd === 0) return height === 0;
  return numbers.length - 2 * pairNested(numbers).length === countOdd(numbers);
}

/** Whether an order mounts without crossings and with one single for each colour of odd count. As {@link isNeatlyMountable}. */
export function isNeatOrder(colours: readonly string[]): boolean {
  return isNeatlyMountable(numberColours(colours));
}
