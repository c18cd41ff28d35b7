import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  MAX_ROWS,
  type Pattern,
  repeatCycle,
  reweaveInto,
  rowStride,
  tilePattern,
  weave,
} from '../../../engine/index.ts';
import { rowsAsText } from '../../../engine/pattern/text.ts';
import { cycleOf } from '../../../engine/weave/repeat-cycle.ts';
import { anyPattern } from '../../support/patterns.ts';
import { plainWeave } from '../../support/plain-weave.ts';
import { samplePattern } from '../../support/sample-board.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const lists = (pattern: Pattern) => {
  const { shown, order, finalOrder } = weave(pattern);
  return {
    shown: shown.map((row) => Array.from(row)),
    order: order.map((row) => Array.from(row)),
    finalOrder: Array.from(finalOrder),
  };
};

const byTheBook = (pattern: Pattern) =>
  plainWeave(pattern.colours.length, pattern.start, rowsAsText(pattern));

/** Every knot, tied and untied, at random. */
function randomPattern(strings: number, rows: number, start: 0 | 1, seed: number): Pattern {
  const random = seededRandom(seed);
  const stride = rowStride(strings);
  const knots = new Uint8Array(rows * stride);
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < (strings - ((start + row) & 1)) >> 1; k++) knots[row * stride + k] = random.below(5);
  return { colours: Array.from({ length: strings }, (_, i) => `c${i % 7}`), start, rows, knots };
}

/** The pattern with the knots of some rows tied anew. */
function changeRows(pattern: Pattern, from: number, to: number, seed: number): Pattern {
  const fresh = randomPattern(pattern.colours.length, pattern.rows, pattern.start, seed);
  const stride = rowStride(pattern.colours.length);
  const knots = pattern.knots.slice();
  knots.set(fresh.knots.subarray(from * stride, to * stride), from * stride);
  return { ...pattern, knots };
}

describe('weave', () => {
  it('[W1] [W2] [W3] is what tying by the book gives, for every number of strings and either stagger', () => {
    for (let strings = 2; strings <= 200; strings++)
      for (const start of [0, 1] as const) {
        const pattern = randomPattern(strings, 9, start, strings * 2 + start);
        expect(lists(pattern)).toEqual(byTheBook(pattern));
      }
  });

  it('[W1] [W2] [W3] is what tying by the book gives, for any pattern', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 30, maxRows: 30 }), (pattern) => {
        const before = pattern.knots.slice();
        expect(lists(pattern)).toEqual(byTheBook(pattern));
        expect(pattern.knots).toEqual(before);
      }),
      { numRuns: 300 },
    );
  });

  it('[W2] every order is an order of all strings, and a knot shows one of the two it ties', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 20, maxRows: 20 }), (pattern) => {
        const { order, shown, finalOrder } = weave(pattern);
        for (const row of [...order, finalOrder])
          expect(Array.from(row).sort((a, b) => a - b)).toEqual(pattern.colours.map((_, i) => i));
        shown.forEach((row, r) => {
          row.forEach((string, k) => {
            const place = 2 * k + ((pattern.start + r) & 1);
            if (string >= 0) expect(order[r]!.subarray(place, place + 2)).toContain(string);
          });
        });
      }),
    );
  });

  it('[W3] no rows: nothing shows and every string hangs where it began', () => {
    const woven = weave({ colours: ['a', 'b', 'c'], start: 1, rows: 0, knots: new Uint8Array(0) });
    expect(woven.shown).toEqual([]);
    expect(woven.order).toEqual([]);
    expect(Array.from(woven.finalOrder)).toEqual([0, 1, 2]);
  });

  it('[W3] two strings: every second row has no knot at all', () => {
    const woven = weave(samplePattern(2, 4, 1));
    expect(woven.shown.map((row) => row.length)).toEqual([0, 1, 0, 1]);
  });

  it('[W2] untied pairs leave every string where it hangs and show nothing', () => {
    const pattern: Pattern = { ...samplePattern(199, 500), knots: new Uint8Array(500 * 99) };
    const woven = weave(pattern);
    expect(woven.finalOrder.every((string, place) => string === place)).toBe(true);
    expect(woven.shownFlat.every((string) => string === -1)).toBe(true);
  });

  it('[W3] the largest band, 200 strings and 20,000 rows, keeps every string', () => {
    const { finalOrder, shown } = weave(samplePattern(200, MAX_ROWS));
    expect(shown).toHaveLength(MAX_ROWS);
    expect(Array.from(finalOrder).sort((a, b) => a - b)).toEqual(Array.from({ length: 200 }, (_, i) => i));
  });
});

describe('a pattern whose parts do not fit', () => {
  const good = samplePattern(6, 4);
  it.each([
    ['no strings', { colours: [] }, /^colours: 0 strings/],
    ['one string', { colours: ['a'] }, /^colours: 1 strings/],
    ['201 strings', { colours: Array(201).fill('a') }, /^colours: 201 strings/],
    ['rows below 0', { rows: -1 }, /^rows: -1/],
    ['half a row', { rows: 0.5 }, /^rows: 0.5/],
    ['too many rows', { rows: MAX_ROWS + 1 }, /^rows: 20001/],
    ['another start', { start: 2 as 0 }, /^start: 2/],
    ['a cell of knots missing', { knots: new Uint8Array(11) }, /^knots: 11 cells are not the 12 of 4 rows/],
  ])('[P8] %s is refused by its name', (_, part, message) => {
    expect(() => weave({ ...good, ...part })).toThrow(RangeError);
    expect(() => weave({ ...good, ...part })).toThrow(message);
  });
});

describe('reweaveInto', () => {
  const anyEdit = fc.record({
    pattern: anyPattern({ maxStrings: 6, maxRows: 40 }),
    a: fc.nat(1000),
    b: fc.nat(1000),
    seed: fc.integer(),
  });

  it('[W7] gives what weaving everything anew gives, and leaves rows outside what it returns as they were', () => {
    let stoppedEarly = 0;
    fc.assert(
      fc.property(anyEdit, ({ pattern, a, b, seed }) => {
        const from = a % (pattern.rows + 1);
        const to = from + (b % Math.min(4, pattern.rows - from + 1));
        const old = weave(pattern);
        const woven = weave(pattern);
        const views = woven.shown;
        const changed = changeRows(pattern, from, to, seed);
        const anew = reweaveInto(changed, { from, to }, woven);
        expect(woven.shownFlat).toEqual(weave(changed).shownFlat);
        expect(woven.orderFlat).toEqual(weave(changed).orderFlat);
        expect(woven.shown).toBe(views);
        expect(anew.from).toBe(from);
        expect(anew.to).toBeGreaterThanOrEqual(to);
        const below = anew.to * rowStride(pattern.colours.length);
        expect(woven.shownFlat.subarray(below)).toEqual(old.shownFlat.subarray(below));
        if (to > from && anew.to < pattern.rows) stoppedEarly++;
      }),
      { numRuns: 500, seed: 7 },
    );
    expect(stoppedEarly).toBeGreaterThan(50);
  });

  it('[W7] a knot that only shows the other string is woven anew in its row alone', () => {
    const pattern = samplePattern(10, 400);
    const knots = pattern.knots.slice();
    const cell = 200 * 5 + 3;
    expect(knots[cell]).toBe(3);
    knots[cell] = 4;
    expect(reweaveInto({ ...pattern, knots }, { from: 200, to: 201 }, weave(pattern))).toEqual({
      from: 200,
      to: 201,
    });
  });

  it('[W7] two more crossings of the same two strings are woven anew until the second', () => {
    const rows = 300;
    const still: Pattern = { ...samplePattern(6, rows), knots: new Uint8Array(rows * 3).fill(0) };
    const knots = still.knots.slice();
    knots[100 * 3] = 1;
    knots[110 * 3] = 1;
    const woven = weave(still);
    expect(reweaveInto({ ...still, knots }, { from: 100, to: 111 }, woven)).toEqual({ from: 100, to: 111 });
  });

  it('[W7] another size, another stagger and rows outside are refused with their values', () => {
    const pattern = samplePattern(6, 4);
    const woven = weave(pattern);
    expect(() => reweaveInto(samplePattern(6, 5), { from: 0, to: 1 }, woven)).toThrow(/6 strings x 5 rows/);
    expect(() => reweaveInto(samplePattern(6, 4, 1), { from: 0, to: 1 }, woven)).toThrow(/from 1 are not/);
    expect(() => reweaveInto(pattern, { from: 3, to: 5 }, woven)).toThrow(/rows 3 to 5/);
  });
});

describe('repeatCycle', () => {
  /** Repeats by doing them one after another. */
  function byRepeating(pattern: Pattern, most: number): { strings: number; colours: number } | null {
    const permutation = byTheBook(pattern).finalOrder;
    let order = permutation;
    let colours = 0;
    for (let repeats = 1; repeats <= most; repeats++) {
      if (colours === 0 && order.every((string, place) => pattern.colours[string] === pattern.colours[place]))
        colours = repeats;
      if (order.every((string, place) => string === place)) return { strings: repeats, colours };
      order = permutation.map((place) => order[place]!);
    }
    return null;
  }

  it('[W4] [W5] [W6] is what repeating one after another gives', () => {
    let sooner = 0;
    fc.assert(
      fc.property(anyPattern({ maxStrings: 14, maxRows: 14, maxColours: 3 }), (pattern) => {
        const found = repeatCycle(pattern);
        expect(found).toEqual(byRepeating(pattern, 1000));
        expect(found.strings % found.colours).toBe(0);
        if (found.colours < found.strings) sooner++;
      }),
      { numRuns: 500, seed: 3 },
    );
    expect(sooner).toBeGreaterThan(50);
  });

  it('[W4] after so many repeats, tiled, every string hangs where it began', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 8, maxRows: 8 }), (pattern) => {
        const { strings } = repeatCycle(pattern);
        const { finalOrder } = weave(tilePattern(pattern, strings));
        expect(Array.from(finalOrder)).toEqual(pattern.colours.map((_, i) => i));
      }),
    );
  });

  it('[W6] strings of one colour recur at once, however they are tied', () => {
    const pattern = { ...samplePattern(40, 31), colours: Array<string>(40).fill('a') };
    expect(repeatCycle(pattern).colours).toBe(1);
    expect(repeatCycle(pattern).strings).toBeGreaterThan(1);
  });

  it('[W6] a ring of colours recurs after its least period', () => {
    const ring = [1, 2, 3, 4, 5, 0];
    expect(cycleOf(ring, ['a', 'b', 'a', 'b', 'a', 'b'])).toEqual({ strings: 6, colours: 2 });
    expect(cycleOf(ring, ['a', 'b', 'c', 'a', 'b', 'c'])).toEqual({ strings: 6, colours: 3 });
    expect(cycleOf(ring, ['a', 'b', 'a', 'b', 'a', 'a'])).toEqual({ strings: 6, colours: 6 });
  });

  it('[W4] no rows recur after one repeat', () => {
    const none: Pattern = { colours: ['a', 'b'], start: 0, rows: 0, knots: new Uint8Array(0) };
    expect(repeatCycle(none)).toEqual({ strings: 1, colours: 1 });
  });
});
