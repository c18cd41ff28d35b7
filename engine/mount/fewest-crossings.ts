/**
 * The fewest crossings when no neat plan exists.
 *
 * Folds of one colour never need to cross each other: two that do can be exchanged for two that don't without adding a
 * crossing. So, going from left to right, a place either opens a fold, or closes the latest open fold of its colour, or is
 * the single of a colour of odd count. What matters from there on is only the row of open folds; closing one costs as many
 * crossings as folds were opened after it. That is a shortest path over rows of open folds.
 */
import { improve } from './improve.ts';

/** Rows of open folds kept for each place; beyond it the worst are dropped and the result is no longer proven. */
const WIDTH = 60_000;
const WIDTH_LARGE = 1_500;
/** Weight of a crossing against the spans. */
const CROSSING = 100_000;

export interface FewestCrossings {
  readonly pairs: readonly [number, number][];
  /** Whether nothing was dropped, so that the result is the least. */
  readonly exact: boolean;
}

/** A row of open folds: places still open, in order; what it cost; how it came about. */
interface Open {
  readonly places: readonly number[];
  readonly cost: number;
  readonly last: Open | null;
  /** The fold closed at this step, if any. */
  readonly closed: readonly [number, number] | null;
}

/**
 * Pairs the places with one single for each colour of odd count and, up to 24 places, the fewest crossings.
 * @param colours colour number of each place, numbers from 0
 * Exact whenever at most 60,000 rows of open folds arise at a place, which 24 places never exceed (each place has two
 * ways, and half of them decide); beyond 48 places the 1,500 best are kept and the result is improved colour by colour. Rule M5.
 */
export function pairWithFewestCrossings(colours: readonly number[]): FewestCrossings {
  const n = colours.length;
  const width = n <= 48 ? WIDTH : WIDTH_LARGE;
  const remaining = new Int32Array(Math.max(...colours) + 1);
  for (const colour of colours) remaining[colour]!++;
  const isOdd = Array.from(remaining, (count) => count % 2 === 1);
  let front = new Map<string, Open>([['', { places: [], cost: 0, last: null, closed: null }]]);
  let isExact = true;
  for (let place = 0; place < n; place++) {
    const colour = colours[place]!;
    remaining[colour]!--;
    const left = remaining[colour]!;
    const next = new Map<string, Open>();
    const offer = (open: Open): void => {
      const key = open.places.map((p) => colours[p]).join(' ');
      const known = next.get(key);
      if (known === undefined || open.cost < known.cost) next.set(key, open);
    };
    for (const open of front.values()) {
      let top = -1;
      let count = 0;
      for (let i = open.places.length - 1; i >= 0; i--)
        if (colours[open.places[i]!] === colour) {
          if (top < 0) top = i;
          count++;
        }
      const hasSingleLeft = isOdd[colour]! && (count + left + 1) % 2 === 1;
      if (count + 1 <= left)
        offer({ places: [...open.places, place], cost: open.cost, last: open, closed: null });
      if (top >= 0) {
        const from = open.places[top]!;
        const crossed = open.places.length - 1 - top;
        offer({
          places: [...open.places.slice(0, top), ...open.places.slice(top + 1)],
          cost: open.cost + crossed * CROSSING + (place - from),
          last: open,
          closed: [from, place],
        });
      }
      if (hasSingleLeft && count <= left)
        offer({ places: open.places, cost: open.cost, last: open, closed: null });
    }
    if (next.size > width) {
      isExact = false;
      front = new Map([...next].sort((a, b) => rank(a[1]) - rank(b[1])).slice(0, width));
    } else front = next;
  }
  let end = front.get('') ?? null;
  const pairs: [number, number][] = [];
  for (; end !== null; end = end.last) if (end.closed) pairs.push([end.closed[0], end.closed[1]]);
  return { pairs: isExact ? pairs : improve(colours, pairs), exact: isExact };
}

/** Cost so far, and a little for each open fold, since it may yet be crossed. */
function rank(open: Open): number {
  return open.cost + open.places.length * CROSSING * 0.5;
}
