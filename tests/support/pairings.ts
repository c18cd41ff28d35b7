/** Plain models of pairings, for checking plans: slow, obvious, and used by tests alone. */

export type Pairing = readonly (readonly [number, number])[];

/** Number of pairs that cross. */
export function countCrossings(pairs: Pairing): number {
  let crossings = 0;
  for (const [a, b] of pairs) for (const [c, d] of pairs) if (a < c && c < b && b < d) crossings++;
  return crossings;
}

/** Number of pairs of which one encloses the other. */
export function countNestings(pairs: Pairing): number {
  let nestings = 0;
  for (const [a, b] of pairs) for (const [c, d] of pairs) if (a < c && d < b) nestings++;
  return nestings;
}

/** Every way to pair places that `mayPair`, leaving at most `singles` out, each once. */
export function* allPairings(
  size: number,
  mayPair: (i: number, j: number) => boolean,
  singles: number,
  used: readonly number[] = [],
): Generator<Pairing> {
  let first = 0;
  while (used.includes(first)) first++;
  if (first >= size) {
    yield [];
    return;
  }
  for (let j = first + 1; j < size; j++) {
    if (used.includes(j) || !mayPair(first, j)) continue;
    for (const rest of allPairings(size, mayPair, singles, [...used, first, j])) yield [[first, j], ...rest];
  }
  if (singles > 0) yield* allPairings(size, mayPair, singles - 1, [...used, first]);
}
