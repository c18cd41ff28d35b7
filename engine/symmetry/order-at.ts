import type { Weave } from '../weave/index.ts';

/**
 * The strings, left to right, above row `boundary` of the endless band.
 * @param woven    one repeat of an even number of rows
 * @param boundary 0 or more; those of later repeats count on
 * O(strings), however many repeats stand above.
 */
export function orderAt(woven: Weave, boundary: number): Int16Array {
  const { rows, strings, orderFlat, finalOrder } = woven;
  const repeats = rows === 0 ? 0 : Math.floor(boundary / rows);
  const within = rows === 0 ? 0 : boundary % rows;
  const order = orderFlat.slice(within * strings, (within + 1) * strings);
  if (repeats === 0) return order;
  // String s of a later repeat is the one that hung at place s when the repeat before it ended: so many steps along its cycle.
  const later = new Int16Array(strings).fill(-1);
  for (let place = 0; place < strings; place++) {
    if (later[place] !== -1) continue;
    const cycle: number[] = [];
    for (let at = place; cycle.length === 0 || at !== place; at = finalOrder[at]!) cycle.push(at);
    cycle.forEach((at, i) => {
      later[at] = cycle[(i + repeats) % cycle.length]!;
    });
  }
  return order.map((string) => later[string]!);
}
