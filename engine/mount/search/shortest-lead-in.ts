/** Few rows that bring a neat order to a given one. */
import { pairWithFewestCrossings } from './fewest-crossings.ts';
import { beamLeadIn, sortedLeadIn } from './lead-in-beam.ts';
import { canSearchLeadIn, searchLeadIn } from './lead-in-search.ts';
import { isNeatlyMountable } from './neat-order.ts';
import { neatTargets } from './neat-targets.ts';
import { pairAtOnce } from './open-folds.ts';
import type { Tell } from './tell.ts';

/** Up to this many strings the fewest rows are always found. */
const EXACT_STRINGS = 12;
/** Orders looked at beyond that, and for a lead-in that mirrors left to right. */
const MAX_ORDERS = 120_000;

export interface LeadInOrders {
  /** From the top of the lead-in down to the given order. */
  readonly orders: readonly (readonly number[])[];
  /** Whether the exchanges of each row mirror each other left to right. */
  readonly isSymmetric: boolean;
}

/**
 * The fewest staggered rows of exchanges from an order that mounts neatly to the one given, up to 12 strings; beyond few, and
 * the fewest where few enough orders arise.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @param start   place at which the pattern's first row begins; the lead-in's last row has the other parity
 * Of the shortest one that mirrors left to right is taken where there is one, then one with the fewest exchanges. Rules M11 to M13.
 */
export function shortestLeadIn(colours: readonly number[], start: 0 | 1, tell: Tell): LeadInOrders {
  const orders = shortest(colours, start, tell);
  const mirrored = orders.length === 1 ? null : symmetricOrders(colours, start, orders.length - 1);
  return { orders: mirrored ?? orders, isSymmetric: mirrored !== null };
}

function shortest(colours: readonly number[], start: 0 | 1, tell: Tell): readonly (readonly number[])[] {
  const n = colours.length;
  if (isNeatlyMountable(colours)) return [colours];
  if (canSearchLeadIn(n, Math.max(...colours) + 1)) {
    const maxOrders = n <= EXACT_STRINGS ? Number.POSITIVE_INFINITY : MAX_ORDERS;
    const found = searchLeadIn(colours, start, { maxOrders, maxRows: n + 1, symmetric: false, tell });
    if (found !== null) return found;
  }
  const pairs = pairAtOnce(colours) ?? pairWithFewestCrossings(colours).pairs;
  const sorted = neatTargets(pairs, colours)
    .map((target) => sortedLeadIn(colours, start, target))
    .reduce((best, orders) => (orders.length < best.length ? orders : best));
  return beamLeadIn(colours, start, sorted.length - 2, tell) ?? sorted;
}

/** A lead-in of as many rows whose exchanges mirror each other, if a search of bounded size finds one. */
function symmetricOrders(
  colours: readonly number[],
  start: 0 | 1,
  rows: number,
): readonly (readonly number[])[] | null {
  if (colours.length % 2 === 1 || !canSearchLeadIn(colours.length, Math.max(...colours) + 1)) return null;
  const limits = { maxOrders: MAX_ORDERS, maxRows: rows, symmetric: true };
  return searchLeadIn(colours, start, { ...limits, tell: () => {} });
}
