/** What something would make of a board, in words. */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Board, patternFromText } from '../../../engine/index.ts';
import { planOfBoard, sayOutcome } from '../../../web/panels/say-outcome.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('panels');
});

const board = (
  strings: string,
  rows: readonly string[] = ['f f', 'b'],
  more: Partial<Board> = {},
): Board => ({
  ...sampleBoard(),
  pattern: patternFromText([...strings], rows),
  ...more,
});
const says = (before: Board, after: Board, isSameBand = false): string =>
  sayOutcome(before, after, planOfBoard(after), isSameBand);

describe('an outcome', () => {
  it('[B389] names strings, knots and rows, and how it mounts then', async () => {
    const now = board('rgrg');
    expect(says(now, board('rrgg'))).toBe('recolours 2 strings; then with a neat back');
    expect(says(now, board('rgrg', ['b f', 'b']))).toBe('changes 1 knot; then 2 cords cross');
    expect(says(now, board('grgr', ['b b', 'b']))).toBe(
      'recolours 4 strings, changes 2 knots; then 2 cords cross',
    );
    expect(says(now, board('rggr', ['f f', 'b', 'f f', 'b']))).toBe('2 rows more; then with a neat back');
    expect(says(now, board('rggr', ['b b', 'f']), true)).toBe('then with a neat back');
    expect(says(now, now)).toBe('then 2 cords cross');
    await speak('de');
    expect(says(now, board('grgr'))).toBe('färbt 4 Stränge um; dann kreuzen sich 2 Fäden');
    await speak('en');
  });

  it('[B389] says where a search is needed first, and nothing of mounting without a ring', () => {
    const many = [...'rgbrgbrgbrgbrgbrgbrgbrgbrgb', ...'rgbrgb'].join('').slice(0, 30);
    const wide = board(many, []);
    expect(planOfBoard(wide)).toBeNull();
    expect(says(wide, wide)).toBe('how it mounts then takes a search');
    const loose = board('rgrg', undefined, { piece: { ...sampleBoard().piece, begin: 'loose' } });
    expect(says(loose, board('rrgg', undefined, { piece: loose.piece }))).toBe('recolours 2 strings');
  });
});
