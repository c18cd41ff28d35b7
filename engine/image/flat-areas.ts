/**
 * Flat areas: what each knot differs from its thread, and what neighbours differ from each other, least in all (a Potts energy).
 *
 * Every knot takes the thread that is best beside its neighbours as they are, again and again, until none changes: J. Besag, "On the
 * statistical analysis of dirty pictures", J. R. Stat. Soc. B 48 (1986) 259-302. That ends where it began near, so it begins twice: from
 * each knot alone, and from what each knot and its neighbours take together; the better end counts.
 */
import { rowParity } from '../pattern/index.ts';
import { OPEN } from '../wish/index.ts';

/** For each knot its difference from each colour of the palette; null for one of which nothing is known. */
type Differences = readonly (readonly (Float64Array | null)[])[];

/** After so many rounds it is taken as it is. */
const MOST_ROUNDS = 30;

/**
 * The thread of each knot.
 * @param threads indices into the palette, one at least
 * @param flat what each pair of knots that share an edge and differ counts
 * @returns rows of indices, open where nothing is known. O(knots x threads) a round. Rule J83.
 */
export function flattened(
  apart: Differences,
  threads: readonly number[],
  { start, flat }: { readonly start: 0 | 1; readonly flat: number },
): readonly (readonly number[])[] {
  const alone = startFrom(apart, threads, (own) => (thread) => own[thread]!);
  if (flat === 0) return alone;
  const together = startFrom(apart, threads, (own, r, k) => {
    const near = neighboursOf(start, r, k).flatMap(([row, at]) => apart[row]?.[at] ?? []);
    return (thread) => own[thread]! + near.reduce((sum, one) => sum + one[thread]! / 2, 0);
  });
  const ends = [alone, together].map((rows) => settle(rows, apart, threads, { start, flat }));
  return ends[1]!.energy < ends[0]!.energy ? ends[1]!.rows : ends[0]!.rows;
}

/** Knots of the rows above and below that share an edge with this one, as row and index; some may not be there. */
function neighboursOf(start: 0 | 1, r: number, k: number): readonly (readonly [number, number])[] {
  const left = k - (rowParity(start, r) === 0 ? 1 : 0);
  return [
    [r - 1, left],
    [r - 1, left + 1],
    [r + 1, left],
    [r + 1, left + 1],
  ];
}

function startFrom(
  apart: Differences,
  threads: readonly number[],
  costsOf: (own: Float64Array, r: number, k: number) => (thread: number) => number,
): number[][] {
  return apart.map((row, r) =>
    row.map((own, k) => (own === null ? OPEN : cheapest(threads, threads[0]!, costsOf(own, r, k)))),
  );
}

/** The thread that costs least: `now` if none costs less, else the first of equals. */
function cheapest(threads: readonly number[], now: number, costOf: (thread: number) => number): number {
  let best = now;
  let least = costOf(now);
  for (const thread of threads) {
    const cost = costOf(thread);
    if (cost < least) [best, least] = [thread, cost];
  }
  return best;
}

/** Changes `rows` until no knot gains by another thread. */
function settle(
  rows: number[][],
  apart: Differences,
  threads: readonly number[],
  { start, flat }: { readonly start: 0 | 1; readonly flat: number },
): { readonly rows: number[][]; readonly energy: number } {
  const unlike = (r: number, k: number, thread: number): number =>
    neighboursOf(start, r, k).filter(([row, at]) => {
      const one = rows[row]?.[at] ?? OPEN;
      return one !== OPEN && one !== thread;
    }).length;
  for (let round = 0, changes = 1; round < MOST_ROUNDS && changes > 0; round++) {
    changes = 0;
    rows.forEach((row, r) => {
      row.forEach((now, k) => {
        const own = apart[r]![k] ?? null;
        if (own === null) return;
        const best = cheapest(threads, now, (thread) => own[thread]! + flat * unlike(r, k, thread));
        if (best === now) return;
        row[k] = best;
        changes += 1;
      });
    });
  }
  let energy = 0;
  rows.forEach((row, r) => {
    row.forEach((thread, k) => {
      const own = apart[r]![k] ?? null;
      // Each pair is met from both sides.
      if (own !== null) energy += own[thread]! + (flat / 2) * unlike(r, k, thread);
    });
  });
  return { rows, energy };
}
