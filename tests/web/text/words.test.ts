/** One word for one thing: the table of words on the page (DEVELOPERS.md), held to every text of every language. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ENGLISH_STEP_WORDS, type StepWords } from '../../../engine/index.ts';
import { deStepWords } from '../../../web/text/de/step-words.ts';
import { NOT_TWINS, REFUSED, TWINS } from './word-table.ts';

const ROOT = join(import.meta.dirname, '../../..');

type Texts = Readonly<Record<string, string>>;

/** What one finds a command by is what others call it: no word of ours. */
const isSearched = (key: string): boolean => key.startsWith('find.');

async function textsOf(language: string): Promise<Texts> {
  const folder = join(ROOT, 'web/text', language);
  const names = readdirSync(folder).map((name) => name.replace('.ts', ''));
  const files = await Promise.all(names.map((name) => import(join(folder, `${name}.ts`))));
  const own = files.flatMap((file) => Object.values(file as Readonly<Record<string, Texts>>));
  const all = Object.entries(Object.assign({}, ...own, stepTexts(language)) as Texts);
  return Object.fromEntries(
    all.filter(([key, text]) => typeof text === 'string' && key.includes('.') && !isSearched(key)),
  );
}

function stepTexts(language: string): Texts {
  const {
    ordinal: _,
    knots,
    hitches,
    ...texts
  }: StepWords = language === 'de' ? deStepWords : ENGLISH_STEP_WORDS;
  const all = {
    ...texts,
    ...knots,
    ...Object.fromEntries(Object.entries(hitches).map(([k, v]) => [`h${k}`, v])),
  };
  return Object.fromEntries(Object.entries(all).map(([key, text]) => [`steps.${key}`, text]));
}

/** A text as it is read: values have names of their own. */
const readOf = (text: string): string => text.replace(/\{\w+:([^}]*)\}/g, ' $1 ').replace(/\{\w+\}/g, ' ');

/** Texts that name a thing of the table in one language and not in the other. */
function unlike(english: Texts, german: Texts): readonly string[] {
  return Object.entries(TWINS).flatMap(([word, { en, de }]) =>
    Object.keys(english)
      .filter((key) => NOT_TWINS[word]?.[key] === undefined)
      .filter((key) => en.test(readOf(english[key]!)) !== de.test(readOf(german[key]!)))
      .map((key) => `${word}: ${key}: ${english[key]} | ${german[key]}`),
  );
}

function refused(language: 'en' | 'de', texts: Texts): readonly string[] {
  return REFUSED.filter((rule) => rule.language === language).flatMap(({ word, instead, except = {} }) =>
    Object.entries(texts)
      .filter(([key, text]) => except[key] === undefined && word.test(readOf(text)))
      .map(([key, text]) => `${key}: ${text} (${instead})`),
  );
}

const english = await textsOf('en');
const german = await textsOf('de');
const texts = { en: english, de: german } as const;

describe('[W1070] one word for one thing', () => {
  it('is read in every text', () => {
    expect(Object.keys(english).length).toBeGreaterThan(1000);
    expect(Object.keys(german).toSorted()).toEqual(Object.keys(english).toSorted());
  });

  it('the table of DEVELOPERS.md has the words that are looked for, with their twins', () => {
    const [, page = ''] = readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8').split('### Words on the page');
    const rows = [...page.split('\n## ')[0]!.matchAll(/^\| ([^|]+) \| ([^|]+) \|/gm)]
      .map(([, en, de]) => [en!, de!] as const)
      .filter(([en]) => en !== 'English' && en !== '---');
    const looked = Object.entries(TWINS).map(([word, { en, de }]) => ({ word, en, de }));
    for (const { word, en, de } of looked) {
      const row = rows.find(([name]) => name === word);
      expect(row, word).toBeDefined();
      expect(row![0]).toMatch(en);
      expect(row![1]).toMatch(de);
    }
    // Only what has more meanings than the table can tell apart is not looked for.
    const rest = rows.map(([en]) => en).filter((name) => TWINS[name] === undefined);
    expect(rest).toEqual(['end', 'side']);
  });

  it('the help says what the things of the table are that one has in hand', () => {
    const named = [
      'thread',
      'skein',
      'cord',
      'string',
      'knotting string',
      'carrier',
      'place',
      'peg',
      'bar',
      'float',
    ];
    for (const [language, of] of [
      [english, 'en'],
      [german, 'de'],
    ] as const) {
      const terms = Object.entries(language).filter(([key]) => /^help\.term\.\w+(?<!Text)$/.test(key));
      for (const word of named)
        expect(terms.filter(([, term]) => TWINS[word]![of].test(term)).length, word).toBeGreaterThan(0);
    }
  });

  it('each language has it where the other has its twin', () => {
    expect(unlike(english, german)).toEqual([]);
  });

  it.each(['en', 'de'] as const)('no text of %s has a word that stands for nothing', (language) => {
    expect(refused(language, texts[language])).toEqual([]);
  });

  it.each(Object.keys(TWINS))('%s alone in one language would be found', (word) => {
    const { sample } = TWINS[word]!;
    const found = (en: string, de: string): boolean =>
      unlike({ ...english, x: en }, { ...german, x: de }).some((said) => said.startsWith(`${word}: x:`));
    expect(found(sample[0], sample[1])).toBe(false);
    expect(found(sample[0], '…')).toBe(true);
    expect(found('…', sample[1])).toBe(true);
  });

  it.each(REFUSED)('“$sample” would be found', ({ language, sample }) => {
    const found = refused(language, { ...texts[language], x: sample });
    expect(found.some((said) => said.startsWith(`x: ${sample}`))).toBe(true);
  });

  it('no exception is for a text that does without', () => {
    const idle = Object.entries(NOT_TWINS).flatMap(([word, keys]) =>
      Object.keys(keys).filter((key) => {
        const { en, de } = TWINS[word]!;
        return english[key] !== undefined && en.test(readOf(english[key])) === de.test(readOf(german[key]!));
      }),
    );
    const idleToo = REFUSED.flatMap(({ language, word, except = {} }) =>
      Object.keys(except).filter((key) => {
        const text = texts[language][key];
        return text !== undefined && !word.test(readOf(text));
      }),
    );
    expect([...idle, ...idleToo]).toEqual([]);
  });
});
