/** What versions are called, and when they were kept, as the reader writes it. */
import { afterAll, expect, test, vi } from 'vitest';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { dayOf, momentOf, timeOf, titleOf } from '../../../web/versions/version-time.ts';
import { stubPage } from '../../support/page-globals.ts';

const AT = new Date(2026, 4, 3, 14, 5).getTime();

afterAll(async () => {
  await speak('en');
  vi.unstubAllGlobals();
});

test('[B110] a version is called by its name, also an empty one, or else by how it came to be', async () => {
  stubPage();
  await loadTexts('versions');
  const titles = (['auto', 'before', 'late', 'named', 'many', 'wiped'] as const).map((kind) =>
    titleOf({ kind, at: AT, name: 'for Ida' }),
  );
  expect(titles[3]).toBe('for Ida');
  expect(new Set(titles).size).toBe(6);
  expect(titles[1]).toBe('before something was brought back or taken back');
  expect(titles.slice(4)).toEqual([
    'before much was changed at once',
    'before somebody changed the work of others',
  ]);
});

test('[B110] times are in the reader’s language', async () => {
  stubPage();
  await loadTexts('versions');
  expect([dayOf(AT), timeOf(AT)]).toEqual(['Sunday, May 3, 2026', expect.stringMatching(/^2:05\sPM$/)]);
  expect(momentOf(AT)).toMatch(/^May 3, 2026, 2:05\sPM$/);
  await speak('de');
  expect([dayOf(AT), timeOf(AT), momentOf(AT)]).toEqual([
    'Sonntag, 3. Mai 2026',
    '14:05',
    '03.05.2026, 14:05',
  ]);
  expect(titleOf({ kind: 'auto', at: AT, name: '' })).not.toBe('saved automatically');
});
