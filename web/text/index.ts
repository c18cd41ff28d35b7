/** All text of the page in one place, in every language it speaks: a table, `t` fills in values. A test fails on a key that a language lacks. */
import type { StepWords } from '../../engine/index.ts';
import { chooseLanguage, LANGUAGE_KEY } from './choose-language.ts';
import { enFirst, english, type TextKey } from './en/index.ts';
import { fillIn, type Values } from './fill-in.ts';
import type { LanguageTexts, Offered, TextGroup, Texts } from './language.ts';
import { redrawTexts } from './spoken.ts';

export { CRAFT_NAMES } from './craft-names.ts';
export { sightTexts } from './sight.ts';
export { spoken } from './spoken.ts';
export type { TextGroup, TextKey };

/** A language is a folder, and a line here. */
export const LANGUAGES = {
  en: { name: 'English', texts: async () => english },
  de: { name: 'Deutsch', texts: async () => (await import('./de/index.ts')).german },
} as const satisfies Readonly<Record<string, Offered>>;
export type Language = keyof typeof LANGUAGES;

let own: LanguageTexts = english;
let texts: Texts = enFirst;
let language: Language = 'en';
let plurals = new Intl.PluralRules('en');
let steps: StepWords | null = null;
const loaded = new Set<TextGroup>();

/** The language that the page speaks now. */
export function currentLanguage(): Language {
  return language;
}

/** The language chosen here before, else the first of the browser's languages that the page speaks, else English. */
export function preferredLanguage(): Language {
  return chooseLanguage(
    Object.keys(LANGUAGES) as [Language, ...Language[]],
    localStorage.getItem(LANGUAGE_KEY),
  );
}

/** Remembers the choice for the next visit. */
export function keepLanguage(chosen: Language): void {
  localStorage.setItem(LANGUAGE_KEY, chosen);
}

/** Speaks another language from now on, and says so to the document. Rejects when its texts cannot be fetched. */
export async function speak(chosen: Language): Promise<void> {
  const next = await LANGUAGES[chosen].texts();
  const spoken: Record<string, string> = { ...next.first };
  const fetched = new Set<TextGroup>();
  let words: StepWords | null = null;
  // A group that comes meanwhile comes in the language of before.
  while (fetched.size < loaded.size) {
    const wanted = [...loaded].filter((group) => !fetched.has(group));
    const [said, ...more] = await Promise.all([
      fetchSteps(next),
      ...wanted.map((group) => next.groups[group]()),
    ]);
    words = said;
    for (const group of wanted) fetched.add(group);
    Object.assign(spoken, ...more);
  }
  own = next;
  texts = spoken;
  steps = words;
  language = chosen;
  plurals = new Intl.PluralRules(chosen);
  document.documentElement.lang = chosen;
  document.documentElement.dir = 'ltr';
  redrawTexts();
}

/** Fetches the texts of a group in the present language, and with them those that all groups share; rejects when they cannot be fetched. */
export async function loadTexts(group: TextGroup): Promise<void> {
  const asked = own;
  const wanted = ([group, 'common'] as const).filter((one) => !loaded.has(one));
  const [words, ...more] = await Promise.all([
    fetchSteps(asked),
    ...wanted.map((one) => asked.groups[one]()),
  ]);
  // Another language is spoken by now.
  if (asked !== own) return loadTexts(group);
  for (const one of wanted) loaded.add(one);
  texts = Object.assign({}, texts, ...more);
  steps = words;
}

async function fetchSteps({ steps: fetch }: LanguageTexts): Promise<StepWords | null> {
  return fetch === null ? null : fetch();
}

/**
 * How the steps of tying are said in the present language; null = as the engine says them.
 * @throws RangeError before the texts of any group are there
 */
export function ownStepWords(): StepWords | null {
  if (!loaded.has('common')) throw new RangeError(`the words of the steps in ${language} are not there yet`);
  return steps;
}

/** Whether there is such a text, and it has been fetched. */
export function hasText(key: string): key is TextKey {
  return key in texts;
}

/**
 * The text of a key, filled in as {@link fillIn} says.
 * @throws RangeError when the text names a value that was not given, or the key's group was not loaded
 */
export function t(key: TextKey, values: Values = {}): string {
  const text = texts[key];
  if (text === undefined) throw new RangeError(`there is no text ${key} in ${language}, or not yet`);
  return fillIn(text, values, plurals);
}

/** Names one after the other, as the present language lists them. */
export function sayList(names: readonly string[]): string {
  return new Intl.ListFormat(language, { type: 'conjunction' }).format(names);
}
