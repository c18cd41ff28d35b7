/**
 * Names to propose: words of the craft, in the language of whoever reads them. Who goes by `Bobbin` on one page goes by `Spule` on a
 * German one, and it is one name on both.
 */
import { CRAFT_NAMES, currentLanguage } from '../text/index.ts';

interface CraftWord {
  /** Its place in the list of each language. */
  readonly at: number;
  /** What follows the word where all words were taken: ` 2`. */
  readonly number: string;
}

/** The words that can be proposed on this page. */
export function craftWords(): readonly string[] {
  return CRAFT_NAMES[currentLanguage()];
}

/** The word that a name is, in whatever language; null for any other name. */
function craftWord(name: string): CraftWord | null {
  const [, word = '', number = ''] = /^(\S+?)( \d+)?$/.exec(name) ?? [];
  for (const words of Object.values(CRAFT_NAMES)) {
    const at = words.findIndex((one) => one.toLowerCase() === word.toLowerCase());
    if (at >= 0) return { at, number };
  }
  return null;
}

/** A name that was proposed, as it is called on this page; any other name as it is. */
export function inOwnWords(name: string): string {
  const word = craftWord(name);
  return word === null ? name : `${craftWords()[word.at]}${word.number}`;
}

/** Names that count as the same are equal by this: letters in either case, and words of the craft in any language. */
export function nameKey(name: string): string {
  const plain = name.normalize('NFKC').trim().toLowerCase();
  const word = craftWord(plain);
  return word === null ? plain : `${word.at}${word.number} `;
}
