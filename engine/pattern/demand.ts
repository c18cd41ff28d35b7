/** What a refused value would have to be, as data: a page says it in its own language. */

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

/** A value as it may stand in a sentence of any language: JSON, cut short; signs alone for lists, objects and nothing. */
export function showValue(value: unknown): string {
  if (value === undefined) return '–';
  if (Array.isArray(value)) return '[…]';
  if (typeof value === 'object' && value !== null) return '{…}';
  const text = typeof value === 'string' ? JSON.stringify(value) : String(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}
