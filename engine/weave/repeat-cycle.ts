/** After how many repeats the band is where it began. */
import type { Pattern } from '../pattern/index.ts';
import { weave } from './weave.ts';

/** How many repeats until the band is where it began; both exact, 1 or more. */
export interface RepeatCycle {
  /** Repeats until every string hangs where it began: the order of the permutation of one repeat. */
  readonly strings: number;
  /** Repeats until the colours stand as they began, and the picture recurs; divides `strings`. */
  readonly colours: number;
}

/**
 * After how many repeats the strings, and the colours, stand as at the start.
 *
 * An odd number of rows: the next repeat begins at the same places as the first, as if one untied row followed, so the
 * permutation of a repeat is always that of its rows.
 *
 * Both figures are exact: no order of 200 strings recurs later than after 24,067,258,815,600 repeats (Landau's function,
 * OEIS A000793), which a double holds. Between, `bigint` is used, since a product may be larger than the multiple it gives.
 *
 * O(rows x strings). The order of a permutation is the least common multiple of its cycle lengths. For the colours: the
 * places of one cycle, in the order in which a string visits them, form a ring of colours; they stand as before after
 * each multiple of the ring's least period. Rules W4 to W6 in engine/RULES.md.
 */
export function repeatCycle(pattern: Pattern): RepeatCycle {
  return cycleOf(weave(pattern).finalOrder, pattern.colours);
}

/**
 * The same for a permutation already known.
 * @param finalOrder string that hangs at each place after one repeat; a permutation of 0 to N - 1
 * @param colours    colour of each string at the top; length N
 */
export function cycleOf(finalOrder: ArrayLike<number>, colours: readonly string[]): RepeatCycle {
  const size = finalOrder.length;
  const isSeen = new Uint8Array(size);
  let strings = 1n;
  let recurs = 1n;
  for (let first = 0; first < size; first++) {
    if (isSeen[first] === 1) continue;
    const ring: string[] = [];
    for (let place = first; isSeen[place] === 0; place = finalOrder[place]!) {
      isSeen[place] = 1;
      ring.push(colours[place]!);
    }
    strings = lcm(strings, BigInt(ring.length));
    recurs = lcm(recurs, BigInt(leastPeriod(ring)));
  }
  return { strings: Number(strings), colours: Number(recurs) };
}

/** Least p > 0 such that turning the ring by p leaves it as it is. O(n) by the border of the word (Knuth, Morris, Pratt 1977). */
export function leastPeriod(ring: readonly unknown[]): number {
  const border = new Int32Array(ring.length + 1);
  border[0] = -1;
  for (let end = 0, at = -1; end < ring.length; ) {
    while (at >= 0 && ring[end] !== ring[at]) at = border[at]!;
    end++;
    at++;
    border[end] = at;
  }
  const period = ring.length - border[ring.length]!;
  return ring.length % period === 0 ? period : ring.length;
}

function lcm(a: bigint, b: bigint): bigint {
  let [x, y] = [a, b];
  while (y !== 0n) [x, y] = [y, x % y];
  return (a / x) * b;
}
