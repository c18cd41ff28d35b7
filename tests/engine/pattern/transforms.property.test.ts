import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cropPattern,
  mirrorPattern,
  type Pattern,
  repeatCycle,
  reversePattern,
  tilePattern,
} from '../../../engine/index.ts';
import { closeRepeat, coloursBelow, shiftStart } from '../../../engine/pattern/transforms.ts';
import { anyPattern, pictureOf } from '../../support/patterns.ts';

const law = (name: string, check: (pattern: Pattern, n: number) => void) =>
  it(name, () => {
    fc.assert(
      fc.property(anyPattern(), fc.nat(1000), (pattern, n) => {
        const before = structuredClone(pattern);
        check(pattern, n);
        expect(pattern).toEqual(before);
      }),
      { numRuns: 200 },
    );
  });

describe('transforms', () => {
  law('[T1] a mirrored pattern shows the mirrored picture, and mirrored twice it is the same', (pattern) => {
    expect(pictureOf(mirrorPattern(pattern))).toEqual(pictureOf(pattern).map((row) => row.toReversed()));
    expect(mirrorPattern(mirrorPattern(pattern))).toEqual(pattern);
  });

  law(
    '[T2] worked from the other end it shows the picture upside down, and from the other end again it is the same',
    (pattern) => {
      expect(pictureOf(reversePattern(pattern))).toEqual(pictureOf(pattern).toReversed());
      expect(reversePattern(reversePattern(pattern))).toEqual(pattern);
      expect(coloursBelow(reversePattern(pattern))).toEqual(pattern.colours);
    },
  );

  law('[T2] mirroring and reversing may be done in either order', (pattern) => {
    expect(mirrorPattern(reversePattern(pattern))).toEqual(reversePattern(mirrorPattern(pattern)));
  });

  law(
    '[T3] tiled as often as the colours need to recur, the strings’ colours stand as at the start',
    (pattern) => {
      const { colours } = repeatCycle(pattern);
      if (colours > 30) return;
      expect(coloursBelow(tilePattern(pattern, colours))).toEqual(pattern.colours);
      for (let fewer = 1; fewer < colours; fewer++)
        expect(coloursBelow(tilePattern(pattern, fewer))).not.toEqual(pattern.colours);
    },
  );

  law(
    '[T3] the first repeat of a tiled pattern shows the pattern, each further one the pattern begun below it',
    (pattern, n) => {
      const times = 1 + (n % 4);
      const tiled = tilePattern(pattern, times);
      const perRepeat = pattern.rows + (pattern.rows & 1);
      let repeat = pattern;
      for (let i = 0; i < times; i++) {
        const from = i * perRepeat;
        expect(pictureOf(tiled).slice(from, from + pattern.rows)).toEqual(pictureOf(repeat));
        repeat = { ...repeat, colours: coloursBelow(repeat) };
      }
    },
  );

  law('[T4] a part shows that part of the picture', (pattern, n) => {
    const from = n % (pattern.rows + 1);
    const to = from + ((n * 7) % (pattern.rows - from + 1));
    expect(pictureOf(cropPattern(pattern, from, to))).toEqual(pictureOf(pattern).slice(from, to));
  });

  law('[T5] begun at another row the endless band shows the same picture, shifted', (pattern, n) => {
    if (pattern.rows === 0) return;
    const row = n % pattern.rows;
    const closed = closeRepeat(pattern);
    const shifted = shiftStart(pattern, row);
    expect(pictureOf(tilePattern(shifted, 2)).slice(0, closed.rows)).toEqual(
      pictureOf(tilePattern(closed, 3)).slice(row, row + closed.rows),
    );
  });

  it('[T8] numbers that do not fit are refused with their values', () => {
    const pattern: Pattern = { colours: ['a', 'b'], start: 0, rows: 1, knots: Uint8Array.of(1) };
    expect(() => tilePattern(pattern, 0)).toThrow(/1 or more, not 0/);
    expect(() => tilePattern(pattern, 20_000)).toThrow(/more than 20000 rows/);
    expect(() => cropPattern(pattern, 1, 0)).toThrow(/rows 1 to 0/);
    expect(() => shiftStart(pattern, 1)).toThrow(/row 1 is outside 0 to 0/);
  });
});
