/** What stands there before the page itself, in each language; few enough words to come with the first bytes. */
import { chooseLanguage } from './choose-language.ts';
import { deSight } from './de/sight.ts';
import { enSight } from './en/sight.ts';

/** The words in the language that the page will speak. */
export function sightTexts(): { readonly language: string; readonly texts: typeof deSight } {
  const language = chooseLanguage(['en', 'de']);
  return { language, texts: language === 'de' ? deSight : enSight };
}
