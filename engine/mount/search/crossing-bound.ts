/**
 * A lower bound on crossings from pairs of colours.
 *
 * Take two colours of even count and leave out all others. Two equal neighbours can be folded together without harm, so the
 * word shortens to `abab…`, 4c letters long. In the group made by two elements of order two each crossing of an a-fold with
 * a b-fold undoes one `abab`, so c crossings are needed. Folds of one colour need not cross each other, so the bounds of all
 * pairs of colours add up. A colour of odd count joins in with one of its places left out: whichever adds least in all.
 */

/**
 * No plan that leaves one single for each colour of odd count has fewer crossings.
 * @param colours colour number of each place, numbers from 0 without gaps
 * O(colours x places) without colours of odd count, else O(colours x places^2). Rule M6.
 */
export function crossingBound(colours: ArrayLike<number>): number {
  const places: number[][] = [];
  for (let place = 0; place < colours.length; place++) {
    while (places.length <= colours[place]!) places.push([]);
    places[colours[place]!]!.push(place);
  }
  const even = places.filter((list) => list.length % 2 === 0);
  let bound = 0;
  for (let a = 0; a < even.length; a++)
    for (let b = a + 1; b < even.length; b++) bound += reducedLength(even[a]!, even[b]!, -1) >> 2;
  for (const odd of places) {
    if (odd.length % 2 === 0) continue;
    let least = Number.POSITIVE_INFINITY;
    for (const single of odd) {
      let sum = 0;
      for (const other of even) sum += reducedLength(odd, other, single) >> 2;
      least = Math.min(least, sum);
    }
    bound += least;
  }
  return bound;
}

/** Length of the word of two colours after folding equal neighbours away, over and over; one place of `a` may be left out. */
function reducedLength(a: readonly number[], b: readonly number[], without: number): number {
  // What is left always alternates, so its length and its last letter are all there is to keep.
  let length = 0;
  let isLastA = false;
  for (let i = 0, j = 0; i < a.length || j < b.length; ) {
    const isA = j >= b.length || (i < a.length && a[i]! < b[j]!);
    if (isA && a[i++] === without) continue;
    if (!isA) j++;
    if (length > 0 && isLastA === isA) {
      length--;
      isLastA = !isA;
    } else {
      length++;
      isLastA = isA;
    }
  }
  return length;
}
