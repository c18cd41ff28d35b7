import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Fold,
  type MountPlan,
  mountFrom,
  planAtOnce,
  planBoard,
  planMount,
} from '../../../engine/index.ts';
import { crossingBound } from '../../../engine/mount/search/crossing-bound.ts';
import { allPairings, countCrossings } from '../../support/pairings.ts';

const colourRow = (size: number, kinds: number) =>
  fc.array(fc.integer({ min: 0, max: kinds - 1 }), { minLength: 1, maxLength: size });

function oddColours(colours: readonly unknown[]): number {
  return [...new Set(colours)].filter((c) => colours.filter((d) => d === c).length % 2 === 1).length;
}

/** An order of colours of two places each that do not cross: true opens one, false closes the one opened last. */
function nestedOrder(steps: readonly boolean[]): number[] {
  const order: number[] = [];
  const open: number[] = [];
  let colours = 0;
  for (const opens of steps) {
    if (opens) open.push(colours++);
    const colour = opens ? open.at(-1) : open.pop();
    if (colour !== undefined) order.push(colour);
  }
  return [...order, ...open.reverse()];
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

  const turnsOf = (order: string, firstHalf: 'left' | 'right' = 'left'): string =>
    [...planMount([...order], { firstHalf }).folds]
      .sort((a, b) => a.turn - b.turn)
      .map(({ left }) => order[left])
      .join('');

  it('[M4] finishes one nest before the next', () => {
    expect(turnsOf('abbacddc')).toBe('abcd');
    expect(turnsOf('abccbdda')).toBe('abcd');
    expect(turnsOf('aabccb')).toBe('abc');
    let nests = 0;
    const nested = fc
      .array(fc.boolean(), { minLength: 4, maxLength: 40 })
      .map((steps) => nestedOrder([true, ...steps]));
    fc.assert(
      fc.property(nested, fc.constantFrom<'left' | 'right'>('left', 'right'), (colours, firstHalf) => {
        const { folds } = planMount(colours, { firstHalf });
        const inOrder = [...folds].sort((a, b) => a.turn - b.turn);
        const holds = (outer: Fold, fold: Fold): boolean =>
          outer.left < fold.left && fold.right < outer.right;
        inOrder.forEach((_, done) => {
          // Mounted so far, with something that it encloses still to come: each of these encloses the next.
          const open = inOrder
            .slice(0, done + 1)
            .filter((outer) => inOrder.slice(done + 1).some((fold) => holds(outer, fold)));
          open.slice(1).forEach((inner, at) => {
            expect(holds(open[at]!, inner)).toBe(true);
          });
        });
        const outermost = folds.filter((fold) => fold.spread && !folds.some((outer) => holds(outer, fold)));
        if (outermost.length > 1) nests++;
      }),
      { numRuns: 300 },
    );
    expect(nests).toBeGreaterThan(30);
  });

  it('[M4] [M40] of two that cross the one on the side begun from comes first, and the other one shows', () => {
    expect(planMount(['a', 'b', 'a', 'b']).faults.map(({ colour }) => colour)).toEqual(['b']);
    const fromRight = planMount(['a', 'b', 'a', 'b'], { firstHalf: 'right' });
    expect(fromRight.faults.map(({ colour }) => colour)).toEqual(['a']);
  });

  it('[M40] begun on the right a mirrored order has the mirrored turns; the folds are the same', () => {
    expect(turnsOf('abbacddc', 'right')).toBe('cdab');
    fc.assert(
      fc.property(
        colourRow(40, 6),
        fc.constantFrom<'forced' | 'free'>('forced', 'free'),
        (colours, singles) => {
          const names = colours.map(String);
          const left = planMount(names, { singles });
          const right = planMount(names, { singles, firstHalf: 'right' });
          checkPlan(colours, right);
          expect(mountFrom(left, names, 'right')).toEqual(right);
          expect(mountFrom(right, names, 'left')).toEqual(left);
          const last = names.length - 1;
          const mirrored = {
            ...left,
            folds: left.folds.map((fold) => ({ ...fold, left: last - fold.right, right: last - fold.left })),
          };
          const turned = mountFrom(mirrored, names.toReversed(), 'right').folds;
          for (const { left: from, right: to, turn } of left.folds)
            expect(turned.find((fold) => fold.left === last - to && fold.right === last - from)?.turn).toBe(
              turn,
            );
        },
      ),
      { numRuns: 100 },
    );
  });

  it('[M17] [M18] [M40] a board and a plan at once begin on either side; another side is refused', () => {
    const colours = ['a', 'b', 'b', 'a', 'c', 'd', 'd', 'c'];
    const right = planMount(colours, { firstHalf: 'right' });
    expect(planAtOnce(colours, { firstHalf: 'right' })).toEqual(right);
    const pattern = { colours, start: 0 as const, rows: 0, knots: new Uint8Array(0) };
    expect(planBoard({ pattern, piece: {} }, 'right')).toEqual(right);
    expect(() => planMount(colours, { firstHalf: 'top' as 'left' })).toThrow(/firstHalf.*"top"/);
  });
});
