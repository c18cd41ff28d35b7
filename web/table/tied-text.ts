/** Tied knots as short text, to be kept at every step: a row of any width is one entry, such as `band 2 14 0-6,9`. */
import { knotKey, readKnotKey, type TiedKeys } from '../../engine/index.ts';

/**
 * Sets of tied knots as text, one after the other: the knots by rows, each row with its stretches of neighbours. Of a set that goes on from
 * the last one, only rows with other knots are written anew.
 */
export class TiedText {
  /** Knots of the last set, in its order. */
  #keys: string[] = [];
  readonly #rows = new Map<string, { readonly ks: number[]; text: string }>();

  /** O(knots), of which those that were in the last set are compared and no more. Rule N3. */
  of(tied: TiedKeys): string {
    let at = 0;
    for (const key of tied) {
      if (at < this.#keys.length && key !== this.#keys[at]) this.#cut(at);
      if (at === this.#keys.length) this.#add(key);
      at++;
    }
    if (at < this.#keys.length) this.#cut(at);
    for (const [row, one] of this.#rows) if (one.text === '') one.text = `${row} ${stretches(one.ks)}`;
    return Array.from(this.#rows.values(), ({ text }) => text).join(';');
  }

  #add(key: string): void {
    this.#keys.push(key);
    const at = key.lastIndexOf(' ');
    const row = key.slice(0, at);
    const k = Number(key.slice(at + 1));
    const own = this.#rows.get(row);
    if (own === undefined) this.#rows.set(row, { ks: [k], text: '' });
    else {
      own.ks.push(k);
      own.text = '';
    }
  }

  /** Takes the knots from there on out again, the last one first: of its row it is the last too. */
  #cut(length: number): void {
    while (this.#keys.length > length) {
      const key = this.#keys.pop()!;
      const row = key.slice(0, key.lastIndexOf(' '));
      const own = this.#rows.get(row)!;
      own.ks.pop();
      own.text = '';
      if (own.ks.length === 0) this.#rows.delete(row);
    }
  }
}

/** The knots of a text; what cannot be read of it is left out. The inverse of {@link TiedText}. */
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
