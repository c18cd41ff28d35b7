import { describe, expect, it } from 'vitest';
import { planMount } from '../../../../engine/index.ts';
import { Draws } from '../../../../engine/mount/search/draws.ts';
import { countCrossings } from '../../../../engine/mount/search/neat-order.ts';
import { untangle } from '../../../../engine/mount/search/untangle.ts';
import { seededRandom } from '../../../support/seeded-random.ts';
import { rowsFrom } from '../../../support/staggered-rows.ts';

describe('untangle', () => {
  it('[M42] exchanges undo a crossing each until no neighbouring ends cross, and folds stay what they were', () => {
    const outcome = { neat: 0, held: 0 };
    for (let seed = 1; seed <= 200; seed++) {
      const random = seededRandom(seed);
      const half = Array.from({ length: 3 + random.below(8) }, () => random.below(5));
      const colours = random.shuffle([...half, ...half]);
      const start = random.below(2) as 0 | 1;
      const folds = planMount(colours.map(String)).folds.map(({ left, right }) => [left, right] as const);
      const { order, pairs } = untangle(colours.length, folds, start, new Draws(seed));
      expect([...order].sort((a, b) => a - b)).toEqual(colours.map((_, place) => place));
      // The same folds, wherever their ends are now.
      const asFound = pairs.map(([left, right]) => [order[left]!, order[right]!].sort((a, b) => a - b));
      expect(asFound).toEqual(folds.map(([left, right]) => [left, right]));
      expect(rowsFrom(order, start)).toBeLessThanOrEqual(colours.length);
      const foldAt = new Map(pairs.flatMap((pair) => pair.map((place) => [place, pair] as const)));
      for (let place = 0; place + 1 < colours.length; place++) {
        const beside = [foldAt.get(place), foldAt.get(place + 1)];
        if (beside[0] !== undefined && beside[1] !== undefined && beside[0] !== beside[1])
          expect(countCrossings([beside[0], beside[1]]), `seed ${seed}`).toBe(0);
      }
      expect(countCrossings(pairs)).toBeLessThanOrEqual(countCrossings(folds));
      outcome[countCrossings(pairs) === 0 ? 'neat' : 'held']++;
    }
    expect(Math.min(outcome.neat, outcome.held)).toBeGreaterThan(10);
  });

  it('[M42] the same half twice takes hardly more rows than its crossings must', () => {
    const half = Array.from({ length: 30 }, (_, kind) => kind);
    const folds = half.map((kind) => [kind, kind + 30] as const);
    const { order, pairs } = untangle(60, folds, 0, new Draws(1));
    expect(countCrossings(pairs)).toBe(0);
    // 435 crossings, at most 30 exchanges a row.
    expect(rowsFrom(order, 0)).toBeGreaterThanOrEqual(15);
    expect(rowsFrom(order, 0)).toBeLessThanOrEqual(20);
  });
});
