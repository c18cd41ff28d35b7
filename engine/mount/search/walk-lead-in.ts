/** Few lead-in rows where not every order can be looked at: by walking among neat orders, begun at some from which few rows lead. */
import { Draws } from './draws.ts';
import { neatTargets } from './neat-targets.ts';
import { pairNested } from './nested-pairing.ts';
import { NeatWalk } from './neat-walk.ts';
import type { Tell } from './tell.ts';
import { untangle } from './untangle.ts';

/** How often the crossing folds are undone to begin with, and how many beginnings are kept. */
const UNTANGLED = 60;
const STARTS = 5;
/** Sums looked at before the best so far is given: a second at 60 strings, some at 200. */
const mostSumsFor = (strings: number): number => Math.min(70_000 * strings ** 2, 1.1e9);
/** Steps for each string of the first walks, which mostly gain a row each; then of the first that did not, and how much longer each next one is. */
const QUICK_STEPS = 400;
const FIRST_STEPS = 1_500;
const MOST_STEPS = 25_000;
const LONGER = 1.4;
/** Excess that a step may add, once in e times, at first; by turns. */
const WARM = [3, 1.5, 5];
/** Share of the rows that a walk wants to do without, by turns. */
const AIMS = [0.1, 0, 0.2, 0];

/**
 * A short lead-in, bettered until enough sums are looked at or one row is left.
 * @param colours colour number of each place of the order asked
 * @param pairs how it is folded, with few crossings
 * @param onBest told the first lead-in found, and each shorter one
 * @returns orders from the top of the lead-in down to the given one; the same for the same order, however fast the machine
 */
export function walkedLeadIn(
  colours: readonly number[],
  start: 0 | 1,
  pairs: readonly (readonly [number, number])[],
  tell: Tell,
  onBest: (orders: readonly (readonly number[])[]) => void,
): readonly (readonly number[])[] {
  const walk = new NeatWalk(colours, start, 1);
  const starts = startsOf(colours, start, pairs, walk);
  const [first] = starts;
  walk.stand(first!.top, pairNested(first!.top));
  let best = first!;
  let orders = sortedLeadIn(colours, start, walk.goals);
  onBest(orders);
  let steps = QUICK_STEPS;
  const mostSums = mostSumsFor(colours.length);
  for (let run = 0; best.rows > 1 && walk.sums < mostSums; ) {
    walk.want(best.rows - Math.max(1, Math.floor(best.rows * AIMS[run % AIMS.length]!)));
    walk.cool(steps * colours.length, WARM[run % WARM.length]!);
    tell(walk.sums / mostSums);
    const { rows } = walk;
    if (rows < best.rows) {
      best = { top: walk.kind.slice(), rows };
      orders = sortedLeadIn(colours, start, walk.goals);
      onBest(orders);
      continue;
    }
    steps = steps === QUICK_STEPS ? FIRST_STEPS : Math.min(MOST_STEPS, Math.ceil(steps * LONGER));
    run++;
    // By turns it goes on from where it is, from the best, and from another start.
    if (run % 3 === 0) continue;
    const { top } = run % 3 === 1 ? best : starts[run % starts.length]!;
    walk.stand(top, pairNested(top));
  }
  return orders;
}

interface Start {
  /** Colours of a neat order. */
  readonly top: ArrayLike<number>;
  readonly rows: number;
}

/** Neat orders to begin from, shortest lead-in first: near the given order, and near what is left when folds that cross are undone. */
function startsOf(
  colours: readonly number[],
  start: 0 | 1,
  pairs: readonly (readonly [number, number])[],
  walk: NeatWalk,
): readonly Start[] {
  const draws = new Draws(1);
  const starts: Start[] = [];
  const add = (order: readonly number[], folded: readonly (readonly [number, number])[]): void => {
    for (const target of neatTargets(folded, order)) {
      const top = new Uint8Array(order.length);
      target.forEach((to, place) => {
        top[to] = order[place]!;
      });
      walk.stand(top, []);
      starts.push({ top, rows: walk.rows });
    }
  };
  add(colours, pairs);
  for (let i = 0; i < UNTANGLED; i++) {
    const { order, pairs: folded } = untangle(colours.length, pairs, start, draws);
    add(
      order.map((place) => colours[place]!),
      folded,
    );
  }
  return starts.sort((a, b) => a.rows - b.rows).slice(0, STARTS);
}

/**
 * A lead-in to a given neat order by sorting with staggered rows, which n + 1 of them always do. No other exchanges do it in fewer.
 * @param target for each place the place its string has in the neat order; a permutation
 * @returns orders of colours from the top of the lead-in down to the given one.
 * Source: odd-even transposition sort; n rows suffice: Knuth, The Art of Computer Programming, vol. 3, 5.3.4.
 */
function sortedLeadIn(colours: readonly number[], start: 0 | 1, target: ArrayLike<number>): number[][] {
  const order = [...colours];
  const goal = Array.from(target);
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
