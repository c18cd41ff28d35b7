/** Search among named things: every word typed must be found in the name, those at the beginning of a word first. */

function plain(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
}

/** The items whose names hold every word of the text; all of them for an empty text. Order kept within equals. */
export function searchActions<T>(
  items: readonly T[],
  text: string,
  nameOf: (item: T) => string,
): readonly T[] {
  const words = plain(text)
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return items;
  const scored = items.flatMap((item) => {
    const name = plain(nameOf(item));
    if (!words.every((word) => name.includes(word))) return [];
    const starts = words.filter((word) => name.startsWith(word) || name.includes(` ${word}`)).length;
    return [{ item, score: starts + (name.startsWith(words[0] as string) ? 1 : 0) }];
  });
  return scored.sort((a, b) => b.score - a.score).map(({ item }) => item);
}
