/** What a board without a title is called. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { patternFromText } from '../../../engine/index.ts';
import { speak } from '../../../web/text/index.ts';
import { sayTitle } from '../../../web/words/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(() => stubPage());
afterAll(() => vi.unstubAllGlobals());

describe('the name of a board', () => {
  it('[B313] is its title, else what it is, in the language of the page', async () => {
    const pattern = patternFromText(['a', 'b', 'a', 'b'], ['f f']);
    expect(sayTitle({ title: 'Meadow', pattern })).toBe('Meadow');
    expect(sayTitle({ title: ' ', pattern })).toBe('4 strings, 1 row');
    await speak('de');
    expect(sayTitle({ title: '', pattern })).toBe('4 Stränge, 1 Reihe');
    await speak('en');
  });
});
