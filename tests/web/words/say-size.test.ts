/** How many rows a piece has and how long that is, in words. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, type Gauge, type Piece, patternFromText, pieceSize } from '../../../engine/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { saySize, sayStops } from '../../../web/words/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

const ROWS = Array.from({ length: 14 }, (_, row) => (row % 2 === 0 ? 'f f b' : 'f b'));

function board(piece: Piece, gauge: Gauge = {}): Board {
  const pattern = patternFromText(['a', 'b', 'a', 'a', 'b', 'a'], ROWS);
  const palette = ['a', 'b'].map((id) => ({ id, name: id, hex: '#808080' }));
  return { title: '', palette, pattern, piece, gauge, colourways: [] };
}

const said = (of: Board): string => saySize(of, pieceSize(of), 'mm').join(' ');

describe('the length of a piece', () => {
  it('[Y62] without a gauge: rows, length and its range, and to tie until it measures that', () => {
    expect(said(board({ lengthMm: 90, endKnot: 'none' }))).toBe(
      '57 rows make 90 mm (72 mm to 113 mm): 4 repeats and 1 row of the next. Tie until it measures 90 mm: the cords are cut for that. With ring, knot and tail: 112 mm.',
    );
    expect(said(board({ lengthMm: 12, endKnot: 'none' }))).toContain('less than a repeat');
    expect(said(board({ repeats: 4, endKnot: 'none' }))).toMatch(
      /^56 rows in 4 repeats make 88 mm \(71 mm to 111 mm\)\. With/,
    );
  });

  it('[Y62] with a measured row: how sure the length is, and nothing of tying until it measures', () => {
    const words = said(board({ lengthMm: 90 }, { rowMm: 1.5, rowErrorMm: 0.01 }));
    expect(words).toMatch(/^59 rows make 90 mm ± 2 mm: 4 repeats and 3 rows of the next\. With/);
    expect(words).not.toContain('Tie until');
  });

  it('[B282] [L101] without a ring all is what is above and below the band, and no ring', () => {
    expect(said(board({ lengthMm: 90, begin: 'loose', endKnot: 'none', headKnot: 'none' }))).toMatch(
      /With what is above and below it: 130 mm\.$/,
    );
  });

  it('[Y62] both stops are named with their rows and the length that was asked for', () => {
    const stops = sayStops(board({ lengthMm: 90 }), 'mm')!;
    expect(stops.row).toBe('at the nearest row: 57 rows, 90 mm');
    expect(stops.finished).toMatch(/^where it looks finished: \d+ rows, \d+ mm$/);
    expect(sayStops(board({ repeats: 2 }), 'mm')).toBeNull();
    const whole = sayStops(board({ lengthMm: 150, lengthOf: 'whole', endKnot: 'none' }), 'mm')!;
    expect(whole.row).toMatch(/(149|150|151) mm$/);
  });
});
