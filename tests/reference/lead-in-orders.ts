/** The orders of 14 to 60 strings whose best known lead-ins are kept in lead-in-best-known.json. */
import { isNeatOrder } from '../../engine/mount/plan-at-once.ts';
import { seededRandom } from '../support/seeded-random.ts';

export type OrderKind = 'even' | 'any' | 'stirred' | 'again';

export interface LeadInOrder {
  readonly strings: number;
  readonly kinds: number;
  /**
   * `'even'`: every colour an even number of times, shuffled. `'any'`: a colour drawn for each place. `'stirred'`: mirrored, then random
   * neighbours exchanged, three times as many as there are places. `'again'`: a shuffled half twice. Of an odd number of
   * strings one is drawn and put in anywhere.
   */
  readonly order: OrderKind;
  readonly seed: number;
  /** Place at which the pattern's first row begins. */
  readonly start: 0 | 1;
}

const ORDERS: readonly OrderKind[] = ['even', 'any', 'stirred', 'again'];
/** Strings for each colour. */
const SHARES = [2, 3, 4, 6];

/** 200 of them, from short to long, none of them neat. */
export const LEAD_IN_ORDERS: readonly LeadInOrder[] = Array.from({ length: 200 }, (_, at) => {
  const strings = 14 + Math.floor((at * 47) / 200);
  const share = SHARES[(at >> 2) % SHARES.length]!;
  const order: LeadInOrder = {
    strings,
    kinds: Math.max(3, Math.floor(strings / share)),
    order: ORDERS[at % ORDERS.length]!,
    seed: 1000 + at,
    start: ((at >> 1) & 1) as 0 | 1,
  };
  let { seed } = order;
  while (isNeatOrder(leadInColours({ ...order, seed }).map(String))) seed += 1000;
  return { ...order, seed };
});

/** The colour number of each place; numbers from 0 without gaps, in the order in which they first come. */
export function leadInColours({ strings, kinds, order, seed }: LeadInOrder): number[] {
  const random = seededRandom(seed);
  const half = random.shuffle(
    Array.from({ length: strings >> 1 }, (_, i) => (i < kinds ? i : random.below(kinds))),
  );
  let colours: number[];
  if (order === 'even') colours = random.shuffle([...half, ...half]);
  else if (order === 'again') colours = [...half, ...half];
  else if (order === 'any') colours = Array.from({ length: strings }, () => random.below(kinds));
  else {
    colours = [...half, ...half.toReversed()];
    for (let i = 0; i < 3 * strings; i++) {
      const at = random.below(colours.length - 1);
      [colours[at], colours[at + 1]] = [colours[at + 1]!, colours[at]!];
    }
  }
  if (colours.length < strings) colours.splice(random.below(strings), 0, random.below(kinds));
  const known = [...new Set(colours)];
  return colours.map((colour) => known.indexOf(colour));
}
