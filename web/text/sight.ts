/** What stands there before the page itself, in each language; few enough words to come with the first bytes. */
import { chooseLanguage, LANGUAGE_KEY } from './choose-language.ts';
import { deSight } from './de/sight.ts';
import { enSight } from './en/sight.ts';

/** The words in the language that the page will speak. */
export function sightTexts(): { readonly language: string; readonly texts: typeof deSight } {
  const language = chooseLanguage(['en', 'de'], keptLanguage());
  return { language, texts: language === 'de' ? deSight : enSight };
}

/** Where the browser lets the page keep nothing it throws; the page has something in its place, but not yet. */
function keptLanguage(): string | null {
  try {
    return localStorage.getItem(LANGUAGE_KEY);
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return null;
  }
}
