import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  changeStringCount,
  closeRepeat,
  coloursBelow,
  cropPattern,
  insertRows,
  insertStrings,
  mirrorPattern,
  type Pattern,
  removeStrings,
  repeatCycle,
  reversePattern,
  rowStride,
  shiftStart,
  tilePattern,
  weave,
} from '../../engine/index.ts';
import { anyPattern, pictureOf } from '../support/patterns.ts';

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

  law(
    '[T6] inserted rows leave the picture above, and below show the old rows under the strings they leave',
    (pattern, n) => {
      const at = n % (pattern.rows + 1);
      const part = cropPattern(pattern, at, at + 2 * Math.floor((pattern.rows - at) / 2));
      const grown = insertRows(pattern, at, part);
      const picture = pictureOf(grown);
      expect(picture.slice(0, at)).toEqual(pictureOf(pattern).slice(0, at));
      const below = cropPattern(pattern, at, pattern.rows);
      expect(picture.slice(at + part.rows)).toEqual(
        pictureOf({ ...below, colours: coloursBelow({ ...part }) }),
      );
    },
  );

  law(
    '[T7] strings added at the right leave the picture; taken away again the pattern is as before',
    (pattern, n) => {
      const more = Math.min(200, pattern.colours.length + 1 + (n % 5));
      const wide = changeStringCount(pattern, more, 'new');
      pictureOf(pattern).forEach((row, r) => {
        expect(pictureOf(wide)[r]!.slice(0, row.length)).toEqual(row);
      });
      expect(weave(wide).finalOrder.slice(pattern.colours.length)).toEqual(
        Int16Array.from({ length: more - pattern.colours.length }, (_, i) => pattern.colours.length + i),
      );
      expect(changeStringCount(wide, pattern.colours.length, 'x')).toEqual(pattern);
    },
  );

  /** The pattern without the knots that tie a string left of the place to one right of it. */
  const parted = (pattern: Pattern, at: number): Pattern => {
    const knots = pattern.knots.slice();
    const stride = rowStride(pattern.colours.length);
    for (let row = 0; row < pattern.rows; row++)
      if ((pattern.start + row) % 2 === 1 && at > 0 && at < pattern.colours.length)
        knots[row * stride + (at >> 1) - 1] = 0;
    return { ...pattern, knots };
  };

  law(
    '[T9] strings put in part the band; either side keeps its picture, and the new ones hang on',
    (pattern, n) => {
      const strings = pattern.colours.length;
      const at = 2 * (n % ((strings >> 1) + 1));
      const added = Array.from({ length: 2 * (n % 3) }, (_, i) => `new${i}`);
      const wide = insertStrings(pattern, at, added);
      expect(wide.colours).toEqual([...pattern.colours.slice(0, at), ...added, ...pattern.colours.slice(at)]);
      if (added.length === 0) {
        expect(wide).toEqual(pattern);
        return;
      }
      const apart = parted(pattern, at);
      pictureOf(apart).forEach((row, r) => {
        // Knots of the row whose left place lies left of `at` and, in the other part, moved on.
        const left = (at - ((pattern.start + r) & 1)) >> 1;
        const kept = at === 0 ? 0 : Math.max(0, Math.min(left, row.length));
        const shown = pictureOf(wide)[r]!;
        expect(shown.slice(0, kept)).toEqual(row.slice(0, kept));
        if (at < strings) expect(shown.slice(shown.length - (row.length - kept))).toEqual(row.slice(kept));
        expect(shown.filter((colour) => colour !== null)).toEqual(row.filter((colour) => colour !== null));
      });
      const { finalOrder } = weave(wide);
      added.forEach((_, i) => {
        expect(finalOrder[at + i]).toBe(at + i);
      });
      expect(removeStrings(wide, at, added.length)).toEqual(apart);
    },
  );

  law('[T9] taken away at the right, strings go as a smaller number of strings goes', (pattern, n) => {
    const strings = pattern.colours.length;
    const from = 2 * (n % ((strings >> 1) + 1));
    const count = (strings - from) & ~1;
    if (strings - count < 2 || from + count !== strings) return;
    expect(removeStrings(pattern, from, count)).toEqual(changeStringCount(pattern, from, 'x'));
  });

  it('[T8] numbers that do not fit are refused with their values', () => {
    const pattern: Pattern = { colours: ['a', 'b'], start: 0, rows: 1, knots: Uint8Array.of(1) };
    expect(() => tilePattern(pattern, 0)).toThrow(/1 or more, not 0/);
    expect(() => tilePattern(pattern, 20_000)).toThrow(/more than 20000 rows/);
    expect(() => cropPattern(pattern, 1, 0)).toThrow(/rows 1 to 0/);
    expect(() => shiftStart(pattern, 1)).toThrow(/row 1 is outside 0 to 0/);
    expect(() => insertRows(pattern, 0, pattern)).toThrow(/shift the stagger/);
    expect(() => changeStringCount(pattern, 1, 'a')).toThrow(/2 to 200, not 1/);
    expect(() => insertStrings(pattern, 1, ['c', 'd'])).toThrow(/place 1 is no even one/);
    expect(() => insertStrings(pattern, 4, ['c', 'd'])).toThrow(/place 4 is no even one from 0 to 2/);
    expect(() => insertStrings(pattern, 0, ['c'])).toThrow(/1 strings would shift/);
    expect(() => insertStrings(pattern, 0, Array(200).fill('c'))).toThrow(/202 strings are more than 200/);
    expect(() => removeStrings(pattern, 0, 2)).toThrow(/0 strings are fewer than 2/);
    expect(() => removeStrings(pattern, 2, 2)).toThrow(/2 strings from 2 on are no pairs of the 2/);
    expect(() => removeStrings(pattern, 1, 0)).toThrow(/place 1 is no even one/);
  });
});
