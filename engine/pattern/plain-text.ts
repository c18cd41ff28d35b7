/**
 * Text that shows as it is written: what board files and commands may hold, and how a reader mends what a peer wrote.
 *
 * Not in it: controls but tab and line ends (not every store keeps them, and XML none), marks that turn the writing direction of what
 * follows beyond the text (Unicode Standard Annex 9, embeddings, overrides and isolates), halves of surrogate pairs standing alone, the two
 * code points that are no characters in XML, and hundreds of spaces in a row.
 */
/** Most white space in a row; a table pasted into notes has less. */
export const MAX_SPACES_IN_A_ROW = 100;

const NOT_PLAIN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffe\uffff]/;
const EACH_NOT_PLAIN = new RegExp(NOT_PLAIN, 'g');
/** The same for other programs, as a regular expression that a whole text matches; of halves of pairs it says nothing. */
export const PLAIN_TEXT_PATTERN = `^${NOT_PLAIN.source.replace('[', '[^')}*$`;

const LONE_HALF = /\p{Surrogate}/u;
const EACH_LONE_HALF = /\p{Surrogate}/gu;
const LONG_GAP = new RegExp(`\\s{${MAX_SPACES_IN_A_ROW + 1}}`);
const EACH_LONG_GAP = new RegExp(`(\\s{${MAX_SPACES_IN_A_ROW}})\\s+`, 'g');

/** What is wrong with a text; null when it is plain. O(characters). Rule P31. */
export function textFault(text: string): 'characters' | 'spaces' | null {
  if (NOT_PLAIN.test(text) || LONE_HALF.test(text)) return 'characters';
  return LONG_GAP.test(text) ? 'spaces' : null;
}

/** The text without what is not plain: characters are left out, halves of pairs replaced, gaps cut short. Plain text stays. */
export function plainText(text: string): string {
  return text.replace(EACH_LONE_HALF, '\ufffd').replace(EACH_NOT_PLAIN, '').replace(EACH_LONG_GAP, '$1');
}

/** The text with escapes for what is not plain, so that a sentence around it stays as it is. */
export function escapeText(text: string): string {
  const asEscape = (unit: string): string => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;
  return text.replace(EACH_NOT_PLAIN, asEscape).replace(EACH_LONE_HALF, asEscape);
}
