import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planAtOnce, planMount } from '../../../engine/index.ts';

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
});
