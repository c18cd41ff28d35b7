/** Orders of colours, drawn by fast-check: numbers from 0 without gaps, in the order in which they first come. */
import fc from 'fast-check';

/** The same order with its colours numbered anew. */
export function numbered(order: readonly number[]): number[] {
  const known = [...new Set(order)];
  return order.map((colour) => known.indexOf(colour));
}

/** Up to 22 places, where `planMount` is checked against brute force and solvers. */
export const smallOrders = fc
  .integer({ min: 2, max: 7 })
  .chain((kinds) => fc.array(fc.nat(kinds - 1), { minLength: 4, maxLength: 22 }).map(numbered));

/** The same, each colour an even number of times. */
export const evenOrders = fc
  .integer({ min: 3, max: 7 })
  .chain((kinds) => fc.array(fc.nat(kinds - 1), { minLength: 4, maxLength: 11 }))
  .chain((half) => fc.shuffledSubarray([...half, ...half], { minLength: 2 * half.length }).map(numbered));
