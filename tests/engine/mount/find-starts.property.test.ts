import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cropPattern,
  findStarts,
  mirrorPattern,
  type Pattern,
  patternFromText,
  planMount,
  reversePattern,
  tilePattern,
  weave,
} from '../../../engine/index.ts';
import { applyStart, startReach } from '../../../engine/mount/find-starts.ts';

const patterns: fc.Arbitrary<Pattern> = fc
  .record({
    strings: fc.integer({ min: 2, max: 9 }),
    rows: fc.integer({ min: 0, max: 7 }),
    start: fc.constantFrom<0 | 1>(0, 1),
    kinds: fc.integer({ min: 1, max: 4 }),
  })
  .chain(({ strings, rows, start, kinds }) =>
    fc.record({
      colours: fc.array(
        fc.integer({ min: 0, max: kinds - 1 }).map((c) => `c${c}`),
        { minLength: strings, maxLength: strings },
      ),
      codes: fc.array(fc.integer({ min: 0, max: 4 }), {
        minLength: rows * (strings >> 1),
        maxLength: rows * (strings >> 1),
      }),
      start: fc.constant(start),
      rows: fc.constant(rows),
    }),
  )
  .map(({ colours, codes, start, rows }) => {
    const knots = Uint8Array.from(codes);
    const stride = colours.length >> 1;
    for (let row = 0; row < rows; row++) {
      const count = (colours.length - ((start + row) & 1)) >> 1;
      if (count < stride) knots[row * stride + count] = 0;
    }
    return { colours, start, rows, knots };
  });

/** Colours that show, row by row. */
function picture(pattern: Pattern): string[][] {
  return weave(pattern).shown.map((row) => Array.from(row, (s) => (s < 0 ? '' : pattern.colours[s]!)));
}

describe('findStarts', () => {
  it('[M7] begins the same endless band: its rows are rows of the band, seen as they are then worked', () => {
    let later = 0;
    fc.assert(
      fc.property(patterns, (pattern) => {
        const period = pattern.rows + (pattern.rows % 2);
        for (const start of findStarts(pattern)) {
          if (start.repeat > 0) later++;
          const begun = applyStart(pattern, start);
          // A stretch of the band long enough to hold the repeat begun there, before or after the boundary.
          const band = tilePattern(
            { ...pattern, rows: pattern.rows },
            Math.max(1, start.repeat + (start.reversed ? 1 : 2)),
          );
          const boundary = start.repeat * period + (start.reversed ? start.row + 1 : start.row);
          const from = start.reversed ? Math.max(0, boundary - begun.rows) : boundary;
          const to = start.reversed ? boundary : Math.min(band.rows, boundary + begun.rows);
          let expected = cropPattern(band, from, to);
          if (start.reversed) expected = reversePattern(expected);
          if (start.mirrored) expected = mirrorPattern(expected);
          expect(begun.colours).toEqual(expected.colours);
          expect(start.order).toEqual(expected.colours);
          expect(picture(begun).slice(0, expected.rows)).toEqual(picture(expected));
        }
      }),
      { numRuns: 60, seed: 11 },
    );
    expect(later).toBeGreaterThan(10);
  });

  it('[M7] lists every row, either end, mirrored or not, once, with a plan of its order', () => {
    fc.assert(
      fc.property(patterns, (pattern) => {
        const starts = findStarts(pattern);
        expect(starts.length).toBe(pattern.rows === 0 ? 2 : 4 * pattern.rows);
        const keys = new Set(starts.map((s) => `${s.row} ${s.reversed} ${s.mirrored}`));
        expect(keys.size).toBe(starts.length);
        for (const { order, plan } of starts) {
          const own = planMount(order);
          expect(plan.neat).toBe(own.neat);
          expect(plan.crossings.length).toBeGreaterThanOrEqual(own.crossings.length);
          expect(plan.lowerBound).toBeLessThanOrEqual(own.crossings.length);
        }
        const costs = starts.map(({ plan }) => plan.crossings.length);
        expect(costs).toEqual([...costs].sort((a, b) => a - b));
      }),
      { numRuns: 40 },
    );
  });

  it('[M8] finds a neat start whenever the band has one', () => {
    const outcome = { neat: 0, none: 0 };
    fc.assert(
      fc.property(patterns, fc.boolean(), (random, isDoubled) => {
        // Orders that hold every colour twice, in the same order twice, cross most.
        const half = random.colours.length >> 1;
        const colours = random.colours.map((colour, i) => (isDoubled ? `d${i % half}` : colour));
        const pattern = { ...random, colours };
        const { cycle, considered, complete } = startReach(pattern);
        expect(complete).toBe(true);
        expect(considered).toBe(cycle);
        const band = tilePattern(pattern, cycle);
        const { order, finalOrder } = weave(band);
        const isNeat = [...order, finalOrder].some(
          (strings) => planMount(Array.from(strings, (s) => pattern.colours[s]!)).neat,
        );
        expect(findStarts(pattern)[0]!.plan.neat).toBe(isNeat);
        outcome[isNeat ? 'neat' : 'none']++;
      }),
      { numRuns: 150, seed: 5 },
    );
    expect(Math.min(outcome.neat, outcome.none)).toBeGreaterThan(5);
  });

  it('[M8] among neat starts the one that changes least comes first', () => {
    const neat = patternFromText(['a', 'b', 'b', 'a'], ['f b', 'f', 'f b', 'f']);
    expect(findStarts(neat)[0]).toMatchObject({ row: 0, reversed: false, mirrored: false, repeat: 0 });
    const crossed = patternFromText(['a', 'b', 'a', 'b'], ['fb fb', 'f', 'fb fb', 'f']);
    expect(findStarts(crossed)[0]).toMatchObject({ row: 2, reversed: false, mirrored: false, repeat: 0 });
    expect(findStarts(crossed)[0]!.plan.neat).toBe(true);
  });

  it('[M8] repeats can be limited, and the reach says what that leaves out', () => {
    const turning = patternFromText(['a', 'a', 'b', 'c'], ['f f', 'f']);
    const { cycle } = startReach(turning);
    expect(cycle).toBeGreaterThan(1);
    expect(startReach(turning, { repeats: 1 })).toEqual({ considered: 1, cycle, complete: false });
    expect(() => findStarts(turning, { repeats: 0 })).toThrow(/not 0/);
  });

  it('[M9] with many strings too, an order and its mirror image cross equally often', () => {
    const half = Array.from({ length: 14 }, (_, i) => `c${i % 5}`);
    const rows = ['f b f b f b f b f b f b f b', 'b f fb f b f fb f b f fb f b'];
    const starts = findStarts(patternFromText([...half, ...half], rows), { repeats: 2 });
    for (const { row, reversed, mirrored, order, plan } of starts) {
      const twin = starts.find((s) => s.row === row && s.reversed === reversed && s.mirrored !== mirrored)!;
      expect(twin.plan.crossings.length).toBe(plan.crossings.length);
      for (const { left, right } of plan.folds) expect(order[left]).toBe(order[right]);
    }
  });

  it('[M10] tells its progress', () => {
    const pattern = patternFromText(['a', 'b', 'a', 'b'], ['f b', 'f']);
    const shares: number[] = [];
    findStarts(pattern, { onProgress: (share) => shares.push(share) });
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
  });

  it('[M7] a row or an order that does not fit is refused', () => {
    const pattern = patternFromText(['a', 'b', 'a', 'b'], ['f b', 'f']);
    const start = findStarts(pattern)[0]!;
    expect(() => applyStart(pattern, { ...start, row: 2 })).toThrow(/row 2/);
    expect(() => applyStart(pattern, { ...start, order: ['a'] })).toThrow(/order of 1/);
  });
});
