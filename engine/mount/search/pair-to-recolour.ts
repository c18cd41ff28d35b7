/** Which places to pair and which to leave single, so that the fewest have to change their colour. */
import { numberColours } from './colour-numbers.ts';
import { RecolourSearch } from './recolour-search.ts';
import { reduceWord } from './reduced-word.ts';
import type { Tell } from './tell.ts';

/** A pairing without crossings, and what is proven of it. */
export interface Recoloured {
  /** For each place the one at the other end of its pair, -1 for a single. */
  readonly partner: Int16Array;
  /** No pairing changes fewer places. */
  readonly lowerBound: number;
}

/** How long to look, and who is told. */
export interface RecolourWatch {
  /** Steps of a table, after which the best found is given; without it the search goes on until it is proven. */
  readonly mostSteps?: number | undefined;
  /** Told the best found each time it, or its bound, has come nearer to the least. */
  readonly onBest?: ((best: Recoloured) => void) | undefined;
  readonly tell: Tell;
}

/**
 * The nested pairing after which the fewest places change colour: one of each pair of two colours, and each single of a colour but one.
 * @param colours     colour number of each place, numbers from 0 without gaps
 * @param mostSingles most singles allowed; 1 or more where the places are odd in number
 * Equal neighbours are paired first (reduced-word.ts), what is left by branch and bound (recolour-search.ts). Rules M14, M20.
 */
export function pairToRecolour(
  colours: readonly number[],
  mostSingles: number,
  { mostSteps = Number.POSITIVE_INFINITY, onBest, tell }: RecolourWatch,
): Recoloured {
  const { pairs, places } = reduceWord(colours);
  const whole = (found: Int16Array, lowerBound: number): Recoloured => {
    const partner = new Int16Array(colours.length).fill(-1);
    const fold = (left: number, right: number): void => {
      partner[left] = right;
      partner[right] = left;
    };
    for (const [left, right] of pairs) fold(left, right);
    found.forEach((other, at) => {
      if (other > at) fold(places[at]!, places[other]!);
    });
    return { partner, lowerBound };
  };
  if (places.length === 0) return whole(new Int16Array(0), 0);
  const search = new RecolourSearch(numberColours(places.map((place) => colours[place]!)), mostSingles);
  let gap = Number.POSITIVE_INFINITY;
  let first = -1;
  while (search.step()) {
    const { price } = search.best;
    const { lowerBound } = search;
    if (first < 0) first = lowerBound;
    if (price - lowerBound < gap) {
      gap = price - lowerBound;
      onBest?.(whole(search.best.partner, lowerBound));
    }
    tell(Math.min(1, shareOf(first, lowerBound, price)));
    if (search.steps > mostSteps) break;
  }
  return whole(search.best.partner, search.lowerBound);
}

/** Share of the gap between bound and best that is closed. */
function shareOf(first: number, lowerBound: number, price: number): number {
  return price <= first ? 1 : (lowerBound - first) / (price - first);
}
