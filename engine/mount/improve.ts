/** Improves a pairing with crossings: one colour at a time is folded anew, the others as they are. */
import { pairNested } from './nested-pairing.ts';

const CROSSING = 100_000;

/**
 * Folds each colour anew in the best way that the other colours leave, until no colour gains.
 * With the others fixed, a fold costs the others it crosses, whatever its own colour does, and folds of one colour need not
 * cross: so each step is a nested pairing with costs, exact. O(rounds x (m^3 + m^2 n)) for m places of a colour.
 */
export function improve(colours: readonly number[], pairs: readonly [number, number][]): [number, number][] {
  const kinds = [...new Set(colours)];
  const placesOf = kinds.map((kind) => colours.flatMap((colour, place) => (colour === kind ? [place] : [])));
  let current = [...pairs] as [number, number][];
  for (let isBetter = true; isBetter; ) {
    isBetter = false;
    for (let c = 0; c < kinds.length; c++) {
      const kind = kinds[c]!;
      const own = current.filter(([left]) => colours[left] === kind);
      const others = current.filter(([left]) => colours[left] !== kind);
      if (own.length === 0) continue;
      const places = placesOf[c]!;
      const cost = crossingCosts(places, others, colours.length);
      const isOdd = places.length % 2 === 1;
      const folded = pairNested(
        new Uint8Array(places.length),
        (i, j) => cost(i, j) * CROSSING + (places[j]! - places[i]!) - (j - i),
        isOdd ? 1e10 : 1e12,
      ).map(([i, j]): [number, number] => [places[i]!, places[j]!]);
      if (total(folded, others) < total(own, others)) {
        current = [...others, ...folded];
        isBetter = true;
      }
    }
  }
  return current;
}

/** How many of the other folds a fold between two of the places would cross. */
function crossingCosts(
  places: readonly number[],
  others: readonly [number, number][],
  size: number,
): (i: number, j: number) => number {
  const partner = new Int16Array(size).fill(-1);
  for (const [left, right] of others) {
    partner[left] = right;
    partner[right] = left;
  }
  const m = places.length;
  const costs = new Int32Array(m * m);
  for (let i = 0; i < m; i++) {
    const from = places[i]!;
    let crossing = 0;
    for (let j = i + 1, at = from + 1; j < m; j++) {
      for (; at < places[j]!; at++) {
        const other = partner[at]!;
        if (other < 0) continue;
        // A fold whose first end was already inside is enclosed; any other end inside crosses.
        crossing += other > from && other < at ? -1 : 1;
      }
      costs[i * m + j] = crossing;
    }
  }
  return (i, j) => costs[i * m + j]!;
}

function total(own: readonly [number, number][], others: readonly [number, number][]): number {
  let sum = 0;
  for (const [l, r] of own) {
    sum += r - l;
    for (const [a, b] of others) if ((a < l && l < b && b < r) || (l < a && a < r && r < b)) sum += CROSSING;
  }
  return sum;
}
