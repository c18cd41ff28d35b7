/** Neat orders near a given one: a folding is kept, and neighbouring ends of folds that cross change places, row by row. */

import type { Draws } from './draws.ts';

/**
 * The order reached so, as the place in the given order of the string at each place, and how it is folded. Nothing crosses then, but where
 * folds that cross nothing keep those that do from being neighbours.
 * @param pairs  how the given order is folded
 * @param start  place at which the pattern's first row begins
 * Each exchange undoes one crossing, so a row never exchanges ends of the same two folds twice; which of the two is drawn.
 * At most as many rows as places; O(places^2).
 */
export function untangle(
  places: number,
  pairs: readonly (readonly [number, number])[],
  start: 0 | 1,
  draws: Draws,
): { readonly order: readonly number[]; readonly pairs: readonly (readonly [number, number])[] } {
  const order = Array.from({ length: places }, (_, place) => place);
  const fold = new Int16Array(places).fill(-1);
  const left = Int16Array.from(pairs, ([place]) => place);
  const right = Int16Array.from(pairs, ([, place]) => place);
  pairs.forEach(([a, b], index) => {
    fold[a] = index;
    fold[b] = index;
  });
  /** Row in which the two folds last changed places; one number for both. */
  const changed = new Map<number, number>();
  let idle = 0;
  for (let row = 1; idle < 2 && row <= places; row++) {
    idle++;
    const parity = (start + row) & 1;
    const count = (places - parity) >> 1;
    const isBackwards = draws.below(2) === 1;
    for (let i = 0; i < count; i++) {
      const place = parity + 2 * (isBackwards ? count - 1 - i : i);
      const a = fold[place]!;
      const b = fold[place + 1]!;
      if (a < 0 || b < 0 || a === b || !doCross(a, b)) continue;
      const both = Math.min(a, b) * places + Math.max(a, b);
      // Where their other ends may change places in this row as well, it is drawn which do.
      if (changed.get(both) === row) continue;
      changed.set(both, row);
      idle = 0;
      exchange(place, a, b);
    }
  }
  return { order, pairs: Array.from(left, (place, index): [number, number] => [place, right[index]!]) };

  function doCross(a: number, b: number): boolean {
    const isFirst = left[a]! < left[b]!;
    const first = isFirst ? a : b;
    const second = isFirst ? b : a;
    return left[second]! < right[first]! && right[first]! < right[second]!;
  }

  function exchange(place: number, a: number, b: number): void {
    if (left[a] === place) left[a] = place + 1;
    else right[a] = place + 1;
    if (left[b] === place + 1) left[b] = place;
    else right[b] = place;
    fold[place] = b;
    fold[place + 1] = a;
    const string = order[place]!;
    order[place] = order[place + 1]!;
    order[place + 1] = string;
  }
}
