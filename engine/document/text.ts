/** Text as every client reads it alike. */
import { plainText } from '../pattern/index.ts';

/**
 * Replaces halves of surrogate pairs that stand alone. They cannot be encoded, so a peer would read something else than
 * the writer.
 */
export function wellFormed(text: string): string {
  return text.replace(/\p{Surrogate}/gu, '\ufffd');
}

/** The first `most` UTF-16 units of well-formed text, never half of a pair. */
export function cutText(text: string, most: number): string {
  const whole = wellFormed(text.length > most + 1 ? text.slice(0, most + 1) : text);
  if (whole.length <= most) return whole;
  const last = whole.charCodeAt(most - 1);
  return whole.slice(0, last >= 0xd800 && last < 0xdc00 ? most - 1 : most);
}

/** What a reader shows of text that a peer wrote: plain, and of at most so many UTF-16 units. */
export function cutPlain(text: string, most: number): string {
  return plainText(cutText(text, most));
}

const HEX = /^#[0-9a-f]{6}$/i;

/** `#rrggbb` in lower case; null when the value is no such colour. */
export function readHex(value: unknown): string | null {
  return typeof value === 'string' && HEX.test(value) ? value.toLowerCase() : null;
}

/** Order of strings by their UTF-16 units, the same in every browser and language. */
export function byUnits(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
