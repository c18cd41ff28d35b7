/** Which two places each folded string serves. */
import { MAX_STRINGS } from '../pattern/index.ts';
import { type Effort, pairWithFewestCrossings } from './fewest-crossings.ts';
import { type MountPlan, planOf } from './mount-plan.ts';
import { pairNested } from './nested-pairing.ts';

/** What a plan may use. */
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
 * @throws TypeError when a colour is no text or number; RangeError when there are none or more than 200, or for another
 * `singles`. Rules M1 to M6.
 */
export function planMount(colours: readonly (string | number)[], options: MountOptions = {}): MountPlan {
  const { singles } = options;
  if (singles !== undefined && singles !== 'forced' && singles !== 'free')
    throw new RangeError(`singles must be 'forced' or 'free', not ${JSON.stringify(singles)}`);
  return planNames(readColours(colours), options);
}

/** {@link planMount} for ids already checked; `'quick'` spends less on orders that cross, and may prove less. */
export function planNames(
  names: readonly string[],
  options: MountOptions = {},
  effort: Effort = 'full',
): MountPlan {
  const numbers = numberColours(names);
  if (options.singles === 'free' || isNeatlyMountable(numbers))
    return planOf(names, pairNested(numbers), 0, true);
  const found = pairWithFewestCrossings(numbers, effort);
  return planOf(names, found.pairs, found.lowerBound, false);
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

/** Colours numbered from 0 in the order in which they first come. */
export function numberColours(names: readonly string[]): number[] {
  const known = new Map<string, number>();
  return names.map((name) => {
    const number = known.get(name) ?? known.size;
    known.set(name, number);
    return number;
  });
}

/** How many colours come an odd number of times. */
export function countOdd(numbers: ArrayLike<number>): number {
  const isOdd = new Uint8Array(256);
  let odd = 0;
  for (let place = 0; place < numbers.length; place++) {
    isOdd[numbers[place]!]! ^= 1;
    odd += isOdd[numbers[place]!] === 1 ? 1 : -1;
  }
  return odd;
}

/** The ids as text. @throws as {@link planMount} says. */
export function readColours(colours: readonly (string | number)[]): string[] {
  if (!Array.isArray(colours)) throw new TypeError(`colours must be a list, not ${typeof colours}`);
  if (colours.length < 1 || colours.length > MAX_STRINGS)
    throw new RangeError(`colours must have 1 to ${MAX_STRINGS} places, not ${colours.length}`);
  return colours.map((colour, place) => {
    if (typeof colour !== 'string' && typeof colour !== 'number')
      throw new TypeError(`colours[${place}] must be text or a number, not ${String(colour)}`);
    return String(colour);
  });
}
