/** Writes whole patterns into a document. */
import { type ColourId, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import type { StoredBase } from './base-knots.ts';
import { colourKey, foundingLocal, type Roots, scoped } from './schema.ts';
import { set, type Write } from './writes.ts';

/** A pattern under a new pattern id: pairs, flags, colours of strings and knots. */
export function patternWrites(roots: Roots, id: string, pattern: Pattern): Write[] {
  const { colours, start, rows } = pattern;
  // A pattern without rows has no row pairs, wherever it would begin.
  const rowPairs = rows === 0 ? 0 : (rows + start + 1) >> 1;
  const stringPairs = (colours.length + 1) >> 1;
  // The hidden string beside a lone one has its neighbour's colour.
  const ofPairs = colours.length % 2 === 1 ? [...colours, colours.at(-1)!] : colours;
  return pairsWrites(roots, id, {
    rows: rowPairs,
    strings: stringPairs,
    flags: {
      firstHidden: start === 1,
      lastHidden: rows > 0 && (rows + start) % 2 === 1,
      loneString: colours.length % 2 === 1,
    },
    ofPairs,
    knots: packKnots(pattern, rowPairs, stringPairs),
  });
}

/** A pattern as the document divides it. */
export interface PairedPattern {
  /** Local ids, or how many there are of `~0`, `~1`, … */
  readonly rows: StoredBase['rows'];
  readonly strings: StoredBase['strings'];
  readonly flags: {
    readonly firstHidden: boolean;
    readonly lastHidden: boolean;
    readonly loneString: boolean;
  };
  /** Two for each string pair. */
  readonly ofPairs: readonly ColourId[];
  /** Laid out as in {@link StoredBase}. */
  readonly knots: Uint8Array;
}

/** Writes of a pattern under the given id. */
export function pairsWrites(roots: Roots, id: string, paired: PairedPattern): Write[] {
  const writes: Write[] = [];
  const idsOf = (pairs: StoredBase['rows']): string[] =>
    typeof pairs === 'number'
      ? Array.from({ length: pairs }, (_, i) => scoped(id, foundingLocal(i)))
      : pairs.map((local) => scoped(id, local));
  const stringIds = idsOf(paired.strings);
  for (const [list, ids] of [
    [roots.rowPairs, idsOf(paired.rows)],
    [roots.stringPairs, stringIds],
  ] as const)
    if (ids.length > 0) writes.push({ do: 'insert', list, at: list.length, ids });
  for (const [flag, value] of Object.entries(paired.flags))
    writes.push(set(roots.meta, scoped(id, flag), value));
  paired.ofPairs.forEach((colour, string) => {
    writes.push(set(roots.colours, colourKey(stringIds[string >> 1]!, (string & 1) as 0 | 1), colour));
  });
  const base: StoredBase = { rows: paired.rows, strings: paired.strings, knots: paired.knots };
  writes.push(set(roots.knots, id, base));
  return writes;
}

/** Packs the knots of a pattern as {@link StoredBase} holds them. O(knots). */
export function packKnots(
  { start, rows, knots, colours }: Pattern,
  rowPairs: number,
  stringPairs: number,
): Uint8Array {
  const stride = rowStride(colours.length);
  const packed = new Uint8Array(rowPairs * stringPairs);
  for (let row = 0; row < rows; row++) {
    const shift = rowParity(start, row) === 0 ? 0 : 4;
    const at = ((row + start) >> 1) * stringPairs;
    for (let k = 0; k < stride; k++) packed[at + k]! |= knots[row * stride + k]! << shift;
  }
  return packed;
}
