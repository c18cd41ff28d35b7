/** The chart for paper: pieces that fit a page, knots and numbers. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText, TEXTURE_MARKS } from '../../../engine/index.ts';
import { keepTextures, wantsTextures } from '../../../web/board/index.ts';
import { chartOf, chartPieces } from '../../../web/paper/chart.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { markupOf } from '../../support/template-text.ts';

beforeEach(() => {
  stubPage();
  return () => vi.unstubAllGlobals();
});

const boardOf = (colours: readonly string[], rows: readonly string[]): Board => ({
  ...sampleBoard(),
  pattern: patternFromText(colours, rows),
});
const whole = (board: Board): string => markupOf(chartOf(board)({ from: 0, to: board.pattern.rows }, 'rows'));

describe('pieces of a chart', () => {
  it('hold every row once, and differ by one at most', () => {
    for (const [strings, rows] of [
      [4, 0],
      [4, 1],
      [24, 60],
      [24, 500],
      [200, 20_000],
    ] as const) {
      const pieces = chartPieces(strings, rows);
      expect([pieces[0]!.from, pieces.at(-1)!.to]).toEqual([0, rows]);
      expect(pieces.slice(1).map(({ from }) => from)).toEqual(pieces.slice(0, -1).map(({ to }) => to));
      const lengths = pieces.map(({ from, to }) => to - from);
      expect(Math.max(...lengths) - Math.min(...lengths)).toBeLessThanOrEqual(1);
      // 225 mm are what A4 and Letter share, less a heading.
      const place = Math.min(5, 169 / strings);
      expect((Math.max(...lengths) + 1) * place * 0.8).toBeLessThanOrEqual(225);
    }
  });
});

describe('a piece', () => {
  it('draws a knot in the colour that shows, an untied pair as two cords', () => {
    const text = whole(boardOf(['r', 'g', 'b', 'r'], ['f -']));
    expect(text.match(/fill=#cc2222/g)).toHaveLength(1);
    expect(text.match(/<path d="M[\d. -]+v[\d.]+" stroke=/g)).toHaveLength(2);
  });

  it('numbers its first row, and of low rows only every so many', () => {
    const numbersOf = (strings: number, from: number, to: number): readonly number[] => {
      const board = sampleBoard(strings, 40);
      const text = markupOf(chartOf(board)({ from, to }, ''));
      return [...text.matchAll(/>(\d+)<\/text>/g)].map(([, n]) => Number(n));
    };
    expect(numbersOf(6, 0, 4)).toEqual([1, 2, 3, 4]);
    expect(numbersOf(6, 20, 22)).toEqual([21, 22]);
    const low = numbersOf(150, 0, 40);
    expect(low.length).toBeLessThan(25);
    expect(low[0]).toBe(1);
  });

  it('a colour that is not in the palette is our own fault', () => {
    expect(() => chartOf({ ...sampleBoard(), palette: [] })).toThrow(RangeError);
  });

  it('[X25] marks a colour that is hard to tell from another where the maker wants it, in this browser from then on', () => {
    const alike = ['#101010', '#111111', '#121212'].map((hex, i) => ({ id: 'rgb'.charAt(i), name: '', hex }));
    // Across both textures that such a palette takes: the second colour has lines, the third dots.
    const board = { ...boardOf(['g', 'g', 'b', 'b', 'r', 'r'], ['f f f']), palette: alike };
    const marksIn = (text: string): readonly string[] =>
      [...text.matchAll(/<path class="texture" d=([^s]*) stroke=/g)].map(([, d]) => d!);
    expect([wantsTextures(), marksIn(whole(board))]).toEqual([false, []]);
    keepTextures(true);
    const marked = marksIn(whole(board));
    expect(marked.map((d) => d.split('M').length - 1)).toEqual([
      TEXTURE_MARKS[1]!.lines.length,
      TEXTURE_MARKS[2]!.dots.length,
    ]);
    // A plain palette has nothing to be told apart by.
    expect(marksIn(whole(sampleBoard(6, 4)))).toEqual([]);
    keepTextures(false);
    expect([wantsTextures(), marksIn(whole(board))]).toEqual([false, []]);
  });
});
