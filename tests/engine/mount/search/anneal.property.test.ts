import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planMount } from '../../../../engine/index.ts';
import { Annealing } from '../../../../engine/mount/search/anneal.ts';
import { evenOrders, smallOrders } from '../../../support/colour-orders.ts';
import { countCrossings } from '../../../support/pairings.ts';

describe('annealing', () => {
  it('[M5] keeps one single for each colour of odd count, and counts its crossings right', () => {
    fc.assert(
      fc.property(fc.oneof(smallOrders, evenOrders), (colours) => {
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
        const found = annealing.cool(countCrossings(pairs), 3000, 0, () => {});
        expect(annealing.pairs.length).toBe(pairs.length);
        for (const [a, b] of annealing.pairs) expect(colours[a]).toBe(colours[b]);
        expect(countCrossings(annealing.pairs)).toBe(found);
        expect(found).toBeGreaterThanOrEqual(planMount(colours).crossings.length);
      }),
      { numRuns: 200 },
    );
  });
});
