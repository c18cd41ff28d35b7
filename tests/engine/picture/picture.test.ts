/** Where knots lie in the picture, the way of a string, proportions and SVG. */
import { describe, expect, it } from 'vitest';
import {
  bandProportions,
  blockOf,
  cellOfPlace,
  cellsInBlock,
  cellsOnLine,
  cellToPoint,
  HITCH_STROKES,
  inkOn,
  knotRibbons,
  neighboursOf,
  patternFromText,
  pictureSvg,
  pieceRows,
  placeOfCell,
  pointToCell,
  repeatRows,
  staggerOf,
  stringPath,
  weave,
} from '../../../engine/index.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';
import { seededRandom } from '../../support/seeded-random.ts';

describe('knots in the picture', () => {
  it('[Q1] a point in the middle of a knot belongs to that knot, at every stagger and width', () => {
    for (const [strings, start] of [
      [6, 0],
      [6, 1],
      [7, 0],
      [7, 1],
      [2, 1],
    ] as const) {
      const stagger = staggerOf(samplePattern(strings, 5, start));
      for (const cell of cellsInBlock(stagger, {
        fromRow: 0,
        toRow: 4,
        fromPlace: 0,
        toPlace: strings - 1,
      })) {
        expect(pointToCell(stagger, cellToPoint(stagger, cell))).toEqual(cell);
        expect(cellOfPlace(stagger, cell.row, placeOfCell(stagger, cell))).toEqual(cell);
      }
    }
  });

  it('[Q1] every point belongs to the knot whose middle is nearest, or to none', () => {
    const stagger = staggerOf(samplePattern(8, 6, 1));
    const all = cellsInBlock(stagger, { fromRow: 0, toRow: 5, fromPlace: 0, toPlace: 7 });
    const random = seededRandom(5);
    let hits = 0;
    for (let i = 0; i < 3000; i++) {
      const point = { x: random.next() * 12 - 2, y: random.next() * 10 - 1 };
      const distance = (cell: (typeof all)[number]) => {
        const middle = cellToPoint(stagger, cell);
        return Math.abs(middle.x - point.x) + Math.abs(middle.y - point.y);
      };
      const inside = all.filter((cell) => distance(cell) < 1);
      const found = pointToCell(stagger, point);
      if (inside.length > 0) hits++;
      expect(found).toEqual(inside[0] ?? null);
      expect(inside.length).toBeLessThanOrEqual(1);
    }
    expect(hits).toBeGreaterThan(500);
  });

  it('[Q2] a slanting line runs through knots that share edges; a level one jumps over the row between', () => {
    const stagger = staggerOf(samplePattern(10, 6));
    const slant = cellsOnLine(stagger, { row: 0, k: 0 }, { row: 4, k: 2 });
    expect(slant.map(({ row }) => row)).toEqual([0, 1, 2, 3, 4]);
    slant.slice(1).forEach((cell, i) => {
      expect(neighboursOf(stagger, slant[i] as typeof cell)).toContainEqual(cell);
    });
    const level = cellsOnLine(stagger, { row: 2, k: 0 }, { row: 2, k: 4 });
    expect(level.filter(({ row }) => row === 2).map(({ k }) => k)).toEqual([0, 1, 2, 3, 4]);
  });

  it('[Q3] a block holds the knots whose two places both lie in it', () => {
    const stagger = staggerOf(samplePattern(8, 4));
    const block = blockOf(stagger, { row: 0, k: 1 }, { row: 2, k: 2 });
    expect(block).toEqual({ fromRow: 0, toRow: 2, fromPlace: 2, toPlace: 5 });
    expect(cellsInBlock(stagger, block)).toEqual([
      { row: 0, k: 1 },
      { row: 0, k: 2 },
      { row: 1, k: 1 },
      { row: 2, k: 1 },
      { row: 2, k: 2 },
    ]);
  });
});

describe('strings', () => {
  it('[Q4] plain hunt: the first bell runs to the back, lies, and comes home (Stedman, Campanalogia, 1677)', () => {
    // 6 bells, all pairs change: 123456 214365 241635 426153 462513 645231 654321 …; bell 1 stands at places 1 2 3 4 5 6 6 5 4 3 2 1 1.
    const rows = Array.from({ length: 12 }, (_, row) => (row % 2 === 0 ? 'f f f' : 'f f'));
    const pattern = patternFromText(['a', 'b', 'c', 'd', 'e', 'f'], rows);
    const path = stringPath(pattern, weave(pattern), 0);
    expect([...path.places].map((place) => place + 1)).toEqual([1, 2, 3, 4, 5, 6, 6, 5, 4, 3, 2, 1, 1]);
    expect(path.parts[5]).toBe('hangs');
    expect(path.parts.slice(0, 5)).toEqual(['knots', 'knots', 'knots', 'knots', 'knots']);
    expect(path.parts.slice(6, 11)).toEqual(Array(5).fill('carries'));
    expect(path.shown).toHaveLength(5);
  });

  it('[Q4] all strings together show in every tied knot once', () => {
    const pattern = samplePattern(9, 12, 1);
    const woven = weave(pattern);
    const shown = Array.from({ length: 9 }, (_, string) => stringPath(pattern, woven, string).shown).flat();
    expect(shown).toHaveLength(pattern.knots.filter((knot) => knot !== 0).length);
    expect(new Set(shown.map(({ row, k }) => `${row}:${k}`)).size).toBe(shown.length);
    expect(() => stringPath(pattern, woven, 9)).toThrow(RangeError);
  });

  it('[Q5] the knotting string lies on top, and ends where the knot leaves it', () => {
    const endOf = (curve: readonly number[]) => curve[curve.length - 2];
    const outOf = (knot: 1 | 2 | 3 | 4) => {
      const { over, under, isLeftOver } = knotRibbons(knot);
      return [over[0], endOf(over), under[0], endOf(under), isLeftOver];
    };
    expect(outOf(1)).toEqual([0, 1, 1, 0, true]);
    expect(outOf(2)).toEqual([1, 0, 0, 1, false]);
    expect(outOf(3)).toEqual([0, 0, 1, 1, true]);
    expect(outOf(4)).toEqual([1, 1, 0, 0, false]);
    expect(() => knotRibbons(0)).toThrow(RangeError);
  });

  it('[Q6] half hitches lean as they lie: \\ \\ , / / , > and <, inside the lozenge', () => {
    const leans = HITCH_STROKES.map((strokes) =>
      strokes.map(([x0, y0, x1, y1]) => ((x1 - x0) * (y1 - y0) > 0 ? '\\' : '/')),
    );
    expect(leans).toEqual([[], ['\\', '\\'], ['/', '/'], ['\\', '/'], ['/', '\\']]);
    for (const [x0, y0, x1, y1] of HITCH_STROKES.flat()) {
      expect(Math.abs(x0) + Math.abs(y0)).toBeLessThan(1);
      expect(Math.abs(x1) + Math.abs(y1)).toBeLessThan(1);
    }
  });

  it('[B274] the two of a bend are further apart than either is high, so that they close to no sign', () => {
    for (const knot of [3, 4]) {
      const [[, top, , above], [, below, , foot]] = HITCH_STROKES[knot] as unknown as [Four, Four];
      expect(below - above).toBeGreaterThan(Math.max(above - top, foot - below));
    }
  });
});

type Four = readonly [number, number, number, number];

describe('the piece', () => {
  it('[Q7] an untied row stands between repeats of an odd number of rows, none between even ones', () => {
    const odd = repeatRows(samplePattern(6, 3), 0, 3, 1000);
    expect(odd.rows).toBe(11);
    expect([...odd.knots.subarray(9, 12)]).toEqual([0, 0, 0]);
    expect([...odd.knots.subarray(12, 21)]).toEqual([...odd.knots.subarray(0, 9)]);
    expect(repeatRows(samplePattern(6, 4), 0, 3, 1000).rows).toBe(12);
  });

  it('[Q7] a board of nothing but its lead-in has nothing to repeat', () => {
    const led = samplePattern(6, 4);
    expect(repeatRows(led, 4, 3, 1000)).toEqual(led);
    expect(repeatRows(samplePattern(6, 0), 0, 3, 1000).rows).toBe(0);
  });

  it('[Q7] a lead-in comes once, and no more rows are drawn than asked for, but one repeat always', () => {
    const led = repeatRows(samplePattern(6, 6), 2, 3, 1000);
    expect(led.rows).toBe(2 + 3 * 4);
    expect(repeatRows(samplePattern(6, 6), 0, 100, 20).rows).toBe(18);
    expect(repeatRows(samplePattern(6, 6), 0, 100, 2).rows).toBe(6);
  });

  it('[Q8] a piece ends with its triangle, and measures what its gauge says', () => {
    const board = { ...sampleBoard(6, 4), piece: { repeats: 2, end: 'triangle' as const } };
    // Under a last row of two knots hangs one (rule F1).
    expect(pieceRows(board, 1000).rows).toBe(8 + 1);
    const measured = bandProportions({ ...board, gauge: { cordMm: 1.5, rowMm: 2.4 } });
    expect(measured).toMatchObject({ widthMm: 9, isMeasured: true });
    expect(measured.rowPerCord).toBeCloseTo(1.6);
    expect(bandProportions({ ...board, gauge: {} }).isMeasured).toBe(false);
    // Not measured: diagonals within 5° of the 45° that Dillmont's figs. 595 and 596 have, one square of the paper a knot.
    const { rowPerCord } = bandProportions({ ...board, gauge: {} });
    expect(Math.abs((Math.atan(rowPerCord) * 180) / Math.PI - 45)).toBeLessThan(5);
    expect(rowPerCord).toBeCloseTo(1.15, 12);
  });
});

describe('SVG', () => {
  it('[Q9] a lozenge for each tied knot, and names are escaped', () => {
    const { pattern, palette } = sampleBoard(6, 4);
    const svg = pictureSvg(pattern, palette, { title: 'A <b> & "c"' });
    const tied = pattern.knots.filter((knot) => knot !== 0).length;
    expect(svg.match(/z" fill="#/g)).toHaveLength(tied);
    expect(svg).toContain('<title>A &#60;b&#62; &#38; &#34;c&#34;</title>');
    expect(() => pictureSvg({ ...pattern, colours: Array(6).fill('nope') }, palette, { title: '' })).toThrow(
      /nope/,
    );
  });

  it('[Q6] [Q9] each lozenge has its half hitches, as they lie in the notation', () => {
    const pattern = patternFromText(['r', 'g', 'b', 'r'], ['f b', 'fb', 'bf -']);
    const svg = pictureSvg(pattern, sampleBoard().palette, { title: '', placePx: 20, rowPx: 15 });
    const middles = [...svg.matchAll(/<path d="M([\d.]+) ([\d.]+)l20 15/g)].map(([, x, y]) => [
      Number(x),
      Number(y) + 15,
    ]);
    const strokes = [...svg.matchAll(/<path d="((?:M[\d.]+ [\d.]+L[\d.]+ [\d.]+){2})"/g)].map(([, d]) =>
      [...d!.matchAll(/[\d.]+/g)].map(Number),
    );
    // By hand: the first knot of a row of two lies between the first two places, that of a row of one in the middle.
    expect(middles).toEqual([
      [20, 15],
      [60, 15],
      [40, 30],
      [20, 45],
    ]);
    for (const [i, knot] of [1, 2, 3, 4].entries()) {
      const [x, y] = middles[i] as [number, number];
      const wanted = HITCH_STROKES[knot]!.flatMap(([x0, y0, x1, y1]) => [
        x + x0 * 20,
        y + y0 * 15,
        x + x1 * 20,
        y + y1 * 15,
      ]);
      expect([knot, strokes[i]!.map((at, j) => Math.abs(at - wanted[j]!) < 0.06)]).toEqual([
        knot,
        Array(8).fill(true),
      ]);
    }
    expect(pictureSvg(pattern, sampleBoard().palette, { title: '', strokes: false })).not.toMatch(
      /M[\d.]+ [\d.]+L/,
    );
  });

  it('[Q10] strokes stand out 3:1 at least on any colour (WCAG 2.2, 1.4.11)', async () => {
    // Contrast computed by another program, culori.
    const { wcagContrast } = await import('culori');
    for (let r = 0; r <= 255; r += 17)
      for (let g = 0; g <= 255; g += 17)
        for (let b = 0; b <= 255; b += 17) {
          const hex = `#${[r, g, b].map((c) => c.toString(16).padStart(2, '0')).join('')}`;
          if (wcagContrast(hex, inkOn(hex)) < 3) expect.unreachable(`${hex} has faint strokes`);
        }
  });
});
