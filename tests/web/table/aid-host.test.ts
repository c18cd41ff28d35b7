import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { colourOf, nameHanging } from '../../../web/table/aid-host.ts';
import { sightOf } from '../../../web/table/views.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

describe('a string as it is called at the table', () => {
  const [spruce, ...others] = LOPSIDED.palette;
  const board = readBoard({ ...LOPSIDED, palette: [{ ...spruce!, name: ' ' }, ...others] });

  it('[N102] by its colour’s name and where it hangs now, counted as the work is seen', () => {
    expect(nameHanging(board, 1, 3, sightOf('same'))).toBe('sand, 4th from the left');
    expect(nameHanging(board, 1, 3, sightOf('from-right'))).toBe('sand, 3rd from the right');
  });

  it('by its look where the colour has no name, and by its id where the board knows none of it', () => {
    expect(colourOf(board, 'a')).toEqual({ name: '#1f6266', hex: '#1f6266' });
    expect(colourOf(board, 'gone').name).toBe('gone');
  });
});
