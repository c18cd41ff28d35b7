/** Tied knots as short text, to be kept at every step: a row of any width is one entry, such as `band 2 14 0-6,9`. */
import { knotKey, readKnotKey, type TiedKeys } from '../../engine/index.ts';

/** The knots by rows, each row with its stretches of neighbours. O(knots log knots). Rule N3. */
export function tiedToText(tied: TiedKeys): string {
  const rows = new Map<string, number[]>();
  for (const key of tied) {
    const at = key.lastIndexOf(' ');
    const row = key.slice(0, at);
    rows.set(row, [...(rows.get(row) ?? []), Number(key.slice(at + 1))]);
  }
  return [...rows].map(([row, ks]) => `${row} ${stretches(ks)}`).join(';');
}

/** The knots of a text; what cannot be read of it is left out. The inverse of {@link tiedToText}. */
export function textToTied(text: string): TiedKeys {
  const tied = new Set<string>();
  for (const entry of text.split(';')) {
    const at = entry.lastIndexOf(' ');
    for (const stretch of entry.slice(at + 1).split(',')) {
      const [first, last = first] = stretch.split('-');
      if (!/^\d{1,3}$/.test(first ?? '') || !/^\d{1,3}$/.test(last ?? '')) continue;
      for (let k = Number(first); k <= Number(last); k++) {
        const knot = readKnotKey(`${entry.slice(0, at)} ${k}`);
        if (knot !== null) tied.add(knotKey(knot));
      }
    }
  }
  return tied;
}

function stretches(ks: readonly number[]): string {
  const rising = [...ks].sort((a, b) => a - b);
  const found: string[] = [];
  for (let from = 0; from < rising.length; ) {
    let to = from;
    while (rising[to + 1] === rising[to]! + 1) to++;
    found.push(from === to ? `${rising[from]}` : `${rising[from]}-${rising[to]}`);
    from = to + 1;
  }
  return found.join(',');
}
