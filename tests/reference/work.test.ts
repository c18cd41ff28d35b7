/** Published values of working orders. Each check names its source; "computed here" marks values no print was found for. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Pattern, workOrder } from '../../engine/index.ts';
import { bandOf, boardOf, posetOf, randomBand, seededRandom } from './work-bands.ts';
import {
  chains,
  countOrders,
  fewestJumps,
  fewestRuns,
  height,
  type LabelledPoset,
  width,
} from './work-poset.ts';

const fullyTied = (strings: number, rows: number, start: 0 | 1 = 0): Pattern =>
  bandOf(strings, rows, (row, k) => 1 + ((row + k) % 4), start);

/** `right` strings go right across `left` strings that go left: a grid of knots standing on its corner. */
function crossing(right: number, left: number): Pattern {
  const strings = right + left;
  const start = ((right - 1) % 2) as 0 | 1;
  return bandOf(
    strings,
    strings - 1,
    (row, k) => {
      const place = 2 * k + ((start + row) & 1);
      // Knot (i, j) of the grid, string right - 1 - i meeting string right + j, lies in row i + j.
      const i = (row - (place - (right - 1))) / 2;
      const j = row - i;
      return Number.isInteger(i) && i >= 0 && i < right && j >= 0 && j < left ? 1 : 0;
    },
    start,
  );
}

/** A poset with the same label everywhere, given by what each element comes after. */
const poset = (...after: readonly (readonly number[])[]): LabelledPoset => ({
  after,
  labels: after.map(() => 0),
});

describe('number of working orders', () => {
  it('[O1] of two staggered rows, all tied, are the zigzag numbers (OEIS A000111, "zig-zag poset", Stanley)', () => {
    const counts = [2, 3, 4, 5, 6, 7, 8, 9, 10].map((strings) => countOrders(posetOf(fullyTied(strings, 2))));
    expect(counts).toEqual([1, 1, 2, 5, 16, 61, 272, 1385, 7936]);
  });

  it('[O1] of two strings going across n others are Catalan numbers (OEIS A000108; hook lengths)', () => {
    expect(countOrders(posetOf(crossing(2, 3)))).toBe(5);
    expect(countOrders(posetOf(crossing(3, 2)))).toBe(5);
    expect(countOrders(posetOf(crossing(2, 5)))).toBe(42);
    expect(countOrders(posetOf(crossing(3, 3)))).toBe(42);
  });

  it('[O1] of the full reversal in staggered rows: 4, 70, 7896 (computed here)', () => {
    for (const start of [0, 1] as const) {
      const counts = [4, 5, 6].map((strings) =>
        countOrders(posetOf(bandOf(strings, strings, () => 1, start))),
      );
      expect(counts).toEqual([4, 70, 7896]);
    }
  });
});

describe('the plain reference against known posets', () => {
  const cases: readonly [string, LabelledPoset, number, number, number][] = [
    ['chain of 5', poset([], [0], [1], [2], [3]), 1, 0, 1],
    ['antichain of 4', poset([], [], [], []), 4, 3, 24],
    ['N', poset([], [], [0], [0, 1]), 2, 1, 5],
    ['2 + 2', poset([], [0], [], [2]), 2, 1, 6],
    ['K 2,2', poset([], [], [0, 1], [0, 1]), 2, 2, 4],
    ['6-crown', poset([], [], [], [0, 1], [1, 2], [2, 0]), 3, 3, 48],
    ['8-crown', poset([], [], [], [], [0, 1], [1, 2], [2, 3], [3, 0]), 4, 4, 1088],
    ['Boolean cube', poset([], [0], [0], [0], [1, 2], [1, 3], [2, 3], [4, 5, 6]), 3, 3, 48],
    ['weak order 2, 3, 2', poset([], [], [0, 1], [0, 1], [0, 1], [2, 3, 4], [2, 3, 4]), 3, 4, 24],
    // A 3 x 3 grid and fences of 3 to 7 elements: jumps of a fence of k are ceil(k / 2) - 1; orders of fences are zigzag numbers.
    ['3 x 3 grid', poset([], [0], [1], [0], [1, 3], [2, 4], [3], [4, 6], [5, 7]), 3, 2, 42],
    ['fence of 4', poset([], [], [0, 1], [1]), 2, 1, 5],
    ['fence of 5', poset([], [], [], [0, 1], [1, 2]), 3, 2, 16],
    ['fence of 6', poset([], [], [], [0, 1], [1, 2], [2]), 3, 2, 61],
    ['fence of 7', poset([], [], [], [], [0, 1], [1, 2], [2, 3]), 4, 3, 272],
    ['standard example S4', poset([], [], [], [], [1, 2, 3], [0, 2, 3], [0, 1, 3], [0, 1, 2]), 4, 5, 720],
  ];

  it.each(cases)(
    '%s: width, jumps, orders (computed by brute force elsewhere)',
    (_, order, w, jumps, orders) => {
      expect([width(order), fewestJumps(order), countOrders(order)]).toEqual([w, jumps, orders]);
    },
  );

  it('[O1] brick patterns, all tied: jumps by strings and rows (computed by brute force elsewhere)', () => {
    const jumps = (strings: number, rows: number): number => fewestJumps(posetOf(fullyTied(strings, rows)));
    expect([jumps(4, 2), jumps(4, 3), jumps(4, 4), jumps(5, 5)]).toEqual([1, 2, 2, 3]);
    expect([jumps(6, 2), jumps(6, 3), jumps(6, 4), jumps(6, 6)]).toEqual([2, 3, 3, 4]);
  });

  it('width - 1 <= jumps <= size - height on brick patterns ("On the height and jump number", abstract)', () => {
    for (let strings = 3; strings <= 7; strings++)
      for (let rows = 1; rows <= 4; rows++) {
        const order = posetOf(fullyTied(strings, rows));
        const jumps = fewestJumps(order);
        expect(jumps).toBeGreaterThanOrEqual(width(order) - 1);
        expect(jumps).toBeLessThanOrEqual(order.after.length - height(order));
      }
  });

  it('abcbdab and bdcaba as chains: 9 runs over 1716 orders (shortest common supersequence, Wikipedia)', () => {
    const order = chains('abcbdab', 'bdcaba');
    expect(countOrders(order)).toBe(1716);
    expect(fewestRuns(order)).toBe(9);
  });

  it('two chains without repeated neighbours need |X| + |Y| - LCS runs (LCS and SCS, textbook)', () => {
    const word = fc
      .array(fc.constantFrom('a', 'b', 'c', 'd'), { minLength: 1, maxLength: 7 })
      .map((letters) => letters.filter((letter, i) => letter !== letters[i - 1]).join(''));
    fc.assert(
      fc.property(word, word, (x, y) => {
        // A merge may still bring equal letters together, which then count once: never more than the supersequence.
        const runs = fewestRuns(chains(x, y));
        expect(runs).toBeLessThanOrEqual(x.length + y.length - longestCommon(x, y));
        expect(runs).toBe(shortestRunFree(x, y));
      }),
      { seed: 31, numRuns: 300 },
    );
  });
});

/** Length of the longest common subsequence, by the usual table. */
function longestCommon(x: string, y: string): number {
  const table = Array.from({ length: x.length + 1 }, () => new Array<number>(y.length + 1).fill(0));
  for (let i = 1; i <= x.length; i++)
    for (let j = 1; j <= y.length; j++)
      table[i]![j] =
        x[i - 1] === y[j - 1] ? table[i - 1]![j - 1]! + 1 : Math.max(table[i - 1]![j]!, table[i]![j - 1]!);
  return table[x.length]![y.length]!;
}

/** Shortest word that holds both as subsequences when a run of one letter counts once, breadth first over positions. */
function shortestRunFree(x: string, y: string): number {
  let front = new Set(['0 0']);
  for (let length = 0; ; length++) {
    if (front.has(`${x.length} ${y.length}`)) return length;
    const next = new Set<string>();
    for (const state of front) {
      const [i, j] = state.split(' ').map(Number) as [number, number];
      for (const letter of new Set([x[i], y[j]])) {
        if (letter === undefined) continue;
        next.add(`${x[i] === letter ? i + 1 : i} ${y[j] === letter ? j + 1 : j}`);
      }
    }
    front = next;
  }
}

describe('fewest pick-ups of known bands', () => {
  it('[O5] strings going right across others, each tied from end to end, need one pick-up a string', () => {
    for (const [right, left] of [
      [2, 3],
      [3, 3],
      [5, 4],
      [7, 9],
    ] as const) {
      const order = workOrder(boardOf(crossing(right, left)), { method: 'exact' });
      expect(order).toMatchObject({ ok: true, pickUps: right, lowerBound: right, exact: true });
    }
  });

  it('[O5] two rows, all tied: a knot of the second row is picked up anew unless the string goes on', () => {
    const random = seededRandom(12);
    for (let i = 0; i < 60; i++) {
      const band = randomBand(random, { strings: 2 + (i % 9), rows: 2 }, { untied: 0, staying: 0.5 });
      const order = workOrder(boardOf(band), { method: 'exact' });
      expect(order.ok && order.pickUps).toBe(fewestRuns(posetOf(band)));
    }
  });

  it("[O1] Dillmont's bars, fig. 540 and 541 (Encyclopedia of Needlework, Macramé): over thread 1 the threads 2, 3, 4, over 2 then 3, 4, 1", () => {
    // The cord passes to the right, one place a row; the second bar begins as soon as its threads are free.
    const band = bandOf(4, 5, (row, k) => {
      const place = 2 * k + (row & 1);
      return place === row || place === row - 2 ? 2 : 0;
    });
    for (const method of ['rows', 'segments'] as const) {
      const order = workOrder(boardOf(band), { method });
      const over = (cord: number): readonly number[] =>
        order.steps.filter((step) => step.carrier === cord).map((step) => step.knotting);
      expect([over(0), over(1)]).toEqual([
        [1, 2, 3],
        [2, 3, 0],
      ]);
    }
  });
});
