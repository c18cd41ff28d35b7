/** The words that stand there before the page: in the language that the page will speak. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { preferredLanguage, sightTexts } from '../../../web/text/index.ts';
import { MapShelf } from '../../support/map-shelf.ts';

const shelf = new MapShelf();

function browser(languages: readonly string[], kept?: string): void {
  shelf.kept.clear();
  if (kept !== undefined) shelf.setItem('larkboard.language', kept);
  vi.stubGlobal('localStorage', shelf);
  vi.stubGlobal('navigator', { languages });
}
beforeEach(() => browser(['en']));
afterEach(() => vi.unstubAllGlobals());

describe('the first words', () => {
  it.each([
    [['de-AT', 'en'], undefined, 'de'],
    [['fr', 'de'], undefined, 'de'],
    [['fr'], undefined, 'en'],
    [['de'], 'en', 'en'],
    [['en'], 'de', 'de'],
    [['de'], 'xx', 'de'],
  ])(
    'of a browser with %j where %s was chosen are those of %s, which the page speaks then',
    (languages, kept, tag) => {
      browser(languages, kept);
      const { language, texts } = sightTexts();
      expect([language, preferredLanguage()]).toEqual([tag, tag]);
      expect(texts['sight.board']).toMatch(tag === 'de' ? /^Das Brett/ : /^Opening the board/);
    },
  );

  it('where the browser keeps nothing for the page, are those of the browser; what else goes wrong is not hidden', () => {
    const refuse = (error: Error): void => {
      const getItem = (): never => {
        throw error;
      };
      vi.stubGlobal('localStorage', { getItem });
    };
    vi.stubGlobal('navigator', { languages: ['de'] });
    refuse(new DOMException('no', 'SecurityError'));
    expect(sightTexts().language).toBe('de');
    refuse(new RangeError('ours'));
    expect(() => sightTexts()).toThrow('ours');
  });
});
