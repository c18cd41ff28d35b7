/** Parts of the searches by themselves, against plain models of them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leadIn, planMount } from '../../../../engine/index.ts';
import { CROSSING } from '../../../../engine/mount/search/mount-cost.ts';
import { neatTargets } from '../../../../engine/mount/search/neat-targets.ts';
import { Folding } from '../../../../engine/mount/search/refold.ts';
import { numbered, smallOrders } from '../../../support/colour-orders.ts';
import { allPairings, countCrossings, type Pairing } from '../../../support/pairings.ts';

/** The folds of the plan of an order. */
const foldsOf = (colours: readonly number[]): Pairing =>
  planMount(colours).folds.map(({ left, right }) => [left, right]);

/**
 * Rows of exchanges that bring every string to its place, by odd-even transposition: each second pair of neighbours, then the others
 * (Knuth, The Art of Computer Programming, vol. 3, 5.3.4). `start` is where the row below the last of them begins.
 */
function rowsToSort(places: readonly number[], start: 0 | 1): number {
  const at = [...places];
  let rows = 0;
  for (; at.some((goal, place) => goal !== place); rows++)
    for (let left = (start + rows + 1) & 1; left + 1 < at.length; left += 2)
      if (at[left]! > at[left + 1]!) [at[left], at[left + 1]] = [at[left + 1]!, at[left]!];
  return rows;
}

describe('neat orders near a given one', () => {
  it('[M13] mount neatly, hold every string once, and strings of one colour do not overtake each other', () => {
    const met = { singles: 0, crossed: 0 };
    fc.assert(
      fc.property(smallOrders, (colours) => {
        const { folds, singles, neat } = planMount(colours);
        if (singles.length > 0) met.singles++;
        if (!neat) met.crossed++;
        for (const target of neatTargets(
          folds.map(({ left, right }) => [left, right]),
          colours,
        )) {
          expect([...target].sort((a, b) => a - b)).toEqual(colours.map((_, place) => place));
          const order: number[] = [];
          target.forEach((to, place) => {
            order[to] = colours[place]!;
          });
          expect([order, planMount(order).neat]).toEqual([order, true]);
          for (let a = 0; a < colours.length; a++)
            for (let b = a + 1; b < colours.length; b++)
              if (colours[a] === colours[b]) expect(target[a]).toBeLessThan(target[b]!);
        }
      }),
      { numRuns: 200 },
    );
    expect(Math.min(met.singles, met.crossed)).toBeGreaterThan(20);
  });

  it('[M13] are the order itself where it mounts neatly, or where its folds hang side by side', () => {
    let neat = 0;
    fc.assert(
      fc.property(smallOrders, (colours) => {
        if (!planMount(colours).neat) return;
        neat++;
        const itself = colours.map((_, place) => place);
        expect(neatTargets(foldsOf(colours), colours).slice(0, 2)).toEqual([itself, itself]);
      }),
      { numRuns: 400 },
    );
    expect(neat).toBeGreaterThan(20);
    // Two folds, a single, a fold, a single.
    const beside = [0, 0, 1, 1, 2, 3, 3, 4];
    expect(neatTargets(foldsOf(beside), beside)[2]).toEqual([0, 1, 2, 3, 4, 5, 6, 7]);
  });

  it('[M13] a lead-in beyond 12 strings is no longer than sorting to the nearest of them', () => {
    // For the first only the nearest will do: sorting to another takes a row more, and no shorter way is found.
    const orders = [
      '0 1 2 3 0 4 5 4 6 0 7 8 4 9 5 0 4 7',
      '0 1 2 3 4 5 4 6 7 8 6 3 6 1 1 7 5 8 9 4 6 10 8',
      '0 1 1 1 2 3 4 5 6 7 8 9 0 7 5 3 10 11 12 7 4 4 8',
    ].map((text) => text.split(' ').map(Number));
    for (const colours of orders)
      for (const start of [0, 1] as const) {
        const sorted = neatTargets(foldsOf(colours), colours).map((target) => rowsToSort(target, start));
        expect(leadIn(colours, { start }).rows).toBeLessThanOrEqual(Math.min(...sorted));
      }
  });
});

describe('folding one colour anew', () => {
  /** What a pairing costs: its crossings before all, then how far its folds span. */
  const costOf = (pairs: Pairing): number =>
    countCrossings(pairs) * CROSSING + pairs.reduce((sum, [left, right]) => sum + right - left, 0);

  it('[M5] is as good as the best of all ways that the other colours leave, and says whether that is better', () => {
    const met = { better: 0, same: 0, odd: 0 };
    const orders = fc
      .integer({ min: 2, max: 4 })
      .chain((kinds) => fc.array(fc.nat(kinds - 1), { minLength: 6, maxLength: 11 }).map(numbered));
    fc.assert(
      fc.property(orders, fc.infiniteStream(fc.nat(1000)), (colours, chance) => {
        const of = (colour: number): number[] =>
          colours.flatMap((one, place) => (one === colour ? [place] : []));
        const anyPairs = (places: readonly number[]): [number, number][] => {
          const mixed = places
            .map((place) => [chance.next().value as number, place] as const)
            .sort((a, b) => a[0] - b[0]);
          const pairs: [number, number][] = [];
          for (let i = 0; i + 1 < mixed.length; i += 2)
            pairs.push([mixed[i]![1], mixed[i + 1]![1]].sort((a, b) => a - b) as [number, number]);
          return pairs;
        };
        const kinds = Math.max(...colours) + 1;
        const pairs = Array.from({ length: kinds }, (_, colour) => anyPairs(of(colour))).flat();
        for (let colour = 0; colour < kinds; colour++) {
          const places = of(colour);
          if (places.length < 3) continue;
          const others = pairs.filter(([left]) => colours[left] !== colour);
          const folding = new Folding(colours, pairs);
          const isBetter = folding.refold(colour);
          let least = Number.POSITIVE_INFINITY;
          for (const own of allPairings(places.length, () => true, places.length % 2)) {
            const whole = [...others, ...own.map(([a, b]): [number, number] => [places[a]!, places[b]!])];
            least = Math.min(least, costOf(whole));
          }
          expect(costOf(folding.pairs)).toBe(least);
          expect(isBetter).toBe(costOf(pairs) > least);
          expect(folding.pairs.filter(([left]) => colours[left] !== colour)).toEqual(
            others.toSorted(([a], [b]) => a - b),
          );
          met[isBetter ? 'better' : 'same']++;
          if (places.length % 2 === 1) met.odd++;
        }
      }),
      { numRuns: 150 },
    );
    expect(Math.min(met.better, met.same, met.odd)).toBeGreaterThan(20);
  });
});
