import { describe, expect, it } from 'vitest';
import {
  isCrossing,
  isLeftShown,
  KNOT_TOKENS,
  type KnotCode,
  knotsInRow,
  patternFromText,
  rowParity,
  rowStride,
} from '../../../engine/index.ts';
import { knotAt } from '../../../engine/pattern/pattern.ts';
import { rowsAsText } from '../../../engine/pattern/text.ts';

describe('pattern', () => {
  it('[P1] rows of even and odd numbers of strings have the knots that pairs of neighbours allow', () => {
    for (let strings = 2; strings <= 200; strings++)
      for (const parity of [0, 1] as const) {
        let pairs = 0;
        for (let place: number = parity; place + 1 < strings; place += 2) pairs++;
        expect(knotsInRow(strings, parity)).toBe(pairs);
        expect(pairs).toBeLessThanOrEqual(rowStride(strings));
      }
  });

  it('[P1] rows take turns at beginning with the first and the second string', () => {
    expect([0, 1, 2, 3].map((row) => rowParity(0, row))).toEqual([0, 1, 0, 1]);
    expect([0, 1, 2, 3].map((row) => rowParity(1, row))).toEqual([1, 0, 1, 0]);
  });

  it('[P1] a knot is found by its row and number; outside there is none', () => {
    const pattern = patternFromText(['a', 'b', 'c', 'd'], ['f b', 'fb', 'bf -']);
    expect(knotAt(pattern, 0, 1)).toBe(2);
    expect(knotAt(pattern, 1, 0)).toBe(3);
    expect(knotAt(pattern, 2, 1)).toBe(0);
    expect(() => knotAt(pattern, 3, 0)).toThrow(/row 3 is outside 0 to 2/);
    expect(() => knotAt(pattern, -1, 0)).toThrow(/row -1/);
    expect(() => knotAt(pattern, 1, 1)).toThrow(/knot 1 is outside 0 to 0 in row 1/);
    expect(() => knotAt(pattern, 0, Number.NaN)).toThrow(RangeError);
  });

  it('[P2] of the four knots two change places and two show the left string, in all four ways; untied does neither', () => {
    const said = KNOT_TOKENS.map((token, code) => [
      token,
      isCrossing(code as KnotCode),
      isLeftShown(code as KnotCode),
    ]);
    expect(said).toEqual([
      ['-', false, false],
      ['f', true, true],
      ['b', true, false],
      ['fb', false, true],
      ['bf', false, false],
    ]);
  });

  it('[P3] any white space parts tokens; a wrong number of them and an unknown one are named by their row', () => {
    const loose = patternFromText(['a', 'b', 'c', 'd'], ['  f\t b ', '\nfb']);
    expect(rowsAsText(loose)).toEqual(['f b', 'fb']);
    expect(() => patternFromText(['a', 'b', 'c', 'd'], ['f b', 'f f'])).toThrow(
      /row 1 has 2 knots instead of 1/,
    );
    expect(() => patternFromText(['a', 'b', 'c', 'd'], ['f x'])).toThrow(/row 0, knot 1: "x" is no knot/);
    expect(rowsAsText(patternFromText(['a', 'b'], ['f', '', 'b']))).toEqual(['f', '', 'b']);
  });
});
