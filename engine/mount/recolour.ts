/**
 * As few places as possible to recolour so that an order mounts neatly. No polynomial algorithm is known to us (`search/singles-bound.ts`
 * says why): where bound and best agree the answer is proven without a search, else it is searched for as long as it takes, and the best so
 * far is told with its bound. How soon: tests/reference/recolour-proofs.md.
 */

import type { MountPlan } from './mount-plan.ts';
import { planNames } from './plan-mount.ts';
import type { Watched } from './progress.ts';
import { readColours } from './read-colours.ts';
import { countOdd, numberColours, pairToRecolour, type Recoloured } from './search/index.ts';

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
 * Branch and bound over the number of singles of each colour, with a Lagrangian bound whose every step is one pairing table, O(n^3)
 * (search/recolour-search.ts, search/singles-bound.ts). It goes on until the number is proven, unless `mostSteps`
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
  const result = ({ partner, lowerBound }: Recoloured): Recolouring => {
    const after = paint(names, numbers, allowed, partner);
    const changes = after.flatMap((colour, place) => (colour === names[place] ? [] : [{ place, colour }]));
    const exact = changes.length === lowerBound;
    return { changes, colours: after, plan: planNames(after), lowerBound, exact };
  };
  const { onBest, mostSteps } = options;
  const mostSingles = rule === 'kept' ? Math.min(countOdd(numbers), allowed.length) : allowed.length;
  const found = pairToRecolour(numbers, mostSingles, {
    mostSteps,
    onBest: onBest && ((best) => onBest(result(best))),
    tell: (share) => options.onProgress?.(share),
  });
  options.onProgress?.(1);
  return result(found);
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
