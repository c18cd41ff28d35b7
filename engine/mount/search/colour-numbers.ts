/** The colours of an order as numbers, and what can be read off them at once. */

/** Colours numbered from 0 in the order in which they first come. */
export function numberColours(names: readonly (string | number)[]): number[] {
  const known = new Map<string | number, number>();
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
