/** The proofs that large plans are held against, themselves held against plans of up to 24 places, which are the fewest. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { crossingBound } from '../../engine/mount/search/crossing-bound.ts';
import { reduceWord } from '../../engine/mount/search/reduced-word.ts';
import { evenOrders, numbered, smallOrders } from '../support/colour-orders.ts';
import { countCrossings, type Pairing } from '../support/pairings.ts';
import { cancelSearch } from './mount-cancel-search.ts';
import { groupBound } from './mount-group-bound.ts';
import { foldInRow } from './mount-open-row.ts';
import { coloursOf } from './mount-orders.ts';

const pairsOf = (colours: readonly number[]): Pairing =>
  planMount(colours).folds.map(({ left, right }) => [left, right] as const);

describe('proofs of the fewest crossings', () => {
  it('[M5] words of open folds: exactly the fewest crossings, and a pairing that has them', () => {
    fc.assert(
      fc.property(fc.oneof(smallOrders, evenOrders), (colours) => {
        const { pairs: neighbours, places } = reduceWord(colours);
        const word = numbered(places.map((place) => colours[place]!));
        const fewest = planMount(colours).crossings.length;
        if (word.length === 0) {
          expect(fewest).toBe(0);
          return;
        }
        expect(cancelSearch(word, fewest - 1, 1e6)).toMatchObject({ pairs: null, complete: true });
        const found = cancelSearch(word, fewest + 2, 1e6).pairs!;
        expect(countCrossings(found)).toBe(fewest);
        const all = [...neighbours, ...found.map(([a, b]) => [places[a]!, places[b]!] as const)];
        expect(countCrossings(all)).toBe(fewest);
        expect(new Set(all.flat()).size).toBe(2 * all.length);
        for (const [a, b] of all) expect(colours[a]).toBe(colours[b]);
        expect(colours.length - 2 * all.length).toBe(planMount(colours).singles.length);
      }),
      { numRuns: 300 },
    );
  });

  it('[M5] a row of open folds finds the fewest crossings where none is dropped, and never less', () => {
    fc.assert(
      fc.property(fc.oneof(smallOrders, evenOrders), (colours) => {
        const fewest = planMount(colours).crossings.length;
        expect(foldInRow(colours, 5_000)).toBe(fewest);
        expect(foldInRow(colours, 3)).toBeGreaterThanOrEqual(fewest);
      }),
      { numRuns: 100 },
    );
  });

  it('[M5] groups of colours never prove more than the fewest crossings', () => {
    fc.assert(
      fc.property(fc.oneof(smallOrders, evenOrders), fc.constantFrom(100, 3000), (colours, room) => {
        const fewest = planMount(colours).crossings.length;
        expect(groupBound(colours, pairsOf(colours), room)).toBeLessThanOrEqual(fewest);
      }),
      { numRuns: 200 },
    );
  });

  it('[M5] groups of colours prove more than their pairs do', () => {
    const colours = coloursOf({ places: 80, kinds: 8, order: 'even', seed: 8008 });
    const bound = groupBound(colours, pairsOf(colours), 20_000);
    expect(bound).toBeGreaterThan(crossingBound(colours) + 5);
    expect(bound).toBeLessThanOrEqual(planMount(colours).crossings.length);
  });
});
