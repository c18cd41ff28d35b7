/** Which threads show an image best. */

/** So many sets of threads are all tried; of more the best is approached. Own choice. */
const MOST_SETS = 3000;

/**
 * At most so many of the palette, so that the knots differ least, in all, from the nearest of them. All sets are compared where they are few;
 * else one thread comes after the other, each time the one that helps most, and then one is exchanged for another as long as that helps. What
 * no knot takes is left out.
 * @param apart for each knot its difference from each colour of the palette
 * @param palette number of its colours, 1 or more
 * @param most 1 or more
 * @returns indices into the palette, ascending; at least one. Same input, same threads.
 * O(knots x sets x threads). Rule J82.
 */
export function chooseThreads(
  apart: readonly Float64Array[],
  palette: number,
  most: number,
): readonly number[] {
  const count = Math.min(most, palette);
  const worthOf = (set: readonly number[]): number =>
    apart.reduce((sum, row) => sum + row[nearestOf(row, set)]!, 0);
  const chosen =
    setsOf(palette, count) <= MOST_SETS
      ? bestOf(allSets(palette, count), worthOf).set
      : approach(palette, count, worthOf);
  const taken = new Set(apart.map((row) => nearestOf(row, chosen)));
  const kept = chosen.filter((index) => taken.has(index));
  return kept.length === 0 ? chosen.slice(0, 1) : kept;
}

type WorthOf = (set: readonly number[]) => number;

interface Choice {
  readonly set: readonly number[];
  readonly worth: number;
}

/** The set that is worth least, the first of equals. */
function bestOf(sets: Iterable<readonly number[]>, worthOf: WorthOf): Choice {
  let best: Choice = { set: [], worth: Infinity };
  for (const set of sets) {
    const worth = worthOf(set);
    if (worth < best.worth || best.set.length === 0) best = { set, worth };
  }
  return best;
}

function setsOf(palette: number, count: number): number {
  let sets = 1;
  for (let i = 0; i < count; i++) sets = (sets * (palette - i)) / (i + 1);
  return sets;
}

function* allSets(palette: number, count: number, from = 0): Generator<readonly number[]> {
  if (count === 0) {
    yield [];
    return;
  }
  for (let first = from; first <= palette - count; first++)
    for (const rest of allSets(palette, count - 1, first + 1)) yield [first, ...rest];
}

function approach(palette: number, count: number, worthOf: WorthOf): readonly number[] {
  const all = Array.from({ length: palette }, (_, index) => index);
  const withoutAny = (set: readonly number[]): number[] => all.filter((index) => !set.includes(index));
  let now: Choice = { set: [], worth: Infinity };
  while (now.set.length < count) {
    const { set } = now;
    now = bestOf(
      withoutAny(set).map((index) => [...set, index]),
      worthOf,
    );
  }
  for (;;) {
    const { set } = now;
    const better = bestOf(
      withoutAny(set).flatMap((index) => set.map((_, at) => set.map((one, i) => (i === at ? index : one)))),
      worthOf,
    );
    if (better.worth >= now.worth) return [...set].sort((a, b) => a - b);
    now = better;
  }
}

/** The nearest of these threads, the first of equals. */
function nearestOf(row: Float64Array, threads: readonly number[]): number {
  return threads.reduce((best, index) => (row[index]! < row[best]! ? index : best), threads[0]!);
}
