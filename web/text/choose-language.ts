/** Which language the page speaks. Apart from the texts, for who has to know before these are there. */

export const LANGUAGE_KEY = 'larkboard.language';

/**
 * The language chosen here before, else the first of the browser's languages that is known, else the first known.
 * @param kept what is kept of the choice
 */
export function chooseLanguage<L extends string>(known: readonly [L, ...L[]], kept: string | null): L {
  const isKnown = (name: string | null): name is L => known.includes(name as L);
  if (isKnown(kept)) return kept;
  for (const tag of navigator.languages) {
    const [name = ''] = tag.toLowerCase().split('-');
    if (isKnown(name)) return name;
  }
  return known[0];
}
