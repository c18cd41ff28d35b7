/**
 * `planMount` at 80, 120 and 200 places against the best that long runs of others found, kept in mount-best-known.json with how they
 * were found. The long run prints the table kept in mount-large.md.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { planMount } from '../../engine/index.ts';
import { crossingBound } from '../../engine/mount/search/crossing-bound.ts';
import { isLong } from '../support/depth.ts';
import type { BestKnown } from './mount-best-known.ts';
import { coloursOf, LARGE_ORDERS } from './mount-orders.ts';
import { proveFewest } from './mount-proof.ts';

const bestKnown = JSON.parse(
  readFileSync(new URL('mount-best-known.json', import.meta.url), 'utf8'),
) as BestKnown[];

describe('80 to 200 places', () => {
  it('[M5] the orders of the best known plans are those in the table', () => {
    expect(bestKnown.map(({ places, kinds, order, seed }) => ({ places, kinds, order, seed }))).toEqual(
      LARGE_ORDERS,
    );
  });

  it.each(bestKnown)(
    '[M5] within 5 % of the best known, the fewest where that is proven, and the bound not above it: $places places, $kinds colours, $order',
    ({ annealed, longer, ...order }) => {
      const colours = coloursOf(order);
      const plan = planMount(colours);
      const best = Math.min(...annealed, longer);
      const found = plan.crossings.length;
      expect(found).toBeLessThanOrEqual(1.05 * best);
      const pairs = plan.folds.map(({ left, right }) => [left, right] as const);
      const { lowerBound, isFewest } = proveFewest(colours, pairs);
      expect(lowerBound).toBeLessThanOrEqual(Math.min(best, found));
      expect(lowerBound).toBeGreaterThanOrEqual(plan.lowerBound);
      expect(plan.lowerBound).toBeGreaterThanOrEqual(crossingBound(colours));
      if (isFewest) expect(found).toBe(lowerBound);
      // The table is the purpose of the long run.
      if (isLong)
        process.stdout.write(
          `| ${order.places} | ${order.kinds} | ${order.order} | ${plan.lowerBound} | ${lowerBound} | ${found} | ${best} | ${(100 * (found / best - 1)).toFixed(1)} % |\n`,
        );
    },
  );
});
