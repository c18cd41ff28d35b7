import { describe, expect, it } from 'vitest';
import { invert, multiply, transpose } from '../../../engine/material/small-matrix.ts';

describe('matrices', () => {
  it('are turned over and multiplied, those without rows too', () => {
    expect(
      transpose([
        [1, 2, 3],
        [4, 5, 6],
      ]),
    ).toEqual([
      [1, 4],
      [2, 5],
      [3, 6],
    ]);
    expect(
      multiply(
        [
          [1, 2],
          [3, 4],
          [5, 6],
        ],
        [
          [1, 0, 2],
          [0, 1, 3],
        ],
      ),
    ).toEqual([
      [1, 2, 8],
      [3, 4, 18],
      [5, 6, 28],
    ]);
    expect(transpose([])).toEqual([]);
    expect(multiply([[], []], [])).toEqual([[], []]);
  });

  it('an inverse makes one of them, and is of no finite numbers where there is none', () => {
    const a = [
      [4, 1, 0.5],
      [1, 3, 0],
      [0.5, 0, 2],
    ];
    const one = multiply(a, invert(a));
    for (const [i, row] of one.entries())
      for (const [j, value] of row.entries()) expect(value).toBeCloseTo(i === j ? 1 : 0, 12);
    expect(
      invert([
        [1, 1],
        [1, 1],
      ])
        .flat()
        .every(Number.isFinite),
    ).toBe(false);
  });
});
