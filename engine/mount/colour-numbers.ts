/** The colours of an order as numbers, and what can be read off them at once. */
import { MAX_STRINGS } from '../pattern/index.ts';

/** Colours numbered from 0 in the order in which they first come. */
export function numberColours(names: readonly string[]): number[] {
  const known = new Map<string, number>();
  return names.map((name) => {
    const number = known.get(name) ?? known.size;
    known.set(name, number);
    return number;
  });
}

/** How many colours come an odd number of times. */
export function countOdd(numbers: ArrayLike<number>): number {
  const isOdd = new Uint8Array(256);
  let odd = 0;
  for (let place = 0; place < numbers.length; place++) {
    isOdd[numbers[place]!]! ^= 1;
    odd += isOdd[numbers[place]!] === 1 ? 1 : -1;
  }
  return odd;
}

/** The ids as text. @throws as {@link planMount} says. */
export function readColours(colours: readonly (string | number)[]): string[] {
  if (!Array.isArray(colours)) throw new TypeError(`colours must be a list, not ${typeof colours}`);
  if (colours.length < 1 || colours.length > MAX_STRINGS)
    throw new RangeError(`colours must have 1 to ${MAX_STRINGS} places, not ${colours.length}`);
  return colours.map((colour, place) => {
    if (typeof colour !== 'string' && typeof colour !== 'number')
      throw new TypeError(`colours[${place}] must be text or a number, not ${String(colour)}`);
    return String(colour);
  });
}
