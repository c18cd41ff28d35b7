/**
 * An order as a word: two equal neighbours can be folded together without harm, over and over.
 *
 * Whatever folds cross, folding neighbours i and i + 1 together and their two partners with each other adds no crossing: nothing
 * ends between the neighbours, so what separates the partners separated a neighbour from its partner before. So an order has as
 * few crossings as what is left of it.
 */
export interface ReducedWord {
  /** Pairs folded away. */
  readonly pairs: readonly [number, number][];
  /** Places left, rising; no two neighbours among them are of one colour. */
  readonly places: readonly number[];
}

/** O(places). */
export function reduceWord(colours: ArrayLike<number>): ReducedWord {
  const pairs: [number, number][] = [];
  const places: number[] = [];
  for (let place = 0; place < colours.length; place++) {
    const last = places.at(-1);
    if (last !== undefined && colours[last] === colours[place]) {
      places.pop();
      pairs.push([last, place]);
    } else places.push(place);
  }
  return { pairs, places };
}
