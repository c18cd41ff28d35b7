/** Every text in every language: none missing, none left untranslated, the same values filled in, as many forms as it counts in. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ReactiveController } from 'lit';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { fillIn } from '../../../web/text/fill-in.ts';
import { LANGUAGES, type Language } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';

const WEB = join(import.meta.dirname, '../../../web');

/** All texts of a language, as the page would have them once it has fetched every group. */
async function textsOf(language: Language): Promise<Readonly<Record<string, string>>> {
  const { first, groups } = await LANGUAGES[language].texts();
  return Object.assign({}, first, ...(await Promise.all(Object.values(groups).map((fetch) => fetch()))));
}

const tags = Object.keys(LANGUAGES) as Language[];
const english = await textsOf('en');
const others = await Promise.all(
  tags.filter((tag) => tag !== 'en').map(async (tag) => [tag, await textsOf(tag)] as const),
);

/** Texts that other languages write as English does: names, and words they share. */
const SHARED = new Set(['app.name', 'sheet.a4', 'cut.minutesValue', 'set.name']);

function valuesIn(text: string): readonly string[] {
  return [...new Set([...text.matchAll(/\{(\w+)/g)].map(([, name]) => name as string))].sort();
}

/** Forms that a text has for a number, such as `string/strings`. */
function formsIn(text: string): readonly (readonly string[])[] {
  return [...text.matchAll(/\{\w+:([^}]*)\}/g)].map(([, forms]) => forms!.split('/'));
}

describe('texts', () => {
  it('[X20] a language is a folder', () => {
    const folders = readdirSync(join(WEB, 'text'), { withFileTypes: true }).filter((one) =>
      one.isDirectory(),
    );
    expect(folders.map(({ name }) => name).sort()).toEqual(tags.toSorted());
    expect(others.length).toBeGreaterThan(0);
  });

  it.each(others)('[X20] %s has the same texts as English', (_, texts) => {
    expect(Object.keys(texts).sort()).toEqual(Object.keys(english).sort());
  });

  it.each([['en', english] as const, ...others])('[X20] no text is empty in %s', (_, texts) => {
    expect(Object.entries(texts).filter(([, text]) => text.trim() === '')).toEqual([]);
  });

  it.each(others)('[X20] %s fills in the same values', (_, texts) => {
    const wrong = Object.entries(english)
      .filter(([key, text]) => valuesIn(text).join() !== valuesIn(texts[key] ?? '').join())
      .map(([key, text]) => `${key}: ${text} | ${texts[key]}`);
    expect(wrong).toEqual([]);
  });

  it.each(others)('[X20] a longer text of %s is not left in English', (_, texts) => {
    const left = Object.entries(english)
      .filter(
        ([key, text]) =>
          text === texts[key] && !SHARED.has(key) && /[a-z]{3}/.test(text.replace(/\{[^}]*\}/g, '')),
      )
      .map(([key]) => key);
    expect(left).toEqual([]);
  });

  it.each([['en', english] as const, ...others])(
    '[X20] where %s counts it has a form for each category',
    (tag, texts) => {
      const count = new Intl.PluralRules(tag).resolvedOptions().pluralCategories.length;
      const counted = Object.entries(texts).flatMap(([key, text]) =>
        formsIn(text).map((forms) => ({ key, forms })),
      );
      expect(counted.length).toBeGreaterThan(40);
      expect(counted.filter(({ forms }) => forms.length !== count)).toEqual([]);
    },
  );

  it('[X20] a band of one row and one knot is said so', () => {
    const plurals = new Intl.PluralRules('en');
    const size = { strings: 2, rows: 1, knots: 1, repeats: 1, pickUps: 1, length: '3 mm' };
    const said = [
      'board.untitled',
      'versions.size',
      'sheet.size',
      'sheet.pieceRows',
      'piece.size',
      'work.summary',
    ];
    expect(said.map((key) => fillIn(english[key]!, size, plurals))).toEqual([
      '2 strings, 1 row',
      '2 strings, 1 row',
      '2 strings, 1 row, 1 knot',
      '1 row in the keychain',
      '1 row in 1 repeat makes 3 mm.',
      '1 knot, 1 pick-up.',
    ]);
  });

  it('[X20] no key stands in two files', () => {
    const folder = join(WEB, 'text/en');
    const keys = readdirSync(folder).flatMap((name) =>
      Array.from(readFileSync(join(folder, name), 'utf8').matchAll(/^ {2}'([^']+)':/gm), ([, key]) => key!),
    );
    expect(keys.toSorted()).toEqual(Object.keys(english).sort());
  });

  it('[X20] every text is spoken somewhere: its key, or the beginning of its key, stands in the code', () => {
    const code = readdirSync(WEB, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts') && !name.startsWith('text'))
      .map((name) => readFileSync(join(WEB, name), 'utf8'))
      .join('\n');
    // `t(`error.${kind}`)`: what stands before the value.
    const beginnings = [...code.matchAll(/`([a-zA-Z]+(?:\.[a-zA-Z]+)*\.)\$\{/g)].map(
      ([, beginning]) => beginning!,
    );
    const dead = Object.keys(english).filter(
      (key) => !code.includes(`'${key}'`) && !beginnings.some((beginning) => key.startsWith(beginning)),
    );
    expect(dead).toEqual([]);
  });
});

describe('[X24] a part whose texts come while another language is chosen', () => {
  const ORDERS: Readonly<Record<string, (page: typeof import('../../../web/text/index.ts')) => unknown>> = {
    'asked for before': (page) => Promise.all([page.loadTexts('talk'), page.speak('de')]),
    'asked for after': (page) => Promise.all([page.speak('de'), page.loadTexts('talk')]),
    'there when the words of the language come': async (page) => {
      const german = await page.LANGUAGES.de.texts();
      vi.spyOn(page.LANGUAGES.de, 'texts').mockImplementation(async () => {
        await page.loadTexts('talk');
        return german;
      });
      await page.speak('de');
    },
    'there only once the language is spoken': async (page) => {
      let speaks: Promise<void> | null = null;
      const { groups } = await page.LANGUAGES.en.texts();
      const talk = await groups.talk();
      vi.spyOn(groups, 'talk').mockImplementation(async () => {
        speaks ??= page.speak('de');
        await speaks;
        return talk;
      });
      await page.loadTexts('talk');
    },
  };

  it.each(Object.keys(ORDERS))('%s: they are in that language', async (order) => {
    vi.resetModules();
    vi.stubGlobal('document', { documentElement: {} });
    const page = await import('../../../web/text/index.ts');
    await page.loadTexts('panels');
    await ORDERS[order]!(page);
    expect(page.currentLanguage()).toBe('de');
    const german = await textsOf('de');
    for (const key of ['talk.entry.say', 'talk.entry.noLonger'] as const) {
      expect(page.hasText(key)).toBe(true);
      expect(page.t(key, { place: 'x', entry: 'x' })).toBe(
        fillIn(german[key]!, { place: 'x', entry: 'x' }, new Intl.PluralRules('de')),
      );
    }
    vi.restoreAllMocks();
    vi.unstubAllGlobals();
  });
});

describe('what shows text', () => {
  it('[X24] is rendered anew with the language, also when it comes back after another was chosen', async () => {
    vi.resetModules();
    vi.stubGlobal('document', { documentElement: {} });
    const page = await import('../../../web/text/index.ts');
    let renders = 0;
    let controller: ReactiveController | undefined;
    const host = {
      addController: (added: ReactiveController) => {
        controller = added;
      },
      requestUpdate: () => {
        renders += 1;
      },
    };
    page.spoken({ addInitializer: (init: (made: typeof host) => void) => init(host) } as never);
    controller?.hostConnected?.();
    await page.speak('de');
    expect(renders).toBe(1);
    controller?.hostDisconnected?.();
    await page.speak('en');
    expect(renders).toBe(1);
    controller?.hostConnected?.();
    expect(renders).toBe(2);
    controller?.hostDisconnected?.();
    controller?.hostConnected?.();
    expect(renders).toBe(2);
    vi.unstubAllGlobals();
  });
});

describe('the language of the page', () => {
  /** The page's texts as they are when it begins, in a browser that asks for these and kept this choice. */
  async function begin(languages: readonly string[] = [], kept: string | null = null) {
    vi.resetModules();
    const shelf = stubPage('');
    if (kept !== null) shelf.kept.set('larkboard.language', kept);
    vi.stubGlobal('navigator', { languages });
    return { shelf, page: await import('../../../web/text/index.ts') };
  }
  afterEach(() => vi.unstubAllGlobals());

  it.each([
    [['fr-FR', 'de-AT', 'en'], null, 'de'],
    [['DE'], null, 'de'],
    [['fr', 'pt-BR'], null, 'en'],
    [[], null, 'en'],
    [['', 'de'], null, 'de'],
    [['de'], 'en', 'en'],
    [['de'], 'xx', 'de'],
    // What every object has is no language.
    [['constructor', 'de'], 'toString', 'de'],
  ] as const)(
    '[X24] a browser that speaks %j, with %j chosen before, begins in %s',
    async (languages, kept, begun) => {
      const { page } = await begin(languages, kept);
      expect(page.preferredLanguage()).toBe(begun);
    },
  );

  it('[X24] a choice is kept for the next visit, and said to the document', async () => {
    const { page, shelf } = await begin(['en']);
    await page.speak('de');
    page.keepLanguage('de');
    expect([page.currentLanguage(), page.preferredLanguage()]).toEqual(['de', 'de']);
    expect([document.documentElement.lang, document.documentElement.dir]).toEqual(['de', 'ltr']);
    expect([...shelf.kept.values()]).toEqual(['de']);
  });

  it('[X24] one that cannot be fetched changes nothing', async () => {
    const { page } = await begin();
    await page.loadTexts('panels');
    const said = page.t('work.failed', { why: 'x' });
    vi.spyOn((await page.LANGUAGES.de.texts()).groups, 'panels').mockRejectedValueOnce(
      new TypeError('no line'),
    );
    await expect(page.speak('de')).rejects.toThrow('no line');
    expect([page.currentLanguage(), page.t('work.failed', { why: 'x' }), page.ownStepWords()]).toEqual([
      'en',
      said,
      null,
    ]);
    expect(document.documentElement.lang).toBe('');
    vi.restoreAllMocks();
  });

  it('steps are said in the language: as the engine does in English, in words of its own in German', async () => {
    const { page } = await begin();
    expect(() => page.ownStepWords()).toThrow(RangeError);
    await page.loadTexts('panels');
    expect(page.ownStepWords()).toBeNull();
    await page.speak('de');
    expect(page.ownStepWords()).toEqual(await (await page.LANGUAGES.de.texts()).steps!());
    await page.speak('en');
    expect(page.ownStepWords()).toBeNull();
  });

  it('a text that was not fetched is a fault of our own, not an empty place on the page', async () => {
    const { page } = await begin();
    expect(page.hasText('work.failed')).toBe(false);
    expect(() => page.t('work.failed', { why: 'x' })).toThrow(/work\.failed in en/);
    await page.loadTexts('panels');
    expect(page.t('work.failed', { why: 'x' })).toContain('x');
    expect(() => page.t('work.failed')).toThrow(RangeError);
  });
});
