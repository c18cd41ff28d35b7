import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fitWish,
  formatWish,
  knotsInRow,
  OPEN,
  openWish,
  type Pattern,
  readWish,
  rowParity,
  shiftWish,
  solvePicture,
  type Wish,
  wantedCells,
  wishFrom,
} from '../../../engine/index.ts';
import { anyPattern, pictureOf } from '../../support/patterns.ts';
import '../../support/property-seed.ts';

const PALETTE = ['#884422', '#2244aa', '#eeddcc', '#116633', '#aa2255'].map((hex, i) => ({
  id: `c${i}`,
  name: `thread ${i}`,
  hex,
}));

const boardOf = (pattern: Pattern) => ({ pattern, palette: PALETTE });

/** What is wanted by row and place, by a plain walk; cells that are open are left out. */
function wantedByPlace({ start, rows }: Wish): Map<string, number> {
  const wanted = new Map<string, number>();
  rows.forEach((row, r) => {
    row.forEach((cell, k) => {
      if (cell !== OPEN) wanted.set(`${r}:${2 * k + rowParity(start, r)}`, cell);
    });
  });
  return wanted;
}

/** Of these strings and rows: knots of a place, as `row:place`. */
function placesOf({ strings, start, rows }: Wish): Set<string> {
  return new Set(
    rows.flatMap((_, row) => {
      const parity = rowParity(start, row);
      return Array.from({ length: knotsInRow(strings, parity) }, (_cell, k) => `${row}:${2 * k + parity}`);
    }),
  );
}

describe('wishes', () => {
  it('[J50] nothing is wanted of an open one, and it has a cell for each knot', () => {
    fc.assert(
      fc.property(anyPattern(), ({ colours, start, rows }) => {
        const wish = openWish({ strings: colours.length, start, rows }, PALETTE);
        expect(wish.rows.map((row) => row.length)).toEqual(
          Array.from({ length: rows }, (_, r) => knotsInRow(colours.length, rowParity(start, r))),
        );
        expect(wantedCells(wish)).toBe(0);
        expect(wish.rows.flat().every((cell) => cell === OPEN)).toBe(true);
      }),
    );
    expect(() => openWish({ strings: 1, start: 0, rows: 3 }, PALETTE)).toThrow(RangeError);
    expect(() => openWish({ strings: 4, start: 0, rows: -1 }, PALETTE)).toThrow(RangeError);
    expect(() => openWish({ strings: 4, start: 2 as 0, rows: 1 }, PALETTE)).toThrow(RangeError);
  });

  it('[J51] the wish from a board is what shows on it, and of a part of it the rest is open', () => {
    fc.assert(
      fc.property(anyPattern(), fc.nat(14), fc.nat(12), (pattern, last, right) => {
        const picture = pictureOf(pattern);
        const said = (wish: Wish) =>
          wish.rows.map((row) => row.map((cell) => (cell === OPEN ? null : PALETTE[cell]!.id)));
        const wish = wishFrom(boardOf(pattern));
        expect(said(wish)).toEqual(
          picture.map((row, r) =>
            row.slice(0, knotsInRow(pattern.colours.length, rowParity(pattern.start, r))),
          ),
        );
        const part = wishFrom(boardOf(pattern), (row, place) => row <= last && place < right);
        const whole = [...wantedByPlace(wish)];
        expect([...wantedByPlace(part)]).toEqual(
          whole.filter(([at]) => {
            const [row, place] = at.split(':').map(Number);
            return row! <= last && place! < right;
          }),
        );
      }),
    );
  });

  it('[J51] a board meets the wish that was taken from it', () => {
    fc.assert(
      fc.property(anyPattern({ maxStrings: 8, maxRows: 6, maxColours: 3 }), (pattern) => {
        const found = solvePicture(wishFrom(boardOf(pattern)), { order: pattern.colours });
        expect(found).toMatchObject({ ok: true, wrong: 0 });
      }),
      { numRuns: 30 },
    );
  });

  it('[J52] moved, each cell says what was said of the one there before; what leaves is lost', () => {
    fc.assert(
      fc.property(
        anyPattern(),
        fc.integer({ min: -6, max: 6 }),
        fc.integer({ min: -6, max: 6 }),
        (pattern, down, half) => {
          const wish = wishFrom(boardOf(pattern));
          const right = 2 * half + (down & 1);
          const moved = shiftWish(wish, down, right);
          const there = placesOf(wish);
          const expected = [...wantedByPlace(wish)].flatMap(([at, cell]) => {
            const [row, place] = at.split(':').map(Number);
            const to = `${row! + down}:${place! + right}`;
            return there.has(to) ? [[to, cell] as const] : [];
          });
          expect(wantedByPlace(moved)).toEqual(new Map(expected));
          expect(moved.rows.map((row) => row.length)).toEqual(wish.rows.map((row) => row.length));
          expect(() => shiftWish(wish, down, right + 1)).toThrow(RangeError);
        },
      ),
    );
  });

  it('[J52] on a band of another size each cell keeps its row and place, or lies one to the right', () => {
    fc.assert(
      fc.property(anyPattern(), anyPattern(), (pattern, other) => {
        const wish = wishFrom(boardOf(pattern));
        const size = { strings: other.colours.length, start: other.start, rows: other.rows };
        const fitted = fitWish(wish, size);
        const there = placesOf(openWish(size, PALETTE));
        const off = pattern.start === other.start ? 0 : 1;
        const expected = [...wantedByPlace(wish)].flatMap(([at, cell]) => {
          const [row, place] = at.split(':').map(Number);
          const to = `${row}:${place! + off}`;
          return there.has(to) ? [[to, cell] as const] : [];
        });
        expect(wantedByPlace(fitted)).toEqual(new Map(expected));
        expect(fitted.rows).toHaveLength(other.rows);
      }),
    );
  });

  it('[J53] as text a wish comes back as it was', () => {
    fc.assert(
      fc.property(anyPattern(), (pattern) => {
        const wish = wishFrom(boardOf(pattern));
        expect(readWish(formatWish(wish))).toEqual({ ok: true, value: wish });
      }),
    );
  });

  it('[J53] other text is refused with the path of the bad field', () => {
    const wish = openWish({ strings: 4, start: 0, rows: 2 }, PALETTE);
    const refused = (change: object): string => {
      const read = readWish(JSON.stringify({ ...JSON.parse(formatWish(wish)), ...change }));
      return read.ok ? 'read' : read.error.path;
    };
    expect(refused({})).toBe('read');
    expect(refused({ format: 'larkboard' })).toBe('format');
    expect(refused({ version: 2 })).toBe('version');
    expect(refused({ strings: 201 })).toBe('strings');
    expect(refused({ start: 2 })).toBe('start');
    expect(refused({ palette: [] })).toBe('palette');
    expect(refused({ rows: [[0, 0]] })).toBe('read');
    expect(refused({ rows: [[0, 0, 0]] })).toBe('rows[0]');
    expect(refused({ rows: [[0, 5]] })).toBe('rows[0][1]');
    expect(readWish('{')).toMatchObject({ ok: false, error: { path: '' } });
    expect(readWish('null')).toMatchObject({ ok: false, error: { path: 'format' } });
    fc.assert(fc.property(fc.json(), (text) => !readWish(text).ok));
  });
});
