/**
 * A lower bound on crossings from pairs of colours.
 *
 * Take two colours that both have an even number of places and leave out all others. Two equal neighbours can be folded
 * together without harm, so the word shortens to `abab…` of length 4c or 4c + … ; in the group made by two elements of order
 * two, each crossing of an a-fold with a b-fold undoes one `abab`, so `(ab)^k` needs k/2 crossings. Folds of one colour need
 * not cross each other, so the bounds of all pairs of colours add up. With a single of either colour to place freely the
 * word can always be undone, and the pair adds nothing.
 */

/**
 * No plan that leaves one single for each colour of odd count has fewer crossings.
 * @param colours colour number of each place, numbers from 0
 * O(colours x places). Rule M6.
 */
export function crossingBound(colours: ArrayLike<number>): number {
  const places = new Map<number, number[]>();
  for (let place = 0; place < colours.length; place++) {
    const list = places.get(colours[place]!);
    if (list) list.push(place);
    else places.set(colours[place]!, [place]);
  }
  const even = [...places.values()].filter((list) => list.length % 2 === 0);
  let bound = 0;
  for (let a = 0; a < even.length; a++)
    for (let b = a + 1; b < even.length; b++) bound += reducedLength(even[a]!, even[b]!) >> 2;
  return bound;
}

/** Length of the word of two colours after folding equal neighbours away, over and over. */
function reducedLength(a: readonly number[], b: readonly number[]): number {
  const stack: number[] = [];
  for (let i = 0, j = 0; i < a.length || j < b.length; ) {
    const isA = j >= b.length || (i < a.length && a[i]! < b[j]!);
    if (isA) i++;
    else j++;
    const letter = isA ? 0 : 1;
    if (stack[stack.length - 1] === letter) stack.pop();
    else stack.push(letter);
  }
  return stack.length;
}
