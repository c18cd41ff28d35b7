/**
 * As few places as possible to recolour so that an order mounts neatly. No polynomial algorithm is known to us (`search/singles-bound.ts`
 * says why): where bound and best agree the answer is proven without a search, else it is searched for as long as it takes, and the best so
 * far is told with its bound. How soon: tests/reference/recolour-proofs.md.
 */

import { readColours } from './read-colours.ts';
import type { MountPlan } from './mount-plan.ts';
import { planNames } from './plan-mount.ts';
import type { Watched } from './progress.ts';
import { countOdd, numberColours, RecolourSearch, reduceWord } from './search/index.ts';

/** What {@link recolour} may use. */
export interface RecolourOptions extends Watched {
  /**
   * `'forced'` (default): the new order may have other colours of odd count, each with its single.
   * `'kept'`: the new order has no more singles than the given one.
   */
  readonly singles?: 'forced' | 'kept';
  /** Further colours that may be used, beside those of the order. */
  readonly palette?: readonly string[];
  /** Told the best found so far each time it, or what is proven of it, has come nearer to the least. */
  readonly onBest?: (best: Recolouring) => void;
  /** Steps of a table, after which the best found is given beside its bound; default: until it is proven. */
  readonly mostSteps?: number;
}

/** The places to give another colour so that the order mounts neatly. */
export interface Recolouring {
  /** The places to recolour, rising, each with its new colour. A place is a string at the top of the band. */
  readonly changes: readonly { readonly place: number; readonly colour: string }[];
  /** The order after the change. */
  readonly colours: readonly string[];
  /** How that is mounted: without crossings. */
  readonly plan: MountPlan;
  /** No recolouring under the same rule changes fewer places. */
  readonly lowerBound: number;
  /** Whether the number of changes is proven to be the least. */
  readonly exact: boolean;
}

/**
 * The fewest places to recolour so that the order mounts without crossings, one single for each colour of odd count.
 * @param colours one id per place, 1 to 200
 * @returns the recolouring; of those with the fewest changes, one with the fewest singles that the search met
 * Equal neighbours are paired first (reduced-word.ts): what their partners then cost together is no more than what they cost with the
 * neighbours. On what is left, branch and bound over the number of singles of each colour, with a Lagrangian bound whose every step is
 * one pairing table, O(n^3) (see recolour-search.ts, singles-bound.ts). It goes on until the number is proven, unless `mostSteps`
 * ends it. Exponential in the colours at worst, since the odd counts tie the whole order together; how often and how soon it is
 * proven: tests/reference/recolour-proofs.md. Rules M14, M20.
 * @throws as `planMount` for the colours; RangeError for another `singles`.
 */
export function recolour(colours: readonly (string | number)[], options: RecolourOptions = {}): Recolouring {
  const names = readColours(colours);
  const rule = options.singles ?? 'forced';
  if (rule !== 'forced' && rule !== 'kept')
    throw new RangeError(`singles must be 'forced' or 'kept', not ${JSON.stringify(rule)}`);
  const numbers = numberColours(names);
  const allowed = [...new Set([...names, ...(options.palette ?? [])])];
  const odd = countOdd(numbers);
  const { pairs, places } = reduceWord(numbers);
  const result = (found: Int16Array, lowerBound: number): Recolouring => {
    const partner = new Int16Array(numbers.length).fill(-1);
    const fold = (left: number, right: number): void => {
      partner[left] = right;
      partner[right] = left;
    };
    for (const [left, right] of pairs) fold(left, right);
    found.forEach((other, at) => {
      if (other > at) fold(places[at]!, places[other]!);
    });
    const after = paint(names, numbers, allowed, partner);
    const changes = after.flatMap((colour, place) => (colour === names[place] ? [] : [{ place, colour }]));
    const exact = changes.length === lowerBound;
    return { changes, colours: after, plan: planNames(after), lowerBound, exact };
  };
  if (places.length === 0) {
    options.onProgress?.(1);
    return result(new Int16Array(0), 0);
  }
  const search = new RecolourSearch(
    numberColours(places.map((place) => names[place]!)),
    rule === 'kept' ? Math.min(odd, allowed.length) : allowed.length,
  );
  const most = options.mostSteps ?? Number.POSITIVE_INFINITY;
  let gap = Number.POSITIVE_INFINITY;
  let first = -1;
  while (search.step()) {
    const { price } = search.best;
    const { lowerBound } = search;
    if (first < 0) first = lowerBound;
    if (price - lowerBound < gap) {
      gap = price - lowerBound;
      options.onBest?.(result(search.best.partner, lowerBound));
    }
    options.onProgress?.(Math.min(1, shareOf(first, lowerBound, price)));
    if (search.steps > most) break;
  }
  options.onProgress?.(1);
  return result(search.best.partner, search.lowerBound);
}

/** Share of the gap between bound and best that is closed. */
function shareOf(first: number, lowerBound: number, price: number): number {
  return price <= first ? 1 : (lowerBound - first) / (price - first);
}

/** Gives each pair the colour of its left place, and each single a colour that no other single has. */
function paint(
  names: readonly string[],
  numbers: readonly number[],
  allowed: readonly string[],
  partner: Int16Array,
): string[] {
  const after = [...names];
  const singles: number[] = [];
  partner.forEach((other, place) => {
    if (other < 0) singles.push(place);
    else if (other > place && numbers[other] !== numbers[place]) after[other] = names[place]!;
  });
  const taken = new Set(singles.map((place) => names[place]!));
  const seen = new Set<string>();
  for (const place of singles) {
    if (seen.has(names[place]!)) {
      const free = allowed.find((colour) => !taken.has(colour));
      if (free === undefined) throw new RangeError(`no colour is left for the single at place ${place}`);
      taken.add(free);
      after[place] = free;
    }
    seen.add(names[place]!);
  }
  return after;
}
