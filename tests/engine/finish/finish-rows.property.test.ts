import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withFinish } from '../../../engine/finish/finish-rows.ts';
import { finishRows } from '../../../engine/finish/index.ts';
import { isCrossing, isLeftShown, type KnotCode, type Pattern } from '../../../engine/index.ts';
import type { EndKind } from '../../../engine/pattern/board.ts';

const KINDS: readonly EndKind[] = ['straight', 'triangle', 'double triangle'];

interface Tied {
  readonly row: number;
  readonly place: number;
  readonly knot: KnotCode;
  readonly shown: number;
}

/** Every knot of `pattern` with the place of its left string and the string that shows: the plain way, on arrays of numbers. */
function tiedKnots(pattern: Pattern): readonly Tied[] {
  const strings = pattern.colours.length;
  const order = pattern.colours.map((_, index) => index);
  const tied: Tied[] = [];
  for (let row = 0; row < pattern.rows; row++) {
    for (let place = (pattern.start + row) % 2; place + 1 < strings; place += 2) {
      const knot = pattern.knots[row * Math.floor(strings / 2) + Math.floor(place / 2)] as KnotCode;
      if (knot === 0) continue;
      const left = order[place] as number;
      const right = order[place + 1] as number;
      tied.push({ row, place, knot, shown: isLeftShown(knot) ? left : right });
      if (isCrossing(knot)) {
        order[place] = right;
        order[place + 1] = left;
      }
    }
  }
  return tied;
}

const patterns = (maxStrings: number) =>
  fc
    .record({
      strings: fc.integer({ min: 2, max: maxStrings }),
      rows: fc.integer({ min: 0, max: 9 }),
      start: fc.constantFrom(0 as const, 1 as const),
      seed: fc.infiniteStream(fc.integer({ min: 0, max: 4 })),
    })
    .map(({ strings, rows, start, seed }): Pattern => {
      const knots = new Uint8Array(rows * (strings >> 1));
      for (let row = 0; row < rows; row++) {
        const count = (strings - ((start + row) % 2)) >> 1;
        for (let k = 0; k < count; k++) knots[row * (strings >> 1) + k] = seed.next().value as number;
      }
      return { colours: Array.from({ length: strings }, (_, i) => `c${i}`), start, rows, knots };
    });

function endKnots(pattern: Pattern, kind: EndKind): readonly (readonly Tied[])[] {
  const finish = finishRows(pattern, kind);
  const rows: Tied[][] = Array.from({ length: finish.rows }, () => []);
  for (const tied of tiedKnots(withFinish(pattern, kind)))
    if (tied.row >= pattern.rows) (rows[tied.row - pattern.rows] as Tied[]).push(tied);
  return rows;
}

/** Rows of each triangle: those left of the band's middle, those right of it. */
function halves(
  rows: readonly (readonly Tied[])[],
  strings: number,
): readonly (readonly (readonly Tied[])[])[] {
  const part = (isLeft: boolean) =>
    rows
      .map((row) => row.filter(({ place }) => place + 0.5 < (strings - 1) / 2 === isLeft))
      .filter((row) => row.length > 0);
  return [part(true), part(false)];
}

function emptyPattern(strings: number, rows: number, start: 0 | 1 = 0): Pattern {
  const colours = Array.from({ length: strings }, (_, i) => `c${i}`);
  return { colours, start, rows, knots: new Uint8Array(rows * (strings >> 1)) };
}

describe('finishRows', () => {
  it('[F1] a triangle ties one knot fewer in each row than in the row above, down to one, for any strings and last row', () => {
    fc.assert(
      fc.property(patterns(200), (pattern) => {
        const strings = pattern.colours.length;
        const above = pattern.rows === 0 ? null : (strings - ((pattern.start + pattern.rows - 1) % 2)) >> 1;
        const first = above === null ? (strings - pattern.start) >> 1 : above - 1;
        const expected = Array.from({ length: Math.max(0, first) }, (_, i) => first - i);
        expect(endKnots(pattern, 'triangle').map((row) => row.length)).toEqual(expected);
        expect(finishRows(pattern, 'triangle').counts).toEqual(expected);
      }),
    );
  });

  it('[F1] each end knot hangs under two tied knots, and none is left out that does', () => {
    fc.assert(
      fc.property(patterns(40), (pattern) => {
        fc.pre(pattern.rows > 0);
        const strings = pattern.colours.length;
        const last = (pattern.start + pattern.rows - 1) % 2;
        let above = new Set<number>();
        for (let place = last; place + 1 < strings; place += 2) above.add(place);
        for (const row of endKnots(pattern, 'triangle')) {
          const places = row.map(({ place }) => place);
          const expected: number[] = [];
          for (let place = 0; place < strings; place++)
            if (above.has(place - 1) && above.has(place + 1)) expected.push(place);
          expect(places).toEqual(expected);
          above = new Set(places);
        }
        expect(above.size <= 1 || strings < 4).toBe(true);
      }),
    );
  });

  it('[F2] either slope of a triangle shows one string, the outermost it takes', () => {
    fc.assert(
      fc.property(patterns(200), (pattern) => {
        const rows = endKnots(pattern, 'triangle');
        const left = new Set(rows.map((row) => row[0]?.shown));
        expect(left.size).toBeLessThanOrEqual(1);
        const right = new Set(rows.filter((row) => row.length > 1).map((row) => row.at(-1)?.shown));
        expect(right.size).toBeLessThanOrEqual(1);
      }),
    );
  });

  it('[F2] all four slopes of a double triangle show one string each', () => {
    let reached = 0;
    fc.assert(
      fc.property(patterns(120), (pattern) => {
        const [left, right] = halves(endKnots(pattern, 'double triangle'), pattern.colours.length);
        for (const [triangle, isMirrored] of [
          [left ?? [], false],
          [right ?? [], true],
        ] as const) {
          triangle.forEach((row, i) => {
            expect(row.length).toBe(triangle.length - i);
          });
          const outer = triangle.map((row) => (isMirrored ? row.at(-1) : row[0])?.shown);
          const inner = triangle
            .filter((row) => row.length > 1)
            .map((row) => (isMirrored ? row[0] : row.at(-1))?.shown);
          expect(new Set(outer).size).toBeLessThanOrEqual(1);
          expect(new Set(inner).size).toBeLessThanOrEqual(1);
          if (triangle.length > 2) reached += 1;
        }
      }),
    );
    expect(reached).toBeGreaterThan(20);
  });

  it('[F1] a double triangle never ties a string of one half to one of the other', () => {
    fc.assert(
      fc.property(patterns(60), (pattern) => {
        const strings = pattern.colours.length;
        const half = strings >> 1;
        for (const { place } of endKnots(pattern, 'double triangle').flat())
          expect(place + 1 < half || place >= strings - half).toBe(true);
      }),
    );
  });

  it('[F3] under an even number of strings the ends mirror left to right, a knot on the middle line apart', () => {
    fc.assert(
      fc.property(patterns(80), fc.constantFrom(...KINDS), (pattern, kind) => {
        const strings = pattern.colours.length;
        fc.pre(strings % 2 === 0);
        for (const row of endKnots(pattern, kind)) {
          const mirrored = row
            .map(({ place, knot }) => ({ place: strings - 2 - place, knot: knot === 1 ? 2 : 1 }))
            .reverse();
          const offMiddle = ({ place }: { place: number }) => 2 * place + 2 !== strings;
          expect(row.filter(offMiddle).map(({ place, knot }) => ({ place, knot }))).toEqual(
            mirrored.filter(offMiddle),
          );
        }
      }),
    );
  });

  it('[F4] the stagger goes on from the last row, and the given rows stay as they are', () => {
    fc.assert(
      fc.property(patterns(40), fc.constantFrom(...KINDS), (pattern, kind) => {
        const before = pattern.knots.slice();
        const whole = withFinish(pattern, kind);
        expect(pattern.knots).toEqual(before);
        expect(whole.knots.slice(0, before.length)).toEqual(before);
        expect(whole.knots.length).toBe(whole.rows * (pattern.colours.length >> 1));
        expect(finishRows(pattern, kind).start).toBe((pattern.start + pattern.rows) % 2);
      }),
    );
  });

  it('[F5] a straight end adds no rows', () => {
    expect(finishRows(emptyPattern(14, 7), 'straight')).toEqual({
      start: 1,
      rows: 0,
      knots: new Uint8Array(0),
      counts: [],
    });
  });

  it('[F1] two strings, and every size to 200, end in a point or are one already', () => {
    for (let strings = 2; strings <= 200; strings++)
      for (const rows of [0, 1, 2]) {
        const { counts } = finishRows(emptyPattern(strings, rows), 'triangle');
        if (counts.length > 0) expect(counts.at(-1)).toBe(1);
        else expect(strings).toBeLessThanOrEqual(4);
      }
  });

  it('[F1] eight strings under a full row: 3, 2, 1 knots; as two triangles 2', () => {
    expect(finishRows(emptyPattern(8, 1), 'triangle')).toEqual({
      start: 1,
      rows: 3,
      knots: Uint8Array.from([1, 1, 2, 0, 0, 1, 2, 0, 0, 1, 0, 0]),
      counts: [3, 2, 1],
    });
    expect(finishRows(emptyPattern(8, 1), 'double triangle')).toEqual({
      start: 1,
      rows: 1,
      knots: Uint8Array.from([1, 0, 2, 0]),
      counts: [2],
    });
  });

  it('an unknown end is refused by name', () => {
    expect(() => finishRows(emptyPattern(8, 1), 'round' as EndKind)).toThrow('unknown end "round"');
  });
});
