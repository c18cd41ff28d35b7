/** The finished piece at its true size on paper. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { bandProportions, pieceSize } from '../../../engine/index.ts';
import { trueSize } from '../../../web/paper/true-size.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { markupOf } from '../../support/template-text.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('paper');
});
afterAll(() => vi.unstubAllGlobals());

/** Lengths in mm behind a property of all styles, in order. */
function styled(html: string, property: string): readonly number[] {
  return [...html.matchAll(new RegExp(`[ ":;]${property}: (-?[\\d.]+)mm`, 'g'))].map(([, mm]) => Number(mm));
}

describe('the piece at its true size', () => {
  it('[B202] is as wide and long as the estimate says, with a line of 50 mm', () => {
    const board = { ...sampleBoard(14, 8), piece: { lengthMm: 90 }, gauge: {} };
    const html = markupOf(trueSize(board));
    const { widthMm, bandMm } = bandProportions(board);
    expect(widthMm).toBeCloseTo(18.9, 9);
    expect(bandMm).toBeCloseTo(58 * 1.5525, 9);
    const [line, figure, image] = styled(html, 'width');
    expect(line).toBe(50);
    expect(figure).toBeCloseTo(18.9, 9);
    expect(image).toBeCloseTo(18.9, 9);
    expect(styled(html, 'height').at(-1)).toBeCloseTo(bandMm, 9);
    expect(html).toContain('19 mm wide and 90 mm long');
    // The picture itself has the ratio of the band: 16 px a string, 18.4 px a row.
    const source = /src=data:image\/svg\+xml,(\S+)/.exec(html)?.[1] ?? '';
    expect(decodeURIComponent(source)).toContain('viewBox="0 0 224 1067.2"');
  });

  it('[B202] a band longer than the paper is cut into pieces that lie on each other without a gap', () => {
    const board = { ...sampleBoard(14, 8), piece: { lengthMm: 500 }, gauge: {} };
    const html = markupOf(trueSize(board));
    // The check line, then each piece with the picture of all behind it.
    const heights = styled(html, 'height').slice(1);
    const pieces = heights.filter((_, i) => i % 2 === 0);
    expect(pieces.length).toBe(3);
    expect(Math.max(...pieces)).toBeLessThanOrEqual(220);
    expect(pieces.reduce((sum, high) => sum + high, 0)).toBeCloseTo(pieceSize(board).bandMm, 9);
    styled(html, 'margin-block-start').forEach((top, i) => {
      expect(top).toBeCloseTo(0 - pieces.slice(0, i).reduce((sum, high) => sum + high, 0), 9);
    });
  });

  it('[B202] a band wider than the paper is said to be, and nothing is drawn', () => {
    const html = markupOf(trueSize({ ...sampleBoard(14, 8), gauge: { cordMm: 20 } }));
    expect(html).toContain('280 mm wide: wider than the paper');
    expect(html).not.toContain('<img');
  });
});

describe('of a board', () => {
  it('[B202] that was measured it is as large as measured, which is said otherwise than an estimate', () => {
    const board = sampleBoard(14, 8);
    const lead = (gauge: typeof board.gauge): string =>
      /<p class="lead">(.*?)<\/p>/
        .exec(markupOf(trueSize({ ...board, gauge })))![1]!
        .replace(/[\d.,]+/g, '#');
    expect(lead({ cordMm: 1.2, rowMm: 1.3 })).not.toBe(lead({}));
  });

  it('[B202] with fields out of range it says why it cannot be drawn', () => {
    const html = markupOf(trueSize({ ...sampleBoard(14, 8), gauge: { cordMm: -1 } }));
    expect(html).toMatch(/cannot be computed/);
    expect(html).not.toContain('<img');
  });

  it('[B202] of more rows than four pages hold it says how many are printed', () => {
    const long = { ...sampleBoard(14, 8), piece: { repeats: 100 }, gauge: {} };
    expect(markupOf(trueSize(long))).toContain('first 560 of 800 rows');
    expect(markupOf(trueSize({ ...long, piece: { repeats: 2 } }))).not.toContain('rows.');
  });

  it('has the textures that the maker wants, where colours look alike', () => {
    const sample = sampleBoard(14, 8);
    const board = {
      ...sample,
      palette: sample.palette.map((colour, i) => ({ ...colour, hex: `#cc222${i}` })),
    };
    const plain = markupOf(trueSize(board));
    localStorage.setItem('larkboard.textures', 'on');
    expect(markupOf(trueSize(board))).not.toBe(plain);
    localStorage.removeItem('larkboard.textures');
  });
});
