/** Pairings without crossings: the fewest singles, and among those the shortest spans. */

/** Weight of one single against the spans: more than all spans of 200 places together. */
const SINGLE = 100_000;

/**
 * Pairs places of one colour without crossings so that the fewest stay single; among those, the spans add up to the least.
 * @param colours colour number of each place, n of them
 * @param mayFold cost of folding places i and j into one string, or -1 when it may not be; default 0 for equal colours
 * @returns pairs `[left, right]`, not sorted
 * The recurrence of Nussinov, Pieczenik, Griggs and Kleitman (1978) for nested base pairs, with another cost.
 * O(n^3) time, O(n^2) memory. Rule M2.
 */
export function pairNested(
  colours: ArrayLike<number>,
  mayFold: (i: number, j: number) => number = (i, j) => (colours[i] === colours[j] ? 0 : -1),
): [number, number][] {
  const n = colours.length;
  const width = n + 1;
  // best[i * width + j]: least cost of the places i to j - 1; partner: who i folds with, -1 when it stays single.
  const best = new Float64Array((n + 2) * width);
  const partner = new Int16Array((n + 2) * width).fill(-1);
  for (let i = n - 1; i >= 0; i--) {
    const fold = new Float64Array(n);
    for (let k = i + 1; k < n; k++) fold[k] = mayFold(i, k);
    for (let end = i + 1; end <= n; end++) {
      let least = best[(i + 1) * width + end]! + SINGLE;
      let with_ = -1;
      for (let k = i + 1; k < end; k++) {
        const cost = fold[k]!;
        if (cost < 0) continue;
        const total =
          cost + (k - i) + best[(i + 1) * width + k]! + (k + 1 < end ? best[(k + 1) * width + end]! : 0);
        if (total < least) {
          least = total;
          with_ = k;
        }
      }
      best[i * width + end] = least;
      partner[i * width + end] = with_;
    }
  }
  const pairs: [number, number][] = [];
  const open: [number, number][] = [[0, n]];
  for (let part = open.pop(); part !== undefined; part = open.pop()) {
    const [from, end] = part;
    if (from >= end) continue;
    const k = partner[from * width + end]!;
    if (k < 0) {
      open.push([from + 1, end]);
      continue;
    }
    pairs.push([from, k]);
    open.push([from + 1, k], [k + 1, end]);
  }
  return pairs;
}
