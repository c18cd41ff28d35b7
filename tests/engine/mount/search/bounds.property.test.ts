import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planAtOnce, planMount } from '../../../../engine/index.ts';
import { Annealing } from '../../../../engine/mount/search/anneal.ts';
import { cancelSearch } from '../../../../engine/mount/search/cancel-search.ts';
import { crossingBound } from '../../../../engine/mount/search/crossing-bound.ts';
import { groupBound } from '../../../../engine/mount/search/group-bound.ts';
import { reduceWord } from '../../../../engine/mount/search/reduced-word.ts';
import { coloursOf } from '../../../reference/mount-orders.ts';

type Pairs = readonly (readonly [number, number])[];

const numbered = (order: readonly number[]): number[] => {
  const known = [...new Set(order)];
  return order.map((colour) => known.indexOf(colour));
};

/** Up to 22 places, where `planMount` is checked against brute force and solvers. */
const small = fc
  .integer({ min: 2, max: 7 })
  .chain((kinds) => fc.array(fc.nat(kinds - 1), { minLength: 4, maxLength: 22 }).map(numbered));

const even = fc
  .integer({ min: 3, max: 7 })
  .chain((kinds) => fc.array(fc.nat(kinds - 1), { minLength: 4, maxLength: 11 }))
  .chain((half) => fc.shuffledSubarray([...half, ...half], { minLength: 2 * half.length }).map(numbered));

const pairsOf = (colours: readonly number[]): Pairs =>
  planMount(colours).folds.map(({ left, right }) => [left, right] as const);

const crossingsOf = (pairs: Pairs): number =>
  pairs.flatMap(([a, b]) => pairs.filter(([c, d]) => a < c && c < b && b < d)).length;

describe('bounds on crossings', () => {
  it('[M19] words of open folds: exactly the fewest crossings, and a pairing that has them', () => {
    fc.assert(
      fc.property(fc.oneof(small, even), (colours) => {
        const { pairs: neighbours, places } = reduceWord(colours);
        const word = numbered(places.map((place) => colours[place]!));
        const fewest = planMount(colours).crossings.length;
        if (word.length === 0) {
          expect(fewest).toBe(0);
          return;
        }
        expect(cancelSearch(word, fewest - 1, 1e6, () => {})).toMatchObject({ pairs: null, complete: true });
        const found = cancelSearch(word, fewest + 2, 1e6, () => {}).pairs!;
        expect(crossingsOf(found)).toBe(fewest);
        const all = [...neighbours, ...found.map(([a, b]) => [places[a]!, places[b]!] as const)];
        expect(crossingsOf(all)).toBe(fewest);
        expect(new Set(all.flat()).size).toBe(2 * all.length);
        for (const [a, b] of all) expect(colours[a]).toBe(colours[b]);
        expect(colours.length - 2 * all.length).toBe(planMount(colours).singles.length);
      }),
      { numRuns: 300 },
    );
  });

  it('[M19] groups of colours never prove more than the fewest crossings', () => {
    fc.assert(
      fc.property(fc.oneof(small, even), fc.constantFrom(100, 3000), (colours, room) => {
        const fewest = planMount(colours).crossings.length;
        expect(groupBound(colours, pairsOf(colours), room, () => {})).toBeLessThanOrEqual(fewest);
      }),
      { numRuns: 200 },
    );
  });

  it('[M19] groups of colours prove more than their pairs do', () => {
    const colours = coloursOf({ places: 80, kinds: 8, order: 'even', seed: 8008 });
    const bound = groupBound(colours, pairsOf(colours), 20_000, () => {});
    expect(bound).toBeGreaterThan(crossingBound(colours) + 5);
    expect(bound).toBeLessThanOrEqual(planMount(colours).crossings.length);
  });

  it('[M5] annealing keeps one single for each colour of odd count, and counts its crossings right', () => {
    fc.assert(
      fc.property(fc.oneof(small, even), (colours) => {
        const begin = new Map<number, number>();
        const pairs: [number, number][] = [];
        colours.forEach((colour, place) => {
          const left = begin.get(colour);
          if (left === undefined) begin.set(colour, place);
          else {
            pairs.push([left, place]);
            begin.delete(colour);
          }
        });
        const annealing = new Annealing(colours, pairs);
        const found = annealing.cool(crossingsOf(pairs), 3000, 0, () => {});
        expect(annealing.pairs.length).toBe(pairs.length);
        for (const [a, b] of annealing.pairs) expect(colours[a]).toBe(colours[b]);
        expect(crossingsOf(annealing.pairs)).toBe(found);
        expect(found).toBeGreaterThanOrEqual(planMount(colours).crossings.length);
      }),
      { numRuns: 200 },
    );
  });
});

describe('planAtOnce', () => {
  it('[M18] the plan of planMount, or none where a search is needed', () => {
    const order = fc
      .tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 34 }))
      .chain(([kinds, size]) => fc.array(fc.nat(kinds - 1), { minLength: size, maxLength: size }));
    fc.assert(
      fc.property(order, fc.constantFrom('forced' as const, 'free' as const), (colours, singles) => {
        const plan = planAtOnce(colours, { singles });
        const own = planMount(colours, { singles });
        if (colours.length <= 24 || own.neat) expect(plan).toEqual(own);
        else expect(plan).toBeNull();
      }),
      { numRuns: 150 },
    );
  });

  it('[M10] planMount tells the share done, rising to 1', () => {
    const order = Array.from({ length: 60 }, (_, place) => (place * place + (place >> 2)) % 7);
    const shares: number[] = [];
    const plan = planMount(order, { onProgress: (share) => shares.push(share) });
    expect(plan.neat).toBe(false);
    expect(shares.length).toBeGreaterThan(5);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
  });
});
