/** Settles a pairing with crossings: one colour at a time is folded anew until none gains. */
import { Folding } from './refold.ts';

/**
 * A local optimum of folding one colour at a time: fewest crossings, then shortest spans.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @param pairs   where to begin: equal colours joined, one single for each colour of odd count
 * A colour costs O(m^3 + m n) for its m places.
 */
export function settle(
  colours: ArrayLike<number>,
  pairs: readonly (readonly [number, number])[],
): [number, number][] {
  const folding = new Folding(colours, pairs);
  const kinds = folding.placesOf.flatMap((places, kind) => (places.length >= 3 ? [kind] : []));
  for (let at = 0, idle = 0; idle < kinds.length; at++)
    idle = folding.refold(kinds[at % kinds.length]!) ? 0 : idle + 1;
  return folding.pairs;
}
