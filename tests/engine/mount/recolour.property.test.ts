import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planMount, type Recolouring, recolour } from '../../../engine/index.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const orders = (max: number, kinds: number) =>
  fc.array(
    fc.integer({ min: 0, max: kinds - 1 }).map((kind) => `c${kind}`),
    { minLength: 1, maxLength: max },
  );

/** Fewest changes to a neat order, by trying every order of these colours with ever more changes. */
function changesByTrying(colours: readonly string[], isAllowed: (singles: number) => boolean): number {
  const kinds = [...new Set(colours)];
  const isReached = (order: string[], from: number, changes: number): boolean => {
    if (changes === 0) {
      const plan = planMount(order);
      return plan.neat && isAllowed(plan.singles.length);
    }
    for (let place = from; place <= order.length - changes; place++)
      for (const kind of kinds) {
        if (kind === colours[place]) continue;
        const next = [...order];
        next[place] = kind;
        if (isReached(next, place + 1, changes - 1)) return true;
      }
    return false;
  };
  for (let changes = 0; ; changes++) if (isReached([...colours], 0, changes)) return changes;
}

function checkRecolouring(colours: readonly string[], found: Recolouring): void {
  expect(found.plan.neat).toBe(true);
  expect(found.plan.folds).toEqual(planMount(found.colours).folds);
  const changed = colours.map(
    (colour, place) => found.changes.find((c) => c.place === place)?.colour ?? colour,
  );
  expect(found.colours).toEqual(changed);
  for (const { place, colour } of found.changes) expect(colour).not.toBe(colours[place]);
  expect(found.lowerBound).toBeLessThanOrEqual(found.changes.length);
}

describe('recolour', () => {
  it('[M14] changes as few places as trying everything finds', () => {
    const seen = new Set<number>();
    fc.assert(
      fc.property(orders(8, 4), (colours) => {
        const found = recolour(colours);
        checkRecolouring(colours, found);
        expect(found.exact).toBe(true);
        expect(found.changes.length).toBe(changesByTrying(colours, () => true));
        seen.add(found.changes.length);
      }),
      { numRuns: 150, seed: 4 },
    );
    expect(seen.size).toBeGreaterThan(1);
  });

  it('[M14] without further singles, as few as trying everything finds', () => {
    const seen = new Set<number>();
    fc.assert(
      fc.property(orders(8, 4), (colours) => {
        const found = recolour(colours, { singles: 'kept' });
        checkRecolouring(colours, found);
        const singles = planMount(colours).singles.length;
        expect(found.plan.singles.length).toBeLessThanOrEqual(singles);
        expect(found.exact).toBe(true);
        expect(found.changes.length).toBe(changesByTrying(colours, (count) => count <= singles));
        seen.add(found.changes.length);
      }),
      { numRuns: 150, seed: 4 },
    );
    expect(seen.size).toBeGreaterThan(2);
  });

  it('[M14] two colours by turns: one change makes two singles, two changes none', () => {
    // Recomputed by trying everything; no published table.
    expect(recolour([...'abab']).changes.length).toBe(1);
    expect(recolour([...'abab'], { singles: 'kept' }).changes.length).toBe(2);
    expect(recolour([...'abba'])).toMatchObject({ changes: [], exact: true, lowerBound: 0 });
  });

  it('[M14] 24 places: the number of changes is proven', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 5 }), { minLength: 12, maxLength: 12 }),
        fc.constantFrom<'forced' | 'kept'>('forced', 'kept'),
        (half, singles) => {
          const colours = [...half, ...half].map((kind) => `c${kind}`);
          const found = recolour(colours, { singles });
          checkRecolouring(colours, found);
          expect(found.exact).toBe(true);
        },
      ),
      { numRuns: 30 },
    );
  });

  // The search takes no time into account, so what is proven here is proven everywhere.
  it.each([
    [60, 3],
    [60, 5],
    [60, 8],
    [100, 4],
  ])(
    '[M14] %i places of %i colours: proven under both rules, and no dearer than keeping the singles',
    (places, kinds) => {
      const random = seededRandom(places * 10 + kinds);
      for (let run = 0; run < 3; run++) {
        const colours = Array.from({ length: places }, () => `c${random.below(kinds)}`);
        const any = recolour(colours);
        const kept = recolour(colours, { singles: 'kept' });
        for (const found of [any, kept]) {
          checkRecolouring(colours, found);
          expect(found.exact).toBe(true);
        }
        expect(any.changes.length).toBeLessThanOrEqual(kept.changes.length);
        expect(kept.plan.singles.length).toBeLessThanOrEqual(planMount(colours).singles.length);
      }
    },
  );

  it('[M20] tells ever better answers and ends at the proof; with few steps the best so far, beside its bound', () => {
    const random = seededRandom(7);
    let unproven = 0;
    for (let run = 0; run < 6; run++) {
      const colours = Array.from({ length: 70 }, () => `c${random.below(7)}`);
      const told: Recolouring[] = [];
      const found = recolour(colours, { onBest: (best) => told.push(best) });
      expect(found.exact).toBe(true);
      expect(told.length).toBeGreaterThan(0);
      told.forEach((best, at) => {
        checkRecolouring(colours, best);
        expect(best.changes.length).toBeGreaterThanOrEqual(found.changes.length);
        expect(best.lowerBound).toBeLessThanOrEqual(found.changes.length);
        const before = told[at - 1];
        if (before !== undefined)
          expect(best.changes.length - best.lowerBound).toBeLessThan(
            before.changes.length - before.lowerBound,
          );
      });
      const short = recolour(colours, { mostSteps: 1 });
      checkRecolouring(colours, short);
      expect(short.lowerBound).toBeLessThanOrEqual(found.changes.length);
      expect(short.changes.length).toBeGreaterThanOrEqual(found.changes.length);
      if (!short.exact) unproven++;
    }
    expect(unproven).toBeGreaterThan(0);
  });

  it('[M14] the bound stays below what any recolouring of 12 places changes', () => {
    // Every order of so few colours is tried, so a bound that took one place too many would be found out.
    const random = seededRandom(5);
    for (let run = 0; run < 25; run++) {
      const colours = Array.from({ length: 12 }, () => `c${random.below(3 + (run % 3))}`);
      const found = recolour(colours);
      expect(found.exact).toBe(true);
      expect(found.changes.length).toBe(changesByTrying(colours, () => true));
    }
  });

  it('[M14] colours of the palette help where singles need colours of their own', () => {
    const colours = [...'abacbdc'].concat([...'dbc']);
    expect(() => recolour(colours, { singles: 'free' as 'kept' })).toThrow(/"free"/);
    const own = recolour(colours);
    const wider = recolour(colours, { palette: ['x', 'y'] });
    checkRecolouring(colours, wider);
    expect(wider.changes.length).toBeLessThanOrEqual(own.changes.length);
  });

  it('[M10] tells its progress', () => {
    const shares: number[] = [];
    recolour([...'abcabc'], { onProgress: (share) => shares.push(share) });
    expect(shares.at(-1)).toBe(1);
  });
});
