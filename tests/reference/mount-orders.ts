/** The orders beyond 24 places whose best known plans are kept in mount-best-known.json. */
import { seededRandom } from '../support/seeded-random.ts';

export type OrderKind = 'even' | 'any' | 'stirred';

export interface LargeOrder {
  readonly places: number;
  readonly kinds: number;
  /**
   * `'even'`: every colour an even number of times, shuffled. `'any'`: a colour drawn for each place. `'stirred'`: mirrored, then
   * as many random neighbours exchanged as there are places.
   */
  readonly order: OrderKind;
  readonly seed: number;
}

const KINDS: readonly (readonly [OrderKind, number])[] = [
  ['even', 4],
  ['even', 8],
  ['even', 20],
  ['even', 40],
  ['any', 6],
  ['any', 12],
  ['stirred', 8],
];

/** 80, 120 and 200 places. */
export const LARGE_ORDERS: readonly LargeOrder[] = [80, 120, 200].flatMap((places) =>
  KINDS.map(([order, kinds]) => ({ places, kinds, order, seed: places * 100 + kinds })),
);

/** The colour number of each place; numbers from 0 without gaps, in the order in which they first come. */
export function coloursOf({ places, kinds, order, seed }: LargeOrder): number[] {
  const random = seededRandom(seed);
  const half = Array.from({ length: places >> 1 }, (_, i) => (i < kinds ? i : random.below(kinds)));
  let colours: number[];
  if (order === 'even') colours = random.shuffle([...half, ...half]);
  else if (order === 'any') colours = Array.from({ length: places }, () => random.below(kinds));
  else {
    const mirrored = random.shuffle(half);
    colours = [...mirrored, ...mirrored.toReversed()];
    for (let i = 0; i < places; i++) {
      const at = random.below(places - 1);
      [colours[at], colours[at + 1]] = [colours[at + 1]!, colours[at]!];
    }
  }
  const known = [...new Set(colours)];
  return colours.map((colour) => known.indexOf(colour));
}
