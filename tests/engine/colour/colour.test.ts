import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../engine/colour/difference.ts';
import {
  checkPalette,
  HARD_DIFFERENCE,
  hexToRgb,
  SIGHTS,
  simulateSight,
  vanishingNeighbours,
} from '../../../engine/colour/index.ts';
import { hexToLab } from '../../../engine/colour/lab.ts';
import { ALIKE_DIFFERENCE } from '../../../engine/colour/palette-check.ts';
import type { Board, PaletteColour, Pattern } from '../../../engine/pattern/index.ts';
import { isCrossing, isLeftShown, type KnotCode } from '../../../engine/pattern/index.ts';

/** CIEDE2000 difference of two hexes. */
const colourDifference = (one: string, two: string): number => ciede2000(hexToLab(one), hexToLab(two));

const colour = (id: string, hex: string): PaletteColour => ({ id, name: id, hex });

describe('checkPalette', () => {
  it('[C4] finds colours alike to everybody, and colours alike only to some', () => {
    const palette = [
      colour('red', '#c0392b'),
      colour('brick', '#bd3a2e'),
      colour('olive', '#6b8e23'),
      colour('orange', '#b5762a'),
      colour('navy', '#1b2a6b'),
    ];
    const { pairs, page, thresholdDeltaE } = checkPalette(palette);
    expect(thresholdDeltaE).toBe(HARD_DIFFERENCE);
    expect(page).toEqual([]);
    expect(pairs[0]?.colours).toEqual(['red', 'brick']);
    expect(pairs[0]?.degree).toBe('alike');
    expect(pairs[0]?.hardFor).toEqual(SIGHTS);
    const olive = pairs.find(({ colours }) => colours.includes('olive') && colours.includes('orange'));
    expect(olive?.hardFor).toContain('deutan');
    expect(olive?.hardFor).not.toContain('normal');
    expect(pairs.some(({ colours }) => colours.includes('navy'))).toBe(false);
  });

  it('[C4] lists exactly the pairs below the threshold in some sight, worst first', () => {
    const hexes = fc
      .integer({ min: 0, max: 0xffffff })
      .map((value) => `#${value.toString(16).padStart(6, '0')}`);
    let listed = 0;
    fc.assert(
      fc.property(
        fc.array(hexes, { maxLength: 8 }),
        fc.double({ min: 5, max: 40, noNaN: true }),
        (list, threshold) => {
          const palette = list.map((hex, i) => colour(`c${i}`, hex));
          const { pairs } = checkPalette(palette, { thresholdDeltaE: threshold });
          const worst: number[] = [];
          for (const [i, one] of list.entries())
            for (const [j, two] of list.entries()) {
              if (j <= i) continue;
              const all = SIGHTS.map((sight) =>
                colourDifference(simulateSight(one, sight), simulateSight(two, sight)),
              );
              const found = pairs.find(({ colours }) => colours[0] === `c${i}` && colours[1] === `c${j}`);
              expect(found !== undefined).toBe(Math.min(...all) < threshold);
              if (found === undefined) continue;
              listed += 1;
              worst.push(Math.min(...all));
              expect(found.hardFor).toEqual(SIGHTS.filter((_, s) => (all[s] as number) < threshold));
              expect(found.degree).toBe(Math.min(...all) < ALIKE_DIFFERENCE ? 'alike' : 'hard');
            }
          const inOrder = pairs.map(({ deltaE }) => Math.min(...Object.values(deltaE)));
          expect(inOrder).toEqual(worst.sort((a, b) => a - b));
        },
      ),
    );
    expect(listed).toBeGreaterThan(50);
  });

  it('[C5] says how each colour stands against the page, unrounded', () => {
    const palette = [colour('grey', '#949494'), colour('lighter', '#959595'), colour('ink', '#000000')];
    const { page } = checkPalette(palette, { background: '#ffffff' });
    expect(page.map(({ colour: id, isFaint }) => [id, isFaint])).toEqual([
      ['grey', false],
      ['lighter', true],
      ['ink', false],
    ]);
    expect(page[2]?.contrast).toBe(21);
  });

  it('[C1] [C4] refuses what is no colour and a threshold that is not above 0', () => {
    expect(() => hexToRgb('#12345')).toThrow('"#12345" is not #rrggbb');
    expect(() => checkPalette([colour('a', 'red')])).toThrow('"red"');
    expect(() => checkPalette([], { thresholdDeltaE: 0 })).toThrow('thresholdDeltaE 0');
    expect(() => checkPalette([], { thresholdDeltaE: Number.NaN })).toThrow('NaN');
  });
});

describe('vanishingNeighbours', () => {
  const PALETTE = [colour('red', '#c0392b'), colour('brick', '#bd3a2e'), colour('navy', '#1b2a6b')];

  const boards = fc
    .record({
      strings: fc.integer({ min: 2, max: 9 }),
      rows: fc.integer({ min: 0, max: 7 }),
      start: fc.constantFrom(0 as const, 1 as const),
      seed: fc.infiniteStream(fc.integer({ min: 0, max: 59 })),
    })
    .map(({ strings, rows, start, seed }): Board => {
      const draw = () => seed.next().value as number;
      const knots = new Uint8Array(rows * (strings >> 1));
      for (let row = 0; row < rows; row++)
        for (let k = 0; k < (strings - ((start + row) % 2)) >> 1; k++)
          knots[row * (strings >> 1) + k] = draw() % 5;
      const colours = Array.from({ length: strings }, () => PALETTE[draw() % 3]?.id ?? '');
      const pattern: Pattern = { colours, start, rows, knots };
      return { title: 'plain', palette: PALETTE, pattern, piece: {}, gauge: {}, colourways: [] };
    });

  /** Colour at each place of each row (the left place of a knot), worked with plain arrays. */
  function shownColours({ pattern }: Board): readonly (readonly (string | null)[])[] {
    const hanging = [...pattern.colours];
    return Array.from({ length: pattern.rows }, (_, row) => {
      const line: (string | null)[] = hanging.map(() => null);
      for (let place = (pattern.start + row) % 2, k = 0; place + 1 < hanging.length; place += 2, k++) {
        const knot = pattern.knots[row * (hanging.length >> 1) + k] as KnotCode;
        if (knot === 0) continue;
        const left = hanging[place] as string;
        const right = hanging[place + 1] as string;
        line[place] = isLeftShown(knot) ? left : right;
        if (isCrossing(knot)) [hanging[place], hanging[place + 1]] = [right, left];
      }
      return line;
    });
  }

  it('[C6] counts each meeting of red and brick in neighbouring knots, and nothing else', () => {
    let met = 0;
    fc.assert(
      fc.property(boards, (board) => {
        const grid = shownColours(board);
        const expected: string[] = [];
        grid.forEach((line, row) => {
          line.forEach((one, place) => {
            for (const under of [place - 1, place + 1]) {
              const two = grid[row + 1]?.[under] ?? null;
              if ([one, two].sort().join() === 'brick,red')
                expected.push(`${row} ${place >> 1} ${under >> 1}`);
            }
          });
        });
        const pairs = vanishingNeighbours(board);
        expect(pairs.length).toBe(expected.length > 0 ? 1 : 0);
        expect(pairs[0]?.count ?? 0).toBe(expected.length);
        expect((pairs[0]?.places ?? []).map(({ row, k, belowK }) => `${row} ${k} ${belowK}`)).toEqual(
          expected,
        );
        if (expected.length > 0) met += 1;
      }),
      { numRuns: 300 },
    );
    expect(met).toBeGreaterThan(50);
  });

  it('[C6] lists no more places than asked for, but counts all', () => {
    const rows = 20;
    const pattern: Pattern = {
      colours: ['red', 'brick', 'red', 'brick'],
      start: 0,
      rows,
      knots: Uint8Array.from({ length: rows * 2 }, (_, cell) => (cell % 4 === 3 ? 0 : 3)),
    };
    const board = { title: 'plain', palette: PALETTE, pattern, piece: {}, gauge: {}, colourways: [] };
    const whole = vanishingNeighbours(board);
    const short = vanishingNeighbours(board, { limit: 3 });
    expect(whole[0]?.count).toBeGreaterThan(3);
    expect(short[0]?.places).toHaveLength(3);
    expect(short[0]?.count).toBe(whole[0]?.count);
    expect(() => vanishingNeighbours(board, { limit: -1 })).toThrow('limit -1');
    expect(() => vanishingNeighbours({ ...board, palette: [] })).toThrow('colour red of a string');
  });
});
