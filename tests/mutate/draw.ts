/** Which places a seed draws. */
import { seededRandom } from '../support/seeded-random.ts';
import { type Place, SHARES, type Share, shareOf } from './places.ts';

export interface Drawn {
  /** How many places of the share are wanted. */
  readonly wanted: number;
  /** In the order of their turn. There are more than wanted: they stand in for those that do not compile. */
  readonly places: readonly Place[];
}

/** For each place wanted so many are drawn: most that do not compile are strings and numbers of narrow types. */
const SPARE = 3;

/**
 * Draws equal shares of engine, document, server and web; within a share every place is as likely.
 * The same sources and the same seed give the same places; of several changes at one spot only the first drawn is kept.
 */
export function draw(places: readonly Place[], seed: number, count: number): Map<Share, Drawn> {
  return new Map(
    SHARES.map((share, i) => {
      const wanted = Math.floor((count + SHARES.length - 1 - i) / SHARES.length);
      const mine = places.filter(({ file }) => shareOf(file) === share);
      const spots = new Set<string>();
      const shuffled = seededRandom(seed * SHARES.length + i)
        .shuffle(mine)
        .filter(({ file, start }) => {
          const spot = `${file}:${start}`;
          return !spots.has(spot) && spots.add(spot);
        });
      return [share, { wanted, places: shuffled.slice(0, wanted * SPARE) }] as const;
    }),
  );
}
