/** As few places as possible to recolour so that an order mounts neatly. */

import { countOdd, numberColours, readColours } from './colour-numbers.ts';
import type { MountPlan } from './mount-plan.ts';
import { planNames } from './plan-mount.ts';
import { CANCELLED, type Cancellable, type Cancelled, isStopped } from './progress.ts';
import { RecolourSearch } from './recolour-search.ts';

/** What {@link recolour} may use. */
export interface RecolourOptions extends Cancellable {
  /**
   * `'forced'` (default): the new order may have other colours of odd count, each with its single.
   * `'kept'`: the new order has no more singles than the given one.
   */
  readonly singles?: 'forced' | 'kept';
  /** Further colours that may be used, beside those of the order. */
  readonly palette?: readonly string[];
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
 * @returns the recolouring, or `{cancelled: true}`, only where `isCancelled` is given. Of those with the fewest changes the
 * one found has the fewest singles that the search met.
 * Branch and bound over the number of singles of each colour, with a Lagrangian bound whose every step is one pairing table, O(n^3)
 * (see recolour-search.ts, singles-bound.ts). Exponential in the colours at worst, since the odd counts tie the whole order together;
 * a few hundred tables as a rule. After 4e9 steps of a table the best found comes with
 * `exact: false` and a bound. Rule M14.
 * @throws as `planMount` for the colours; RangeError for another `singles`.
 */
export function recolour(
  colours: readonly (string | number)[],
  options: RecolourOptions & { readonly isCancelled: () => boolean },
): Recolouring | Cancelled;
export function recolour(
  colours: readonly (string | number)[],
  options?: RecolourOptions & { readonly isCancelled?: never },
): Recolouring;
export function recolour(
  colours: readonly (string | number)[],
  options: RecolourOptions = {},
): Recolouring | Cancelled {
  const names = readColours(colours);
  const rule = options.singles ?? 'forced';
  if (rule !== 'forced' && rule !== 'kept')
    throw new RangeError(`singles must be 'forced' or 'kept', not ${JSON.stringify(rule)}`);
  const numbers = numberColours(names);
  const allowed = [...new Set([...names, ...(options.palette ?? [])])];
  const odd = countOdd(numbers);
  const search = new RecolourSearch(
    numbers,
    rule === 'kept' ? Math.min(odd, allowed.length) : allowed.length,
  );
  while (search.step()) if (isStopped(options, search.share)) return CANCELLED;
  isStopped(options, 1);
  const after = paint(names, numbers, allowed, search.best.partner);
  const changes = after.flatMap((colour, place) => (colour === names[place] ? [] : [{ place, colour }]));
  return {
    changes,
    colours: after,
    plan: planNames(after),
    lowerBound: search.lowerBound,
    exact: changes.length === search.lowerBound,
  };
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
