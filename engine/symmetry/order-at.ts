import type { Weave } from '../weave/index.ts';

/**
 * The strings, left to right, above row `boundary` of the endless band.
 * @param woven    one repeat of an even number of rows
 * @param boundary 0 or more; those of later repeats count on
 * O(strings x repeats above).
 */
export function orderAt(woven: Weave, boundary: number): Int16Array {
  const { rows, strings, orderFlat, finalOrder } = woven;
  const repeats = rows === 0 ? 0 : Math.floor(boundary / rows);
  const within = rows === 0 ? 0 : boundary % rows;
  let order = orderFlat.slice(within * strings, (within + 1) * strings);
  // String s of a later repeat is the one that hung at place s when the repeat before it ended.
  for (let repeat = 0; repeat < repeats; repeat++) order = order.map((string) => finalOrder[string]!);
  return order;
}
