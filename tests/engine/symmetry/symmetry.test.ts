import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  mirrorPattern,
  type Pattern,
  patternFromText,
  repairMirror,
  repeatCycle,
  reversePattern,
  symmetry,
  tilePattern,
} from '../../../engine/index.ts';
import { closeRepeat, shiftStart } from '../../../engine/pattern/transforms.ts';
import { bandCells } from '../../../engine/symmetry/band-rows.ts';
import type { Frieze } from '../../../engine/symmetry/frieze.ts';
import { symmetriesOfRepeat, symmetriesOfRing } from '../../../engine/symmetry/frieze.ts';
import { bandToOrder, orderOfCycles } from '../../support/orders.ts';
import { anyPattern, pictureOf } from '../../support/patterns.ts';

/** The endless picture by the book: every row of the ring as text, with a mark where nothing shows. */
function ring(pattern: Parameters<typeof symmetry>[0]): string[][] {
  const closed = closeRepeat(pattern);
  const tiled = tilePattern(closed, repeatCycle(closed).colours);
  return pictureOf(tiled).map((row, r) => {
    const cells = Array<string>(pattern.colours.length - 1).fill('');
    row.forEach((colour, k) => {
      cells[2 * k + ((tiled.start + r) & 1)] = colour ?? '';
    });
    return cells;
  });
}

/** Which of the four symmetries a ring of rows has, trying every axis. */
function plainFrieze(rows: string[][]): Frieze {
  const n = rows.length;
  const text = rows.map((row) => row.join(','));
  const flipped = rows.map((row) => row.toReversed().join(','));
  const some = (check: (shift: number) => boolean) => Array.from({ length: n }, (_, s) => s).some(check);
  const leftRight = text.every((row, r) => row === flipped[r]);
  const glide = some((s) => text.every((_, r) => flipped[r] === text[(r + s) % n]));
  const upDown = some((s) => text.every((row, r) => row === text[(s - r + n) % n]));
  const turn = some((s) => text.every((_, r) => flipped[r] === text[(s - r + n) % n]));
  if (leftRight && upDown) return 'p2mm';
  if (leftRight) return 'p11m';
  if (upDown && turn) return 'p2mg';
  if (upDown) return 'p1m1';
  if (turn) return 'p2';
  return glide ? 'p11g' : 'p1';
}

const abba = ['a', 'b', 'b', 'a'];

describe('symmetry', () => {
  it('[S1] order, knots and picture of a mirrored pattern', () => {
    const found = symmetry(patternFromText(abba, ['f b', 'f', 'f b', 'b']));
    expect(found.mirror).toEqual({ order: true, knots: true, picture: true });
    expect(found.breaks).toEqual([]);
  });

  it('[S2] a knot on the middle line is exempt from knots', () => {
    for (const middle of ['f', 'b', 'fb', 'bf', '-'])
      expect(symmetry(patternFromText(abba, ['f b', middle])).mirror.knots).toBe(true);
  });

  it('[S3] every break is named by its left place', () => {
    const found = symmetry(patternFromText(['a', 'b', 'b', 'c'], ['f f', 'f', 'f b']));
    expect(found.mirror).toEqual({ order: false, knots: false, picture: false });
    expect(found.breaks).toContainEqual({ of: 'order', place: 0 });
    expect(found.breaks).toContainEqual({ of: 'knots', row: 0, k: 0 });
    expect(found.breaks.filter(({ of }) => of === 'knots')).toHaveLength(1);
  });

  it('[S4] the group is the one that trying every axis finds', () => {
    const seen = new Map<Frieze | null, number>();
    const check = (pattern: Parameters<typeof symmetry>[0]) => {
      if (pattern.rows === 0 || repeatCycle(pattern).colours > 40) return;
      const { frieze } = symmetry(pattern);
      expect(frieze).toBe(plainFrieze(ring(pattern)));
      seen.set(frieze, (seen.get(frieze) ?? 0) + 1);
    };
    fc.assert(fc.property(anyPattern({ maxStrings: 6, maxRows: 5, maxColours: 2 }), check), {
      numRuns: 1500,
      seed: 11,
    });
    for (const group of ['p1', 'p11g', 'p1m1', 'p11m', 'p2', 'p2mg', 'p2mm'] as const)
      expect(seen.get(group) ?? 0, group).toBeGreaterThan(0);
  });

  it('[S5] one repeat tells the same as the whole ring', () => {
    let long = 0;
    fc.assert(
      fc.property(anyPattern({ maxStrings: 9, maxRows: 8, maxColours: 3 }), (pattern) => {
        const ring = bandCells(pattern)!;
        expect(symmetriesOfRepeat(pattern)).toEqual(symmetriesOfRing(ring));
        if (repeatCycle(pattern).colours > 4) long++;
      }),
      { numRuns: 2000, seed: 29 },
    );
    expect(long).toBeGreaterThan(100);
  });

  it('[S5] bands that recur late have their group too', () => {
    // Forward knots over cycles of 2, 3, 5, 7, 11, 13, 17 and 19 strings: 9,699,690 repeats, all colours different.
    const order = orderOfCycles([2, 3, 5, 7, 11, 13, 17, 19]);
    const late = bandToOrder(order);
    expect(repeatCycle(late).colours).toBe(9_699_690);
    expect(bandCells(late)).toBeNull();
    expect(symmetry(late).frieze).toBe('p1');
  });

  it('[S5] a glide that comes true only after very many repeats is found, and missed where there is none', () => {
    // Half the rows, then their mirror image. One half and the mirror together move the strings round these cycles; a glide by an
    // odd number of halves brings each string home exactly when all cycles are odd. All colours are different.
    const halves = (cycles: readonly number[]): Pattern => {
      const half = bandToOrder(orderOfCycles(cycles).toReversed());
      return {
        ...half,
        rows: 2 * half.rows,
        knots: Uint8Array.of(...half.knots, ...mirrorPattern(half).knots),
      };
    };
    const odd = halves([3, 5, 7, 11, 13, 17]);
    expect(repeatCycle(odd).colours).toBe(255_255);
    expect(bandCells(odd)).toBeNull();
    expect(symmetry(odd).frieze).toBe('p11g');
    expect(symmetry(halves([4, 6, 7, 11, 13, 15])).frieze).toBe('p1');
  });

  it('[S5] the group stays the same mirrored, reversed and begun at another row', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 6, maxRows: 6, maxColours: 3 }), fc.nat(100), (pattern, n) => {
        const { frieze } = symmetry(pattern);
        const closed = closeRepeat(pattern);
        expect(symmetry(mirrorPattern(pattern)).frieze).toBe(frieze);
        expect(symmetry(reversePattern(closed)).frieze).toBe(frieze);
        if (pattern.rows > 0) expect(symmetry(shiftStart(pattern, n % pattern.rows)).frieze).toBe(frieze);
      }),
      { numRuns: 200 },
    );
  });

  it('[S6] the repair leaves no break and changes nothing in the half that stays', () => {
    fc.assert(
      fc.property(anyPattern(), fc.constantFrom<'left' | 'right'>('left', 'right'), (pattern, keep) => {
        if (pattern.colours.length % 2 === 1) {
          expect(() => repairMirror(pattern, keep)).toThrow(/odd number/);
          return;
        }
        const repaired = repairMirror(pattern, keep);
        expect(symmetry(repaired).breaks).toEqual([]);
        expect(repairMirror(repaired, keep)).toEqual(repaired);
        const half = pattern.colours.length >> 1;
        const kept = keep === 'left' ? [0, half] : [half, undefined];
        expect(repaired.colours.slice(...kept)).toEqual(pattern.colours.slice(...kept));
      }),
      { numRuns: 200 },
    );
  });
});
