/** Few rows that bring a neat order to a given one. */
import { pairWithFewestCrossings } from './fewest-crossings.ts';
import { canSearchLeadIn, searchLeadIn } from './lead-in-search.ts';
import { countCrossings, isNeatlyMountable } from './neat-order.ts';
import { pairAtOnce } from './open-folds.ts';
import { rowsToUndo } from './rows-to-undo.ts';
import type { Tell } from './tell.ts';
import { walkedLeadIn } from './walk-lead-in.ts';

/** Up to this many strings the fewest rows are always found. */
const EXACT_STRINGS = 12;
/** Orders looked at beyond that, and for a lead-in that mirrors left to right. */
const MAX_ORDERS = 120_000;

export interface LeadInOrders {
  /** From the top of the lead-in down to the given order. */
  readonly orders: readonly (readonly number[])[];
  /** Whether the exchanges of each row mirror each other left to right. */
  readonly isSymmetric: boolean;
  /** No fewer rows do. */
  readonly atLeast: number;
}

/**
 * The fewest staggered rows of exchanges from an order that mounts neatly to the one given, up to 12 strings; beyond few, and
 * the fewest where few enough orders arise.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @param start   place at which the pattern's first row begins; the lead-in's last row has the other parity
 * @param onBest  told each shorter lead-in that a search which goes on has found
 * Of the shortest one that mirrors left to right is taken where there is one, then one with the fewest exchanges. Rules M11 to M13, M41 to M45.
 */
export function shortestLeadIn(
  colours: readonly number[],
  start: 0 | 1,
  tell: Tell,
  onBest: (best: LeadInOrders) => void = () => {},
): LeadInOrders {
  const { orders, atLeast } = shortest(colours, start, tell, onBest);
  const mirrored = orders.length === 1 ? null : symmetricOrders(colours, start, orders.length - 1);
  return { orders: mirrored ?? orders, isSymmetric: mirrored !== null, atLeast };
}

function shortest(
  colours: readonly number[],
  start: 0 | 1,
  tell: Tell,
  onBest: (best: LeadInOrders) => void,
): Omit<LeadInOrders, 'isSymmetric'> {
  const n = colours.length;
  if (isNeatlyMountable(colours)) return { orders: [colours], atLeast: 0 };
  if (canSearchLeadIn(n, Math.max(...colours) + 1)) {
    const maxOrders = n <= EXACT_STRINGS ? Number.POSITIVE_INFINITY : MAX_ORDERS;
    const orders = searchLeadIn(colours, start, { maxOrders, maxRows: n + 1, symmetric: false, tell });
    if (orders !== null) return { orders, atLeast: orders.length - 1 };
  }
  const fewest = pairAtOnce(colours);
  const { pairs, lowerBound } =
    fewest === null
      ? pairWithFewestCrossings(colours)
      : { pairs: fewest, lowerBound: countCrossings(fewest) };
  const atLeast = rowsToUndo(lowerBound, n, start);
  const orders = walkedLeadIn(colours, start, pairs, tell, (best) =>
    onBest({ orders: best, isSymmetric: false, atLeast }),
  );
  return { orders, atLeast };
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
