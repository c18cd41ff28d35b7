/** `planMount` at 26 to 60 places against proofs by another search where one is reached, else against annealing and a row of open folds. The long run does far more. */
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { isLong } from '../support/depth.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { anneal } from './mount-anneal.ts';
import { foldInRow } from './mount-open-row.ts';
import { proveFewest } from './mount-proof.ts';

function shuffled(size: number, kinds: number, seed: number): number[] {
  const random = seededRandom(seed);
  const half = Array.from({ length: size >> 1 }, () => random.below(kinds));
  return random.shuffle([...half, ...half]);
}

describe('beyond 24 places', () => {
  it('[M5] as few crossings as another search proves, or as annealing or a row of open folds finds, at 26 to 60 places', () => {
    let proven = 0;
    for (const size of isLong ? [26, 36, 48, 60] : [26, 40, 60])
      for (const kinds of [3, 4, 10, 20])
        for (let run = 0; run < (isLong ? 5 : 1); run++) {
          const order = shuffled(size, kinds, size * 100 + kinds + run);
          const known = [...new Set(order)];
          const colours = order.map((colour) => known.indexOf(colour));
          const plan = planMount(colours);
          const found = plan.crossings.length;
          if (plan.neat) continue;
          const pairs = plan.folds.map(({ left, right }) => [left, right] as const);
          const { lowerBound, isFewest } = proveFewest(colours, pairs, isLong ? 1_000_000 : 30_000);
          if (isFewest) expect(found, order.join(' ')).toBe(lowerBound);
          if (isFewest) proven++;
          expect(lowerBound, order.join(' ')).toBeLessThanOrEqual(found);
          expect(plan.lowerBound, order.join(' ')).toBeLessThanOrEqual(lowerBound);
          const annealed = anneal(colours, 1, isLong ? 1_000_000 : 40_000);
          expect(found, order.join(' ')).toBeLessThanOrEqual(annealed);
          expect(lowerBound, order.join(' ')).toBeLessThanOrEqual(annealed);
          const inRow = foldInRow(colours, isLong ? 8_000 : 1_000);
          expect(found, order.join(' ')).toBeLessThanOrEqual(inRow);
          expect(lowerBound, order.join(' ')).toBeLessThanOrEqual(inRow);
        }
    expect(proven).toBeGreaterThan(5);
  });
});
