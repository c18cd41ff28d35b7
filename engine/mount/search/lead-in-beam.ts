/**
 * Short lead-ins where not every order can be looked at: a beam of promising orders, and sorting as what always works.
 */
import { crossingBound } from './crossing-bound.ts';
import { isNeatlyMountable } from './neat-order.ts';
import type { Tell } from './tell.ts';

/** Steps spent on judging orders, in letters read; sets how many orders the beam keeps. */
const STEPS = 4e8;
const MAX_WIDTH = 400;

interface Candidate {
  readonly order: Uint8Array;
  readonly score: number;
  /** The order one row further down. */
  readonly below: Candidate | null;
}

/**
 * A lead-in by a beam: row after row, pair after pair, both ways of each pair, the most promising orders kept.
 * @returns orders from the top of the lead-in down to the given one, at most `maxRows` rows; null where none was found
 */
export function beamLeadIn(
  colours: readonly number[],
  start: 0 | 1,
  maxRows: number,
  tell: Tell,
): readonly (readonly number[])[] | null {
  const n = colours.length;
  const kinds = Math.max(...colours) + 1;
  const stepsEach = n * Math.max(4, kinds) * 1.5;
  const width = Math.max(2, Math.min(MAX_WIDTH, Math.floor(STEPS / (stepsEach * n * maxRows))));
  const first = Uint8Array.from(colours);
  let beam: readonly Candidate[] = [{ order: first, score: scoreOf(first), below: null }];
  for (let row = 1; row <= maxRows; row++) {
    tell(row / (maxRows + 1));
    let front: readonly Candidate[] = beam.map((below) => ({
      order: below.order,
      score: below.score,
      below,
    }));
    for (let place = (start + row) & 1; place + 1 < n; place += 2) front = widen(front, place, width);
    beam = front;
    for (const candidate of beam) if (isNeatlyMountable(candidate.order)) return ordersOf(candidate);
  }
  return null;
}

/** Each candidate as it is and with the pair at `place` exchanged; the best `width` different orders. */
function widen(front: readonly Candidate[], place: number, width: number): readonly Candidate[] {
  const next = [...front];
  for (const { order, below } of front) {
    if (order[place] === order[place + 1]) continue;
    const changed = order.slice();
    changed[place] = order[place + 1]!;
    changed[place + 1] = order[place]!;
    next.push({ order: changed, score: scoreOf(changed), below });
  }
  const seen = new Set<string>();
  return next
    .sort((a, b) => a.score - b.score)
    .filter(({ order }) => {
      const key = String.fromCharCode(...order);
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    })
    .slice(0, width);
}

/** How far from neat: crossings that pairs of colours prove, and what is left when equal neighbours are folded away. */
function scoreOf(order: Uint8Array): number {
  const open = new Uint8Array(order.length);
  let height = 0;
  for (const colour of order) {
    if (height > 0 && open[height - 1] === colour) height--;
    else open[height++] = colour;
  }
  return crossingBound(order) * 4 + height;
}

function ordersOf(top: Candidate): number[][] {
  const orders: number[][] = [];
  for (let at: Candidate | null = top; at !== null; at = at.below) orders.push(Array.from(at.order));
  return orders;
}

/**
 * A lead-in to a given neat order by sorting with staggered rows, which n + 1 of them always do.
 * @param target for each place the place its string has in the neat order; a permutation
 * @returns orders of colours from the top of the lead-in down to the given one.
 * Source: odd-even transposition sort; n rows suffice: Knuth, The Art of Computer Programming, vol. 3, 5.3.4.
 */
export function sortedLeadIn(
  colours: readonly number[],
  start: 0 | 1,
  target: readonly number[],
): number[][] {
  const order = [...colours];
  const goal = [...target];
  const orders = [[...order]];
  for (let row = 1; goal.some((place, at) => place !== at); row++) {
    for (let place = (start + row) & 1; place + 1 < goal.length; place += 2)
      if (goal[place]! > goal[place + 1]!) {
        [goal[place], goal[place + 1]] = [goal[place + 1]!, goal[place]!];
        [order[place], order[place + 1]] = [order[place + 1]!, order[place]!];
      }
    orders.unshift([...order]);
  }
  return orders;
}
