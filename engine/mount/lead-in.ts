/** Rows above a pattern that carry the strings from an order that mounts neatly to the order needed. */
import {
  BACKWARD,
  BACKWARD_FORWARD,
  FORWARD,
  FORWARD_BACKWARD,
  MAX_ROWS,
  type Pattern,
  rowStride,
} from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import type { MountPlan } from './mount-plan.ts';
import { planNames } from './plan-mount.ts';
import type { Watched } from './progress.ts';
import { readColours } from './read-colours.ts';
import { type LeadInOrders, numberColours, shortestLeadIn } from './search/index.ts';

/** What {@link leadIn} is told besides the colours. */
export interface LeadInOptions extends Watched {
  /** Place at which the pattern's first row begins, 0 (default) or 1; the last lead-in row begins at the other. */
  readonly start?: 0 | 1;
  /** Told each shorter one that was found while it looks for shorter ones still. */
  readonly onBest?: (best: LeadIn) => void;
}

/** Rows above a pattern that lead from an order that mounts neatly to the one it begins with. */
export interface LeadIn {
  /** Number of rows to work above the pattern; 0 where its order mounts neatly already. */
  readonly rows: number;
  /** Colours to mount, left to right. */
  readonly order: readonly string[];
  /** How they are mounted: without crossings. */
  readonly plan: MountPlan;
  /** The rows alone, begun with `order`; after them the strings stand as asked. */
  readonly pattern: Pattern;
  /** Whether the exchanges mirror each other left to right. */
  readonly symmetric: boolean;
  /** No lead-in has fewer rows. */
  readonly lowerBound: number;
  /** Whether it is proven that no shorter one exists: `rows` is `lowerBound`. */
  readonly exact: boolean;
}

/**
 * The fewest rows above a pattern that go from a neatly mountable order to this one, with their knots.
 * @param colours the order the pattern begins with, one id per place, 1 to 200
 * The fewest up to 12 strings (at most a few hundred thousand orders are looked at there), and beyond where few enough orders
 * arise; else the shortest that a search of bounded length finds (`search/walk-lead-in.ts`). Of the shortest, one whose exchanges mirror left to right is taken where
 * there is one, then the one with the fewest exchanges. Every pair of its rows is tied: in the left half and on the middle
 * line the left string shows, in the right half the right one, so that the knots mirror each other.
 * @throws as `planMount` for the colours; RangeError for another `start`. Rules M11 to M13, M41 to M45.
 */
export function leadIn(colours: readonly (string | number)[], options: LeadInOptions = {}): LeadIn {
  const names = readColours(colours);
  const start = options.start ?? 0;
  if (start !== 0 && start !== 1) throw new RangeError(`start must be 0 or 1, not ${String(start)}`);
  const numbers = numberColours(names);
  const { onProgress, onBest } = options;
  const found = shortestLeadIn(
    numbers,
    start,
    (share) => onProgress?.(share),
    onBest && ((best) => onBest(build(names, numbers, start, best))),
  );
  onProgress?.(1);
  return build(names, numbers, start, found);
}

function build(
  names: readonly string[],
  numbers: readonly number[],
  start: 0 | 1,
  { orders, isSymmetric, atLeast }: LeadInOrders,
): LeadIn {
  const nameOf = new Map(numbers.map((number, place) => [number, names[place]!]));
  const order = orders[0]!.map((number) => nameOf.get(number)!);
  const n = names.length;
  const rows = orders.length - 1;
  const stride = rowStride(n);
  const top = ((start + rows) & 1) as 0 | 1;
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++) {
    const parity = (top + row) & 1;
    const isExchanged = (place: number): boolean => orders[row]![place] !== orders[row + 1]![place];
    for (let k = 0, place = parity; place + 1 < n; k++, place += 2) {
      const mirror = n - 2 - place;
      // Where only one of two mirrored pairs has different colours, exchanging both keeps the mirror and harms nothing.
      const changes = isExchanged(place) || (isSymmetric && isExchanged(mirror));
      const isLeft = place <= mirror;
      knots[row * stride + k] = changes
        ? isLeft
          ? FORWARD
          : BACKWARD
        : isLeft
          ? FORWARD_BACKWARD
          : BACKWARD_FORWARD;
    }
  }
  return {
    rows,
    order,
    plan: planNames(order),
    pattern: { colours: order, start: top, rows, knots },
    symmetric: isSymmetric,
    lowerBound: atLeast,
    exact: rows === atLeast,
  };
}

/**
 * The pattern with its lead-in above it: begun with the lead-in's order; the first `lead.rows` rows are to be worked once.
 * @throws RangeError when the lead-in does not end where the pattern begins, or the rows are more than 20,000.
 */
export function applyLeadIn(pattern: Pattern, lead: LeadIn): Pattern {
  const above = lead.pattern;
  const strings = pattern.colours.length;
  if (above.colours.length !== strings)
    throw new RangeError(`a lead-in for ${above.colours.length} strings does not fit ${strings}`);
  if (above.rows > 0 && ((above.start + above.rows) & 1) !== pattern.start)
    throw new RangeError(
      `the lead-in ends above a row that begins at ${(above.start + above.rows) & 1}, not ${pattern.start}`,
    );
  const below = Array.from(weave(above).finalOrder, (string) => above.colours[string]!);
  const wrong = below.findIndex((colour, place) => colour !== pattern.colours[place]);
  if (wrong >= 0)
    throw new RangeError(
      `the lead-in brings ${below[wrong]} to place ${wrong}, where the pattern has ${pattern.colours[wrong]}`,
    );
  const rows = above.rows + pattern.rows;
  if (rows > MAX_ROWS) throw new RangeError(`${rows} rows are more than ${MAX_ROWS}`);
  const knots = new Uint8Array(rows * rowStride(strings));
  knots.set(above.knots);
  knots.set(pattern.knots, above.knots.length);
  return { colours: [...above.colours], start: above.rows > 0 ? above.start : pattern.start, rows, knots };
}
