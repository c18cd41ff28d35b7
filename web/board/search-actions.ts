/** Search among named things: every word typed must be found in the name or among its other words, names first, and in them beginnings of words. */

function plain(text: string): string {
  return text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();
}

/** The items whose names or other words hold every word of the text; all of them for an empty text. Order kept within equals. */
export function searchActions<T>(
  items: readonly T[],
  text: string,
  nameOf: (item: T) => string,
  wordsOf: (item: T) => string = () => '',
): readonly T[] {
  const words = plain(text)
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0) return items;
  const scored = items.flatMap((item) => {
    const name = plain(nameOf(item));
    const all = `${name} ${plain(wordsOf(item))}`;
    if (!words.every((word) => all.includes(word))) return [];
    const starts = words.filter((word) => name.startsWith(word) || name.includes(` ${word}`)).length;
    const isNamed = words.every((word) => name.includes(word));
    return [{ item, score: starts + (name.startsWith(words[0] as string) ? 1 : 0) + (isNamed ? 1 : 0) }];
  });
  return scored.sort((a, b) => b.score - a.score).map(({ item }) => item);
}
