/**
 * Fewest crossings by going from left to right over rows of open folds.
 *
 * Folds of one colour never need to cross each other: two that do can be exchanged for two that don't without adding a
 * crossing. So a place either opens a fold, or closes the latest open fold of its colour, or is the single of a colour of
 * odd count. What matters from there on is only the colours of the open folds in their order; closing one costs as many
 * crossings as folds were opened after it. That is a shortest path over rows of open folds.
 */

import { CROSSING } from './mount-cost.ts';

/** Colour 0 as a letter. */
const BASE = 33;

/** Up to this many places the fewest crossings are found at once. */
const PLACES_AT_ONCE = 24;

/** A row of open folds: places still open, in order; what it cost; the folds closed on the way. */
interface Open {
  readonly places: readonly number[];
  readonly cost: number;
  readonly closed: Closed | null;
}

interface Closed {
  readonly left: number;
  readonly right: number;
  readonly before: Closed | null;
}

/**
 * Pairs the places with one single for each colour of odd count and the fewest crossings, then the shortest spans.
 * @param colours colour number of each place, numbers from 0 without gaps
 * @returns null for more than 24 places
 * A row of open folds after place p is a part of the p places before it and, read backwards, of the n - p after it, so there
 * are at most 2^(n/2) of them: 4,096 for 24 places. Rule M5.
 */
export function pairAtOnce(colours: readonly number[]): [number, number][] | null {
  if (colours.length > PLACES_AT_ONCE) return null;
  const remaining = new Int32Array(Math.max(...colours) + 1);
  for (const colour of colours) remaining[colour]!++;
  const isOdd = Array.from(remaining, (count) => count % 2 === 1);
  const letters = colours.map((colour) => String.fromCharCode(BASE + colour));
  let front = new Map<string, Open>([['', { places: [], cost: 0, closed: null }]]);
  for (const [place, colour] of colours.entries()) {
    const left = --remaining[colour]!;
    const next = new Map<string, Open>();
    const isWorthless = (key: string, cost: number): boolean => {
      const known = next.get(key);
      return known !== undefined && known.cost <= cost;
    };
    for (const [key, open] of front) {
      const { places, closed } = open;
      let top = -1;
      let count = 0;
      for (let i = places.length - 1; i >= 0; i--)
        if (colours[places[i]!] === colour) {
          if (top < 0) top = i;
          count++;
        }
      const opened = key + letters[place]!;
      if (count + 1 <= left && !isWorthless(opened, open.cost))
        next.set(opened, { places: [...places, place], cost: open.cost, closed });
      if (top >= 0) {
        const cost = open.cost + (places.length - 1 - top) * CROSSING + (place - places[top]!);
        const rest = key.slice(0, top) + key.slice(top + 1);
        if (!isWorthless(rest, cost)) {
          const left = places[top]!;
          const still = places.filter((_, i) => i !== top);
          next.set(rest, { places: still, cost, closed: { left, right: place, before: closed } });
        }
      }
      const hasSingleLeft = isOdd[colour]! && (count + left + 1) % 2 === 1;
      if (hasSingleLeft && count <= left && !isWorthless(key, open.cost)) next.set(key, open);
    }
    front = next;
  }
  const pairs: [number, number][] = [];
  for (let at = front.get('')!.closed; at !== null; at = at.before) pairs.push([at.left, at.right]);
  return pairs.reverse();
}
