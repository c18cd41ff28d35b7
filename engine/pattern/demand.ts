/** What a refused value would have to be, as data: a page says it in its own language. */
import { escapeText, MAX_SPACES_IN_A_ROW, textFault } from './plain-text.ts';

/** `be` names the sentence; the rest is filled into it. */
export type Demand =
  | { readonly be: 'above-0' }
  | { readonly be: 'not-negative' }
  | { readonly be: 'whole'; readonly least: number; readonly most: number }
  /** Above `least`, up to `most`. */
  | { readonly be: 'above'; readonly least: number; readonly most: number }
  | { readonly be: 'between'; readonly least: number; readonly most: number }
  | { readonly be: 'unset-beside'; readonly other: string }
  | { readonly be: 'short-for-repeats'; readonly most: number }
  | { readonly be: 'one-of'; readonly choices: string }
  | { readonly be: 'characters'; readonly least: number; readonly most: number }
  | { readonly be: 'entries'; readonly least: number; readonly most: number }
  /** As many knots as that many strings have in the row. */
  | { readonly be: 'knots'; readonly count: number; readonly strings: number }
  | { readonly be: 'text' }
  /** Without controls, marks that turn the writing direction, and halves of characters. */
  | { readonly be: 'plain' }
  /** At most so much white space in a row. */
  | { readonly be: 'spaces'; readonly most: number }
  | { readonly be: 'list' }
  | { readonly be: 'object' }
  | { readonly be: 'flag' }
  | { readonly be: 'hex' }
  | { readonly be: 'id' }
  | { readonly be: 'knot' }
  | { readonly be: 'most-rows'; readonly most: number }
  | { readonly be: 'most-strings'; readonly most: number }
  | { readonly be: 'most-colours'; readonly most: number }
  | { readonly be: 'most-colourways'; readonly most: number }
  | { readonly be: 'most-knots'; readonly most: number };

/** For logs, such as "must be characters least 1 most 60, not 61": pages have sentences of their own. */
export function demandMessage(demand: Demand, value: string): string {
  return `must be ${Object.entries(demand).flat().slice(1).join(' ')}, not ${value}`;
}

/** What a text would have to be; null when it is plain. O(characters). Rule P31. */
export function demandOfText(text: string): Demand | null {
  const fault = textFault(text);
  if (fault === null) return null;
  return fault === 'spaces' ? { be: 'spaces', most: MAX_SPACES_IN_A_ROW } : { be: 'plain' };
}

/** Characters of a value that a sentence shows. */
const MOST_SHOWN = 60;

/** A value as it may stand in a sentence of any language: JSON, cut short; signs alone for lists, objects and nothing. */
export function showValue(value: unknown): string {
  if (value === undefined) return '–';
  if (Array.isArray(value)) return '[…]';
  if (typeof value === 'object' && value !== null) return '{…}';
  const text = typeof value === 'string' ? JSON.stringify(value.slice(0, MOST_SHOWN + 1)) : String(value);
  return cutShort(escapeText(text));
}

/** A name of a field that nobody knows, as it may stand in a path. */
export function showName(name: string): string {
  return cutShort(escapeText(name.slice(0, MOST_SHOWN + 1)));
}

function cutShort(text: string): string {
  return text.length > MOST_SHOWN ? `${text.slice(0, MOST_SHOWN - 3)}…` : text;
}
