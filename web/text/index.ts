/** All text of the page in one place, in every language it speaks. */
import { en } from './en.ts';
import type { enAside } from './en-aside.ts';
import { enBoard } from './en-board.ts';
import type { enCompare } from './en-compare.ts';
import type { enCraft } from './en-craft.ts';
import type { enDoubt } from './en-doubt.ts';
import type { enHelp } from './en-help.ts';
import { enLinks } from './en-links.ts';
import type { enPanels } from './en-panels.ts';
import type { enPanelsInside } from './en-panels-inside.ts';
import type { enPaper } from './en-paper.ts';
import type { enProblems } from './en-problems.ts';
import type { enSet } from './en-set.ts';
import type { enShare } from './en-share.ts';
import type { enSheets } from './en-sheets.ts';
import type { enStart } from './en-start.ts';
import type { enTalk } from './en-talk.ts';
import type { enVersions } from './en-versions.ts';

const english = { ...en, ...enBoard, ...enLinks };

/** Texts that are fetched with the page that shows them. */
interface Group {
  aside: typeof enAside;
  /** Comes with any other. */
  common: typeof enPanels & typeof enProblems & typeof enCraft & typeof enDoubt;
  compare: typeof enCompare;
  help: typeof enHelp;
  panels: typeof enPanelsInside;
  paper: typeof enPaper;
  set: typeof enSet;
  share: typeof enShare;
  sheets: typeof enSheets;
  start: typeof enStart;
  talk: typeof enTalk;
  versions: typeof enVersions;
}

export type BaseKey = keyof typeof english;
export type TextKey = BaseKey | { [G in keyof Group]: keyof Group[G] }[keyof Group];
export type TextGroup = keyof Group;

/** Each language by its own name. */
export const LANGUAGES = { en: 'English', de: 'Deutsch' } as const;
export type Language = keyof typeof LANGUAGES;

type Fetch = () => Promise<Readonly<Record<string, string>>>;

const GROUPS: Readonly<Record<Language, Readonly<Record<TextGroup, Fetch>>>> = {
  en: {
    aside: async () => (await import('./en-aside.ts')).enAside,
    common: async () => (await import('./en-common.ts')).enCommon,
    compare: async () => (await import('./en-compare.ts')).enCompare,
    help: async () => (await import('./en-help.ts')).enHelp,
    panels: async () => (await import('./en-panels-inside.ts')).enPanelsInside,
    paper: async () => (await import('./en-paper.ts')).enPaper,
    set: async () => (await import('./en-set.ts')).enSet,
    share: async () => (await import('./en-share.ts')).enShare,
    sheets: async () => (await import('./en-sheets.ts')).enSheets,
    start: async () => (await import('./en-start.ts')).enStart,
    talk: async () => (await import('./en-talk.ts')).enTalk,
    versions: async () => (await import('./en-versions.ts')).enVersions,
  },
  de: {
    aside: async () => (await import('./de-aside.ts')).deAside,
    common: async () => (await import('./de-common.ts')).deCommon,
    compare: async () => (await import('./de-compare.ts')).deCompare,
    help: async () => (await import('./de-help.ts')).deHelp,
    panels: async () => (await import('./de-panels-inside.ts')).dePanelsInside,
    paper: async () => (await import('./de-paper.ts')).dePaper,
    set: async () => (await import('./de-set.ts')).deSet,
    share: async () => (await import('./de-share.ts')).deShare,
    sheets: async () => (await import('./de-sheets.ts')).deSheets,
    start: async () => (await import('./de-start.ts')).deStart,
    talk: async () => (await import('./de-talk.ts')).deTalk,
    versions: async () => (await import('./de-versions.ts')).deVersions,
  },
};

const KEY = 'larkboard.language';
let texts: Readonly<Record<string, string>> = english;
let language: Language = 'en';
let plurals = new Intl.PluralRules('en');
const loaded = new Set<TextGroup>();

/** The language that the page speaks now. */
export function currentLanguage(): Language {
  return language;
}

function isLanguage(value: string | null): value is Language {
  return value !== null && value in LANGUAGES;
}

/** The language chosen here before, else the first of the browser's languages that the page speaks, else English. */
export function preferredLanguage(): Language {
  const kept = localStorage.getItem(KEY);
  if (isLanguage(kept)) return kept;
  for (const tag of navigator.languages) {
    const [name = ''] = tag.toLowerCase().split('-');
    if (isLanguage(name)) return name;
  }
  return 'en';
}

/** Remembers the choice for the next visit. */
export function keepLanguage(chosen: Language): void {
  localStorage.setItem(KEY, chosen);
}

/** Speaks another language from now on, and says so to the document. Rejects when its texts cannot be fetched. */
export async function speak(chosen: Language): Promise<void> {
  const base = chosen === 'en' ? english : (await import('./de-all.ts')).german;
  const groups = await Promise.all([...loaded].map((group) => GROUPS[chosen][group]()));
  texts = Object.assign({}, base, ...groups);
  language = chosen;
  plurals = new Intl.PluralRules(chosen);
  document.documentElement.lang = chosen;
  document.documentElement.dir = 'ltr';
}

/** Fetches the texts of a group in the present language, and with them those that all groups share; rejects when they cannot be fetched. */
export async function loadTexts(group: TextGroup): Promise<void> {
  const wanted = ([group, 'common'] as const).filter((one) => !loaded.has(one));
  const more = await Promise.all(wanted.map((one) => GROUPS[language][one]()));
  for (const one of wanted) loaded.add(one);
  texts = Object.assign({}, texts, ...more);
}

/** Fetches the sentences of what can go wrong. Where they cannot be had, one that says less stands in for them. */
export async function loadProblems(): Promise<void> {
  try {
    await loadTexts('common');
  } catch (error) {
    // A browser says only that the module could not be fetched.
    if (!(error instanceof TypeError)) throw error;
  }
}

/** Whether there is such a text, and it has been fetched. */
export function hasText(key: string): key is TextKey {
  return key in texts;
}

/**
 * The text of a key. `{name}` is filled in; `{name:one form/other form}` is the form that the number `name` takes.
 * @throws RangeError when the text names a value that was not given, or the key's group was not loaded
 */
export function t(key: TextKey, values: Readonly<Record<string, string | number>> = {}): string {
  const text = texts[key];
  if (text === undefined) throw new RangeError(`there is no text ${key} in ${language}, or not yet`);
  return text.replace(
    /\{(\w+)(?::([^}/]*)\/([^}]*))?\}/g,
    (_, name: string, one?: string, other?: string) => {
      const value = values[name];
      if (value === undefined) throw new RangeError(`the text ${key} needs a value for ${name}`);
      if (one === undefined || other === undefined) return String(value);
      return plurals.select(Number(value)) === 'one' ? one : other;
    },
  );
}
