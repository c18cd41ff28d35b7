/**
 * Fewest crossings by going from left to right over rows of open folds.
 *
 * Folds of one colour never need to cross each other: two that do can be exchanged for two that don't without adding a
 * crossing. So a place either opens a fold, or closes the latest open fold of its colour, or is the single of a colour of
 * odd count. What matters from there on is only the colours of the open folds in their order; closing one costs as many
 * crossings as folds were opened after it. That is a shortest path over rows of open folds.
 */
import { CROSSING } from './refold.ts';

export interface OpenFoldsOptions {
  /** Rows of open folds kept after each place; beyond it the worst are dropped and the result is no longer proven. */
  readonly width: number;
  /** Crossings that each open fold is reckoned to cost yet, when the worst are dropped. */
  readonly openWeight?: number;
  /** Number of crossings of a plan already known: what costs more is left out. */
  readonly atMost?: number;
}

export interface OpenFoldsResult {
  /** Null when nothing within `atMost` is left. */
  readonly pairs: readonly [number, number][] | null;
  /** Whether nothing was dropped for want of room, so that the result is the least. */
  readonly complete: boolean;
}

/** A row of open folds: places still open, in order; what it cost; how it came about. */
interface Open {
  readonly places: readonly number[];
  readonly cost: number;
  readonly last: Open | null;
  /** Left end of the fold closed at this step, -1 if none. */
  readonly closed: number;
}

/**
 * Pairs the places with one single for each colour of odd count and the fewest crossings, then the shortest spans.
 * @param colours colour number of each place, numbers from 0 without gaps
 * A row of open folds after place p is a part of the p places before it and, read backwards, of the n - p after it, so there
 * are at most 2^(n/2) of them: 4,096 for 24 places. Rule M5.
 */
export function foldFromLeft(colours: readonly number[], options: OpenFoldsOptions): OpenFoldsResult {
  const n = colours.length;
  const most = ((options.atMost ?? 1e6) + 1) * CROSSING;
  const remaining = new Int32Array(Math.max(...colours) + 1);
  for (const colour of colours) remaining[colour]!++;
  const isOdd = Array.from(remaining, (count) => count % 2 === 1);
  const letters = colours.map((colour) => String.fromCharCode(33 + colour));
  let front = new Map<string, Open>([['', { places: [], cost: 0, last: null, closed: -1 }]]);
  let isComplete = true;
  for (let place = 0; place < n; place++) {
    const colour = colours[place]!;
    const left = --remaining[colour]!;
    const next = new Map<string, Open>();
    const offer = (
      key: string,
      places: readonly number[],
      cost: number,
      last: Open,
      closed: number,
    ): void => {
      if (cost >= most) return;
      const known = next.get(key);
      if (known === undefined || cost < known.cost) next.set(key, { places, cost, last, closed });
    };
    for (const [key, open] of front) {
      const places = open.places;
      let top = -1;
      let count = 0;
      for (let i = places.length - 1; i >= 0; i--)
        if (colours[places[i]!] === colour) {
          if (top < 0) top = i;
          count++;
        }
      if (count + 1 <= left) offer(key + letters[place]!, [...places, place], open.cost, open, -1);
      if (top >= 0) {
        const cost = open.cost + (places.length - 1 - top) * CROSSING + (place - places[top]!);
        const rest = places.slice();
        rest.splice(top, 1);
        offer(key.slice(0, top) + key.slice(top + 1), rest, cost, open, places[top]!);
      }
      const hasSingleLeft = isOdd[colour]! && (count + left + 1) % 2 === 1;
      if (hasSingleLeft && count <= left) offer(key, places, open.cost, open, -1);
    }
    front = next;
    if (next.size > options.width) {
      isComplete = false;
      const weight = (options.openWeight ?? 1) * CROSSING;
      const rank = (open: Open): number => open.cost + open.places.length * weight;
      front = new Map([...next].sort((a, b) => rank(a[1]) - rank(b[1])).slice(0, options.width));
    }
  }
  let end = front.get('') ?? null;
  if (end === null) return { pairs: null, complete: isComplete };
  const pairs: [number, number][] = [];
  for (let place = n - 1; end?.last; place--, end = end.last)
    if (end.closed >= 0) pairs.push([end.closed, place]);
  return { pairs: pairs.reverse(), complete: isComplete };
}
