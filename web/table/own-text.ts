/** What a keychain has of its own, as short text to be kept with it: kinds of knots, and how fast it was tied. */
import { KNOT_TOKENS, type KnotToken, readKnotKey, type TiedMark } from '../../engine/index.ts';

/** Kinds by the keys of their knots, such as `band 1 4 2=fb;…`. Rule N41. */
export function kindsToText(kinds: ReadonlyMap<string, KnotToken>): string {
  return [...kinds].map(([key, kind]) => `${key}=${kind}`).join(';');
}

/** The kinds of a text; what cannot be read of it is left out. The inverse of {@link kindsToText}. */
export function textToKinds(text: string): ReadonlyMap<string, KnotToken> {
  const kinds = new Map<string, KnotToken>();
  for (const entry of text.split(';')) {
    const [key = '', token] = entry.split('=');
    const kind = KNOT_TOKENS.find((one) => one === token);
    if (kind !== undefined && readKnotKey(key) !== null) kinds.set(key, kind);
  }
  return kinds;
}

/** Marks, such as `8200,1;95000,3,h`: milliseconds, knots, and whether the page was hidden. Rule N60. */
export function marksToText(marks: readonly TiedMark[]): string {
  return marks
    .map(({ gapMs, knots, wasHidden }) => `${Math.round(gapMs)},${knots}${wasHidden ? ',h' : ''}`)
    .join(';');
}

/** The marks of a text; what cannot be read of it is left out. The inverse of {@link marksToText}, to the millisecond. */
export function textToMarks(text: string): readonly TiedMark[] {
  return text.split(';').flatMap((entry) => {
    const parts = /^(\d{1,12}),(\d{1,6})(,h)?$/.exec(entry);
    if (parts === null || Number(parts[2]) === 0) return [];
    return [{ gapMs: Number(parts[1]), knots: Number(parts[2]), wasHidden: parts[3] !== undefined }];
  });
}
