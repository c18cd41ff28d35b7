/** What can be proven of the fewest crossings of an order. The engine's own search takes no part but in the bound by pairs of colours. */
import { crossingBound } from '../../engine/mount/search/crossing-bound.ts';
import { reduceWord } from '../../engine/mount/search/reduced-word.ts';
import { numbered } from '../support/colour-orders.ts';
import { countCrossings, type Pairing } from '../support/pairings.ts';
import { cancelSearch } from './mount-cancel-search.ts';
import { groupBound } from './mount-group-bound.ts';

export interface Proof {
  /** No plan that leaves one single for each colour of odd count has fewer crossings. */
  readonly lowerBound: number;
  /** Whether a plan has as few. */
  readonly isFewest: boolean;
}

/**
 * Tries all words of open folds with fewer crossings than a plan; where those are too many, adds up what groups of colours need.
 * @param colours colour number of each place, numbers from 0 without gaps, for which no neat plan exists
 * @param pairs   the folds of the plan
 * @param room    words looked at; five times as many for the groups
 */
export function proveFewest(colours: readonly number[], pairs: Pairing, room = 30_000): Proof {
  const crossings = countCrossings(pairs);
  const word = numbered(reduceWord(colours).places.map((place) => colours[place]!));
  const found = cancelSearch(word, crossings - 1, room);
  if (found.pairs !== null) return { lowerBound: countCrossings(found.pairs), isFewest: true };
  if (found.complete) return { lowerBound: crossings, isFewest: true };
  const bound = Math.max(crossingBound(word), groupBound(colours, pairs, 5 * room));
  const isEven = word.every((colour) => word.filter((other) => other === colour).length % 2 === 0);
  // With even counts alone the number of crossings goes by twos.
  const lowerBound = isEven && (bound & 1) !== (crossings & 1) ? bound + 1 : bound;
  return { lowerBound, isFewest: lowerBound === crossings };
}
