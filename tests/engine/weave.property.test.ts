import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  knotsInRow,
  type Pattern,
  repeatCycle,
  rowParity,
  rowStride,
  tilePattern,
  weave,
} from '../../engine/index.ts';
import { anyPattern } from '../support/patterns.ts';

/** The knot model said plainly, with strings as things in a list. */
function plainWeave({ colours, start, rows, knots }: Pattern) {
  let hanging = colours.map((_, string) => string);
  const shown: number[][] = [];
  const order: number[][] = [];
  for (let row = 0; row < rows; row++) {
    order.push(hanging);
    const next = [...hanging];
    const parity = rowParity(start, row);
    shown.push(
      Array.from({ length: knotsInRow(colours.length, parity) }, (_, k) => {
        const [a, b] = [2 * k + parity, 2 * k + parity + 1];
        const [left, right] = [hanging[a]!, hanging[b]!];
        switch (knots[row * rowStride(colours.length) + k]) {
          case 1:
            [next[a], next[b]] = [right, left];
            return left;
          case 2:
            [next[a], next[b]] = [right, left];
            return right;
          case 3:
            return left;
          case 4:
            return right;
          default:
            return -1;
        }
      }),
    );
    hanging = next;
  }
  return { shown, order, finalOrder: hanging };
}

const asLists = (pattern: Pattern) => {
  const woven = weave(pattern);
  return {
    shown: woven.shown.map((row) => Array.from(row)),
    order: woven.order.map((row) => Array.from(row)),
    finalOrder: Array.from(woven.finalOrder),
  };
};

describe('weave', () => {
  it('[W1] agrees with the plain model', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 30, maxRows: 30 }), (pattern) => {
        expect(asLists(pattern)).toEqual(plainWeave(pattern));
      }),
      { numRuns: 300 },
    );
  });

  it('[W1] agrees with the plain model for every number of strings from 2 to 200', () => {
    for (let strings = 2; strings <= 200; strings++) {
      const rows = 7;
      const knots = new Uint8Array(rows * (strings >> 1));
      for (let row = 0; row < rows; row++)
        for (let k = 0; k < knotsInRow(strings, rowParity(1, row)); k++)
          knots[row * (strings >> 1) + k] = (row * 31 + k * 17 + strings) % 5;
      const pattern: Pattern = { colours: Array(strings).fill('a'), start: 1, rows, knots };
      expect(asLists(pattern)).toEqual(plainWeave(pattern));
    }
  });

  it('[W2] untied pairs leave every string where it hangs and show nothing', () => {
    const pattern: Pattern = {
      colours: Array(200).fill('a'),
      start: 0,
      rows: 20_000,
      knots: new Uint8Array(20_000 * 100),
    };
    const woven = weave(pattern);
    expect(woven.finalOrder.every((string, place) => string === place)).toBe(true);
    expect(woven.shownFlat.every((string) => string === -1)).toBe(true);
  });

  it('[W3] the strings before each row, and after the last, are all strings once', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 20 }), (pattern) => {
        const all = pattern.colours.map((_, string) => string);
        const woven = weave(pattern);
        for (const order of [...woven.order, woven.finalOrder])
          expect(Array.from(order).sort((a, b) => a - b)).toEqual(all);
      }),
      { numRuns: 100 },
    );
  });

  it('[W4] the cycle is the first repeat after which strings, and colours, stand as at the start', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 8, maxRows: 6, maxColours: 3 }), (pattern) => {
        const found = repeatCycle(pattern);
        let strings = 0;
        let colours = 0;
        for (let times = 1; strings === 0; times++) {
          const order = Array.from(weave(tilePattern(pattern, times)).finalOrder);
          if (colours === 0 && order.every((s, place) => pattern.colours[s] === pattern.colours[place]))
            colours = times;
          if (order.every((s, place) => s === place)) strings = times;
        }
        expect(found).toEqual({ strings, colours });
      }),
      { numRuns: 200 },
    );
  });
});
