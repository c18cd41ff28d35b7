/** Why something of versions was not done. */
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { ApiError, type BoardSession } from '../../../web/sync/index.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { expectSaved, whyNot } from '../../../web/versions/why-not.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await speak('en');
  await loadTexts('versions');
});
afterAll(() => vi.unstubAllGlobals());

/** What is said where this is how far the board is saved. */
function saidAt(saved: BoardSession['saved']): string | null {
  try {
    expectSaved({ saved } as BoardSession);
    return null;
  } catch (error) {
    if (!(error instanceof ApiError)) throw error;
    return whyNot(error);
  }
}

test('[W922] [B115] without a connection, or before all is saved, nothing is done and a sentence says why', () => {
  expect(saidAt('saved')).toBeNull();
  expect(saidAt('offline')).toMatch(/^There is no connection\./);
  expect(saidAt('saving')).toBe('Not done: your last changes are not saved yet; try again in a moment');
  expect(whyNot(new ApiError('bad-version', 'x'))).toMatch(/^This version cannot be read: /);
  expect(whyNot(new ApiError('no-such-visit', 'x'))).toMatch(/^Not done: /);
});
