/** Whether an order crosses, and how often a pairing does. */
import { countOdd } from './colour-numbers.ts';
import { pairNested } from './nested-pairing.ts';

/** O(folds^2). */
export function countCrossings(pairs: readonly (readonly [number, number])[]): number {
  let crossings = 0;
  for (const [a, b] of pairs) for (const [c, d] of pairs) if (a < c && c < b && b < d) crossings++;
  return crossings;
}

/**
 * Whether a plan with one single for each colour of odd count and no crossings exists.
 * O(n) where no colour of odd count comes in, or where the others alone cross already; else O(n^3).
 */
export function isNeatlyMountable(numbers: ArrayLike<number>): boolean {
  const counts = new Uint8Array(256);
  for (let place = 0; place < numbers.length; place++) counts[numbers[place]!]!++;
  // Folding equal neighbours of the colours of even count away, in any order, always leaves the same word.
  const open = new Uint8Array(numbers.length);
  let height = 0;
  let odd = 0;
  for (let place = 0; place < numbers.length; place++) {
    const colour = numbers[place]!;
    if (counts[colour]! % 2 === 1) odd++;
    else if (height > 0 && open[height - 1] === colour) height--;
    else open[height++] = colour;
  }
  if (height > 0 || odd === 0) return height === 0;
  return numbers.length - 2 * pairNested(numbers).length === countOdd(numbers);
}
