/** What both sides of a comparison come to, row by row. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText } from '../../../engine/index.ts';
import { consequenceRows } from '../../../web/compare/consequence-rows.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { consequencesOf } from '../../../web/worker/consequences.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('compare'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

const boardOf = (colours: readonly string[], rows: readonly string[], more: Partial<Board> = {}): Board => ({
  ...sampleBoard(),
  pattern: patternFromText(colours, rows),
  ...more,
});

function rows(before: Board, after: Board): Record<string, readonly [string, string]> {
  const found = consequenceRows([before, consequencesOf(before)], [after, consequencesOf(after)]);
  return Object.fromEntries(found.map(({ label, values }) => [label, values]));
}

const neat = boardOf(['r', 'g', 'g', 'r'], ['f b', 'f']);

describe('what a board comes to', () => {
  it('[A31] mounting is neat, crosses so often, and leaves so many strings single', () => {
    expect(rows(neat, boardOf(['r', 'g', 'r', 'g'], [])).Mounting).toEqual(['neat back', '1 crossing']);
    expect(rows(neat, boardOf(['r', 'g', 'g', 'r', 'b'], [])).Mounting![1]).toBe('neat back, 1 single cord');
  });

  it('[B284] how each side begins is told where one hangs from no ring, and mounting where one does', () => {
    const crossed = boardOf(['r', 'g', 'r', 'g'], ['f b', 'f']);
    const loop = { ...crossed, piece: { begin: 'loop' } as const };
    const found = rows(crossed, loop);
    expect(found.Beginning).toEqual(['on a ring or bar', 'with a loop']);
    expect(found.Mounting).toEqual(['1 crossing', '–']);
    const worn = rows(loop, { ...crossed, piece: { begin: 'stick' } });
    expect(worn.Beginning).toEqual(['with a loop', 'straight, over a stick']);
    expect('Mounting' in worn).toBe(false);
    expect('Beginning' in rows(crossed, crossed)).toBe(false);
  });

  it('[A31] strings and rows are counted, lengths and time rounded up', () => {
    const found = rows(neat, boardOf(['r', 'g', 'b', 'b', 'g', 'r'], ['f f f', '- -', 'f f f']));
    expect([found.Strings, found.Rows]).toEqual([
      ['4', '6'],
      ['2', '3'],
    ]);
    for (const label of ['Length of the band', 'Longest cord'])
      for (const value of found[label]!)
        expect([label, value]).toEqual([label, expect.stringMatching(/^[\d,]+ mm$/)]);
    expect(found['Time for one keychain']![0]).toMatch(/^\d+ min$/);
  });

  it('[A31] the thread of each colour that either side uses, by its name, hex or id, and – where one does not', () => {
    const other = boardOf(['r', 'b', 'b', 'r'], []);
    const found = rows(neat, other);
    expect(found['Thread: green']![1]).toBe('–');
    expect(found['Thread: blue']![0]).toBe('–');
    expect(found['Thread: red']).toEqual([expect.stringMatching(/mm$/), expect.stringMatching(/mm$/)]);
    const [first, ...rest] = sampleBoard().palette;
    const nameless = boardOf(['r', 'r'], [], { palette: [{ ...first!, name: '' }, ...rest] });
    expect(rows(nameless, nameless)).toHaveProperty('Thread: #cc2222');
  });

  it('[A31] a colour that is on the board no more is still called by its name', () => {
    const palette = sampleBoard().palette.filter(({ id }) => id !== 'b');
    const found = consequenceRows(
      ...([boardOf(['b', 'b'], ['f']), boardOf(['r', 'r'], ['f'], { palette })].map((board) => [
        board,
        consequencesOf(board),
      ]) as [[Board, ReturnType<typeof consequencesOf>], [Board, ReturnType<typeof consequencesOf>]]),
    );
    expect(found.find(({ label }) => label === 'Thread: blue')).toMatchObject({
      hex: '#2244cc',
      values: [expect.stringMatching(/mm$/), '–'],
    });
  });

  it('[A31] a board with a field out of range comes to nothing at the table', () => {
    const found = rows(neat, boardOf(['r', 'r'], ['f'], { gauge: { cordMm: -1 } }));
    for (const label of ['Length of the band', 'Longest cord', 'Knots', 'Price', 'Time for one keychain'])
      expect([label, found[label]![1]]).toEqual([label, '–']);
  });

  it('[A31] a price is one where any is set', () => {
    const priced = { ...neat, piece: { ...neat.piece, skeinPrice: 3 } };
    expect(rows(neat, priced).Price).toEqual(['not set', expect.stringMatching(/^\d+\.\d\d$/)]);
  });

  it('[A31] left and right are alike in all, in some or in nothing', () => {
    const found = (board: Board): string => rows(neat, board)['Left and right alike']![1];
    expect(found(neat)).toBe('order, knots and picture');
    expect(found(boardOf(['r', 'g', 'g', 'r'], ['f f', '-']))).toBe('order');
    expect(found(boardOf(['r', 'g', 'b', 'r'], ['f f', '-']))).toBe('no');
  });

  it('[A31] [W1071] the band is said to mirror, move along or turn, and no frieze group is named', () => {
    const found = (board: Board): string => rows(neat, board)['Along the band']![1];
    expect(found(boardOf(['r', 'r', 'r', 'r'], ['f f', 'f']))).toBe(
      'left and right, mirrored and moved along, top and bottom, half turn',
    );
    expect(found(boardOf(['r', 'g', 'b', 'r'], ['f f', 'b', 'f -', 'f']))).toBe('no');
  });
});
