/** `planMount` at 26 to 60 places against proofs by another search where one is reached, else against annealing. The long run does far more. */
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { foldFromLeft } from '../../engine/mount/search/open-folds.ts';
import { isLong } from '../support/depth.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { anneal } from './mount-anneal.ts';

function shuffled(size: number, kinds: number, seed: number): number[] {
  const random = seededRandom(seed);
  const half = Array.from({ length: size >> 1 }, () => random.below(kinds));
  return random.shuffle([...half, ...half]);
}

describe('beyond 24 places', () => {
  it('[M5] as few crossings as another search proves, or as annealing finds, at 26 to 60 places', () => {
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
          const fewer = foldFromLeft(colours, { width: isLong ? 150_000 : 20_000, atMost: found - 1 });
          expect(fewer.pairs, order.join(' ')).toBeNull();
          if (fewer.complete) proven++;
          const annealed = anneal(colours, 1, isLong ? 1_000_000 : 40_000);
          expect(found, order.join(' ')).toBeLessThanOrEqual(annealed);
          expect(plan.lowerBound, order.join(' ')).toBeLessThanOrEqual(Math.min(found, annealed));
        }
    expect(proven).toBeGreaterThan(5);
  });
});
