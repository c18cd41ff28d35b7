/** Choosing the language of the page: it is spoken and kept, or said to be missing with a way to try again. */
import type { TemplateResult } from 'lit';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { languageChoice } from '../../../web/fields/index.ts';
import { letMissing, toldMissing } from '../../../web/parts/index.ts';
import { currentLanguage, LANGUAGES, preferredLanguage, speak } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { wordsOf } from '../../support/template-text.ts';
import { until } from '../../support/until.ts';

beforeEach(() => {
  stubPage();
  vi.stubGlobal('document', { documentElement: {}, querySelector: () => null });
  vi.stubGlobal('navigator', { languages: ['en'] });
});
afterEach(async () => {
  vi.restoreAllMocks();
  letMissing();
  await speak('en');
  vi.unstubAllGlobals();
});

/** What the browser does when one is chosen. */
function choose(template: TemplateResult, value: string): { value: string } {
  const select = { value };
  const listener = template.values.find((one) => typeof one === 'function');
  (listener as (event: unknown) => void)({ target: select });
  return select;
}

it('[X24] each language is offered in its own words; the chosen one is spoken, and kept for the next visit', async () => {
  expect(wordsOf(languageChoice())).toBe('English Deutsch');
  choose(languageChoice(), 'de');
  await until('German is kept', () => preferredLanguage() === 'de');
  expect([currentLanguage(), toldMissing()]).toEqual(['de', null]);
});

it('[X24] [B190] one that cannot be fetched is said, the choice goes back, and it can be tried again', async () => {
  const texts = vi.spyOn(LANGUAGES.de, 'texts').mockRejectedValue(new TypeError('no line'));
  const select = choose(languageChoice(), 'de');
  await until('it is said', () => toldMissing() !== null);
  expect([toldMissing()!.kind, select.value, currentLanguage(), preferredLanguage()]).toEqual([
    'unreachable',
    'en',
    'en',
    'en',
  ]);
  texts.mockRestore();
  await toldMissing()!.again();
  expect([currentLanguage(), preferredLanguage()]).toEqual(['de', 'de']);
});
