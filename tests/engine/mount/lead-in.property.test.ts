import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  BACKWARD,
  FORWARD,
  FORWARD_BACKWARD,
  isCrossing,
  isLeftShown,
  knotsInRow,
  leadIn,
  patternFromText,
  planMount,
  rowParity,
  rowStride,
  weave,
} from '../../../engine/index.ts';
import { rowsToUndo } from '../../../engine/mount/search/rows-to-undo.ts';
import { applyLeadIn, type LeadIn } from '../../../engine/mount/lead-in.ts';

const orders = (min: number, max: number, kinds: number) =>
  fc
    .integer({ min: min >> 1, max: max >> 1 })
    .chain((half) => fc.array(fc.integer({ min: 0, max: kinds - 1 }), { minLength: half, maxLength: half }))
    .chain((half) => fc.shuffledSubarray([...half, ...half], { minLength: 2 * half.length }))
    .map((numbers) => numbers.map((number) => `c${number}`));
const parity = fc.constantFrom<0 | 1>(0, 1);

/** Rows needed, by trying all rows from all neat orders downwards: no numbering, no pruning, another direction. */
function rowsByTrying(colours: readonly string[], start: 0 | 1): number {
  let reached = new Set([colours.join(' ')]);
  for (let rows = 0; ; rows++) {
    for (const word of reached) if (planMount(word.split(' ')).neat) return rows;
    const next = new Set<string>();
    for (const word of reached) {
      let ways = [word.split(' ')];
      for (let place = (start + rows + 1) & 1; place + 1 < colours.length; place += 2)
        ways = ways.flatMap((way) => {
          const swapped = [...way];
          [swapped[place], swapped[place + 1]] = [way[place + 1]!, way[place]!];
          return [way, swapped];
        });
      for (const way of ways) next.add(way.join(' '));
    }
    reached = next;
  }
}

/** Whether some lead-in of so many rows has exchanges that mirror left to right in every row, by trying all of those. */
function canMirror(colours: readonly string[], start: 0 | 1, most: number): boolean {
  const last = colours.length - 2;
  let reached = new Set([colours.join(' ')]);
  for (let rows = 0; rows < most; rows++) {
    const next = new Set<string>();
    for (const word of reached) {
      let ways = [word.split(' ')];
      for (let place = (start + rows + 1) & 1; place <= last - place; place += 2)
        ways = ways.flatMap((way) => {
          const swapped = [...way];
          for (const at of new Set([place, last - place]))
            [swapped[at], swapped[at + 1]] = [way[at + 1]!, way[at]!];
          return [way, swapped];
        });
      for (const way of ways) next.add(way.join(' '));
    }
    reached = next;
  }
  return [...reached].some((word) => planMount(word.split(' ')).neat);
}

function checkLead(colours: readonly string[], start: 0 | 1, lead: LeadIn): void {
  expect(lead.plan.neat).toBe(true);
  expect(lead.plan.folds).toEqual(planMount(lead.order).folds);
  expect(lead.pattern.colours).toEqual(lead.order);
  expect(lead.pattern.rows).toBe(lead.rows);
  const { finalOrder } = weave(lead.pattern);
  expect(Array.from(finalOrder, (string) => lead.order[string])).toEqual(colours);
  if (lead.rows > 0) expect(rowParity(lead.pattern.start, lead.rows - 1)).toBe(1 - start);
  // n staggered rows bring n strings into any order, one more where the stagger is fixed: Knuth, The Art of Computer Programming, vol. 3, 5.3.4.
  expect(lead.rows).toBeLessThanOrEqual(colours.length + 1);
}

describe('leadIn', () => {
  it('[M11] its rows go from a neat order to the one asked, at the stagger the pattern needs', () => {
    fc.assert(
      fc.property(orders(2, 22, 9), parity, (colours, start) => {
        checkLead(colours, start, leadIn(colours, { start }));
      }),
      { numRuns: 20, seed: 3 },
    );
  });

  it('[M11] as few rows as trying everything finds, colours of odd count too', () => {
    const seen = new Set<number>();
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('a', 'b', 'c', 'd'), { minLength: 2, maxLength: 9 }),
        parity,
        (colours, start) => {
          const lead = leadIn(colours, { start });
          checkLead(colours, start, lead);
          expect(lead.rows).toBe(rowsByTrying(colours, start));
          seen.add(lead.rows);
        },
      ),
      { numRuns: 200, seed: 1 },
    );
    expect([...seen].sort()).toEqual(expect.arrayContaining([0, 1, 2]));
  });

  it('[M11] as few rows as trying everything finds, at 10 to 12 strings', () => {
    fc.assert(
      fc.property(orders(10, 12, 5), parity, (colours, start) => {
        expect(leadIn(colours, { start }).rows).toBe(rowsByTrying(colours, start));
      }),
      { numRuns: 12, seed: 12 },
    );
    expect(leadIn([...'abcdefabcdef']).rows).toBe(4);
  });

  it('[M12] all pairs are tied: the left string shows in the left half and on the middle line, else the right one', () => {
    let symmetric = 0;
    fc.assert(
      fc.property(orders(4, 14, 5), parity, (colours, start) => {
        const lead = leadIn(colours, { start });
        const n = colours.length;
        for (let row = 0; row < lead.rows; row++) {
          const at = rowParity(lead.pattern.start, row);
          for (let k = 0; k < knotsInRow(n, at); k++) {
            const place = 2 * k + at;
            const knot = lead.pattern.knots[row * rowStride(n) + k]!;
            expect(knot).toBeGreaterThan(0);
            expect(isLeftShown(knot as 1)).toBe(place <= n - 2 - place);
            const mirror = lead.pattern.knots[row * rowStride(n) + knotsInRow(n, at) - 1 - k]!;
            if (lead.symmetric) expect(isCrossing(knot as 1)).toBe(isCrossing(mirror as 1));
          }
        }
        if (lead.symmetric) symmetric++;
      }),
      { numRuns: 60, seed: 2 },
    );
    expect(symmetric).toBeGreaterThan(5);
  });

  it('[M12] a lead-in that can mirror left to right does', () => {
    const lead = leadIn([...'abacbc'], { start: 1 });
    expect(lead).toMatchObject({ rows: 1, symmetric: true, order: [...'baaccb'] });
    expect([...lead.pattern.knots]).toEqual([FORWARD, FORWARD_BACKWARD, BACKWARD]);
    const middle = leadIn([...'abab'], { start: 0 });
    expect([...middle.pattern.knots.subarray(0, 1)]).toEqual([FORWARD]);
    expect(middle.order).toEqual([...'aabb']);
  });

  it('[M12] mirrors exactly when trying all mirrored lead-ins of as few rows finds one', () => {
    const outcome = { mirrors: 0, not: 0 };
    fc.assert(
      fc.property(orders(4, 8, 4), parity, (colours, start) => {
        const lead = leadIn(colours, { start });
        if (lead.rows === 0) return;
        expect(lead.symmetric).toBe(canMirror(colours, start, lead.rows));
        outcome[lead.symmetric ? 'mirrors' : 'not']++;
      }),
      { numRuns: 200, seed: 3 },
    );
    expect(Math.min(outcome.mirrors, outcome.not)).toBeGreaterThan(5);
  });

  it('[M11] a neat order needs no rows', () => {
    const lead = leadIn([...'abba']);
    expect(lead).toMatchObject({ rows: 0, order: [...'abba'] });
  });

  it('[M13] long orders: no more than n + 1 rows, and as many as their crossings need', () => {
    const half = Array.from({ length: 30 }, (_, i) => `c${i}`);
    const colours = [...half, ...half];
    const lead = leadIn(colours);
    checkLead(colours, 0, lead);
    expect(lead.rows).toBeLessThanOrEqual(61);
    // 435 crossings, each undone by an exchange, at most 30 of them a row.
    expect(lead.rows).toBeGreaterThanOrEqual(15);
  });

  it('[M45] [M43] 24 strings that a beam of orders took nine rows for take five, and each shorter one is told on the way', () => {
    const colours = '7 1 11 9 7 5 3 11 5 3 8 0 10 2 9 10 4 2 6 1 0 4 6 8'.split(' ');
    const told: LeadIn[] = [];
    const lead = leadIn(colours, { start: 1, onBest: (best) => told.push(best) });
    checkLead(colours, 1, lead);
    expect(lead.rows).toBe(5);
    for (const best of told) checkLead(colours, 1, best);
    const rows = told.map((best) => best.rows);
    expect(rows.length).toBeGreaterThan(1);
    expect(rows).toEqual([...new Set(rows)].sort((a, b) => b - a));
    expect(rows.at(-1)).toBe(5);
  });

  it('[M44] is proven where all shorter ones were looked at, and elsewhere bounded by its crossings', () => {
    expect(leadIn([...'abcdefabcdef'])).toMatchObject({ rows: 4, lowerBound: 4, exact: true });
    expect(leadIn([...'abba'])).toMatchObject({ rows: 0, lowerBound: 0, exact: true });
    // Orders of 26 strings in 13 colours are too many to be numbered. 78 crossings, 12 and 13 exchanges by turns.
    const half = Array.from({ length: 13 }, (_, kind) => `c${kind}`);
    const lead = leadIn([...half, ...half]);
    expect(lead).toMatchObject({ lowerBound: 7, exact: lead.rows === 7 });
    // Only an order that is neat needs no row.
    const oneRow = [...half, ...half.toReversed()];
    [oneRow[0], oneRow[1]] = [oneRow[1]!, oneRow[0]!];
    expect(leadIn(oneRow, { start: 1 })).toMatchObject({ rows: 1, lowerBound: 1, exact: true });
  });

  it('[M44] never bounded above what trying everything finds', () => {
    for (const text of ['0123401234', '0120123345', '0011223344', '0213243514']) {
      for (const start of [0, 1] as const) {
        const colours = [...text];
        const { rows, lowerBound } = leadIn(colours, { start });
        expect(lowerBound).toBe(rows);
        const crossings = planMount(colours).crossings.length;
        // As if so few orders could not all be looked at.
        const bound = rowsToUndo(crossings, colours.length, start);
        expect(bound).toBeLessThanOrEqual(rows);
        expect(bound > 0).toBe(rows > 0);
      }
    }
  });

  it('[M11] is put above its pattern', () => {
    const pattern = patternFromText([...'abab'], ['f b', 'f']);
    const whole = applyLeadIn(pattern, leadIn(pattern.colours, { start: pattern.start }));
    expect(whole.rows).toBe(3);
    expect(planMount(whole.colours).neat).toBe(true);
    expect([...weave(whole).finalOrder].map((string) => whole.colours[string])).toEqual(
      [...weave(pattern).finalOrder].map((string) => pattern.colours[string]),
    );
    expect(() => applyLeadIn(pattern, leadIn(pattern.colours, { start: 1 }))).toThrow(/not 0/);
    expect(() => applyLeadIn({ ...pattern, colours: [...'aabb'] }, leadIn(pattern.colours))).toThrow(
      /place 1/,
    );
    expect(() => leadIn([...'ab'], { start: 2 as 0 })).toThrow(/not 2/);
  });

  it('[M10] tells its progress', () => {
    const shares: number[] = [];
    leadIn([...'abcabc'], { onProgress: (share) => shares.push(share) });
    expect(shares.at(-1)).toBe(1);
  });
});
