import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type MountPlan, planMount } from '../../../engine/index.ts';
import { crossingBound } from '../../../engine/mount/search/crossing-bound.ts';
import { allPairings, countCrossings } from '../../support/pairings.ts';

const colourRow = (size: number, kinds: number) =>
  fc.array(fc.integer({ min: 0, max: kinds - 1 }), { minLength: 1, maxLength: size });

function oddColours(colours: readonly unknown[]): number {
  return [...new Set(colours)].filter((c) => colours.filter((d) => d === c).length % 2 === 1).length;
}

/** The plan obeys every rule that does not speak of "fewest". */
function checkPlan(colours: readonly (string | number)[], plan: MountPlan): void {
  const places = [...plan.folds.flatMap(({ left, right }) => [left, right]), ...plan.singles].sort(
    (a, b) => a - b,
  );
  expect(places).toEqual(colours.map((_, place) => place));
  for (const { left, right, spread } of plan.folds) {
    expect(left).toBeLessThan(right);
    expect(colours[left]).toBe(colours[right]);
    expect(spread).toBe(right > left + 1);
  }
  expect(plan.folds.map(({ turn }) => turn).sort((a, b) => a - b)).toEqual(plan.folds.map((_, i) => i + 1));
  for (const outer of plan.folds)
    for (const inner of plan.folds)
      if (outer.left < inner.left && inner.right < outer.right) expect(outer.turn).toBeLessThan(inner.turn);
  expect(plan.crossings.length).toBe(countCrossings(plan.folds.map(({ left, right }) => [left, right])));
  for (const [i, j] of plan.crossings) expect(i).toBeLessThan(j);
  plan.faults.forEach(({ folds: [i, j], colour }, at) => {
    expect([i, j]).toEqual(plan.crossings[at]);
    const later = plan.folds[i]!.turn > plan.folds[j]!.turn ? plan.folds[i]! : plan.folds[j]!;
    expect(colour).toBe(String(colours[later.left]));
  });
  expect(plan.neat).toBe(plan.crossings.length === 0);
  expect(plan.lowerBound).toBeLessThanOrEqual(plan.crossings.length);
}

describe('planMount', () => {
  it('[M1] [M4] each place belongs to one fold or is single; folds join equal colours; turns go outside in', () => {
    fc.assert(
      fc.property(colourRow(40, 6), fc.constantFrom('forced', 'free'), (colours, singles) => {
        checkPlan(colours, planMount(colours, { singles: singles as 'forced' | 'free' }));
      }),
      { numRuns: 150 },
    );
  });

  it('[M2] free: no crossings, and as few singles as trying everything finds', () => {
    fc.assert(
      fc.property(colourRow(10, 4), (colours) => {
        const plan = planMount(colours, { singles: 'free' });
        expect(plan.crossings).toEqual([]);
        let most = 0;
        for (const pairs of allPairings(colours.length, (i, j) => colours[i] === colours[j], colours.length))
          if (countCrossings(pairs) === 0) most = Math.max(most, pairs.length);
        expect(plan.folds.length).toBe(most);
      }),
      { numRuns: 60 },
    );
  });

  it('[M3] forced: one single for each colour of odd count', () => {
    fc.assert(
      fc.property(colourRow(60, 8), (colours) => {
        expect(planMount(colours).singles.length).toBe(oddColours(colours));
      }),
      { numRuns: 60 },
    );
  });

  it('[M5] forced: as few crossings as trying everything finds', () => {
    let crossing = 0;
    fc.assert(
      fc.property(colourRow(11, 4), (colours) => {
        const plan = planMount(colours);
        let least = Number.POSITIVE_INFINITY;
        for (const pairs of allPairings(
          colours.length,
          (i, j) => colours[i] === colours[j],
          oddColours(colours),
        ))
          least = Math.min(least, countCrossings(pairs));
        expect(plan.crossings.length).toBe(least);
        expect(plan.exact).toBe(true);
        if (least > 0) crossing++;
      }),
      { numRuns: 120, seed: 7 },
    );
    expect(crossing).toBeGreaterThan(10);
  });

  it('[M5] up to 24 places the number of crossings is proven', () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 2, max: 12 })
          .chain((kinds) =>
            fc.array(fc.integer({ min: 0, max: kinds - 1 }), { minLength: 24, maxLength: 24 }),
          ),
        (colours) => {
          expect(planMount(colours).exact).toBe(true);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('[M9] names of colours do not matter, and a mirrored order costs the same', () => {
    fc.assert(
      fc.property(colourRow(30, 5), (colours) => {
        const plan = planMount(colours);
        expect(planMount(colours.map((c) => `colour ${c}`)).folds).toEqual(plan.folds);
        expect(planMount([...colours].reverse()).crossings.length).toBe(plan.crossings.length);
      }),
      { numRuns: 60 },
    );
  });

  it('[M9] the same order gives the same plan', () => {
    fc.assert(
      fc.property(
        colourRow(60, 6),
        fc.constantFrom<'forced' | 'free'>('forced', 'free'),
        (colours, singles) => {
          expect(planMount([...colours], { singles })).toEqual(planMount(colours, { singles }));
        },
      ),
      { numRuns: 20 },
    );
  });

  it('[M2] forced is neat exactly where free leaves no more singles than the odd counts force', () => {
    const outcome = { neat: 0, crossing: 0 };
    fc.assert(
      fc.property(colourRow(30, 9), (colours) => {
        const { neat } = planMount(colours);
        const free = planMount(colours, { singles: 'free' });
        expect(neat).toBe(free.singles.length === oddColours(colours));
        outcome[neat ? 'neat' : 'crossing']++;
      }),
      { numRuns: 200, seed: 9 },
    );
    expect(Math.min(outcome.neat, outcome.crossing)).toBeGreaterThan(10);
  });

  it('[M6] the bound never exceeds the fewest crossings, odd counts included, and often meets them', () => {
    let met = 0;
    fc.assert(
      fc.property(colourRow(16, 5), (colours) => {
        const numbers = colours.map((colour) => [...new Set(colours)].indexOf(colour));
        const fewest = planMount(colours).crossings.length;
        const bound = crossingBound(numbers);
        expect(bound).toBeLessThanOrEqual(fewest);
        if (fewest > 0 && bound === fewest) met++;
      }),
      { numRuns: 300, seed: 6 },
    );
    expect(met).toBeGreaterThan(30);
  });

  it('[M1] a mirrored order mounts from the outside in', () => {
    const half = Array.from({ length: 12 }, (_, i) => i);
    const plan = planMount([...half, ...half.toReversed()]);
    expect(plan.neat).toBe(true);
    expect(plan.folds).toEqual(half.map((i) => ({ left: i, right: 23 - i, turn: i + 1, spread: i < 11 })));
  });

  it('[M1] neighbours are folded together rather than nested', () => {
    expect(planMount(['a', 'a', 'a', 'a']).folds.map(({ left, right }) => [left, right])).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });

  it('[M1] empty, too long and odd input is refused by name', () => {
    expect(() => planMount([])).toThrow(/1 to 200 places, not 0/);
    expect(() => planMount(Array(201).fill('a'))).toThrow(/not 201/);
    expect(() => planMount(['a', null as unknown as string])).toThrow(/colours\[1\]/);
    expect(() => planMount('aabb' as unknown as string[])).toThrow(TypeError);
    expect(() => planMount(['a'], { singles: 'some' as 'free' })).toThrow(/"some"/);
  });

  it('[M10] planMount tells the share done, rising to 1', () => {
    const order = Array.from({ length: 120 }, (_, place) => (place * place + (place >> 2)) % 7);
    const shares: number[] = [];
    const plan = planMount(order, { onProgress: (share) => shares.push(share) });
    expect(plan.neat).toBe(false);
    expect(shares.length).toBeGreaterThan(5);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
  });
});
