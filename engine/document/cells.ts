/**
 * Where a knot of the document stands in the pattern, and back.
 *
 * Row pair `p` holds document rows `2p` (knots inside the string pairs) and `2p + 1` (knots on the seams between them);
 * pattern row `r` is document row `r + start`. In an inside row knot `k` belongs to string pair `k`, in a seam row to the
 * seam behind string pair `k`. Neither depends on how many rows and strings are hidden.
 */
import { knotsInRow } from '../pattern/index.ts';
import type { KnotAddress, RowAddress, StringAddress } from './presence.ts';
import type { Shape } from './read-lists.ts';
import { type Half, localOf, readKnotKey, scoped } from './schema.ts';

export interface Cell {
  readonly row: number;
  readonly k: number;
}

/** Cell of a half in the row pair `p` at string pair `q`; null when its row or string is hidden. */
export function cellAt(shape: Shape, p: number, q: number, half: Half): Cell | null {
  const row = p * 2 + (half === 'seam' ? 1 : 0) - shape.start;
  if (row < 0 || row >= shape.rows) return null;
  return q < knotsInRow(shape.strings, half === 'seam' ? 1 : 0) ? { row, k: q } : null;
}

/** Address of a cell; null when it lies outside the pattern. */
export function addressAt(shape: Shape, row: number, k: number): KnotAddress | null {
  if (!Number.isInteger(row) || row < 0 || row >= shape.rows) return null;
  const parity = ((shape.start + row) & 1) as 0 | 1;
  if (!Number.isInteger(k) || k < 0 || k >= knotsInRow(shape.strings, parity)) return null;
  return {
    rowPair: shape.rowPairIds[(row + shape.start) >> 1]!,
    stringPair: shape.stringPairIds[k]!,
    half: parity === 0 ? 'inside' : 'seam',
  };
}

/** Address in a knot's key; null when it is none. */
export function addressOfKey(key: string): KnotAddress | null {
  const parts = readKnotKey(key);
  if (parts === null) return null;
  const { rowPair, stringLocal, half } = parts;
  return { rowPair, stringPair: scoped(rowPair.slice(0, rowPair.indexOf('.')), stringLocal), half };
}

/** Cell of an address; null when its pair was deleted or its row or string is hidden. */
export function placeAt(shape: Shape, pattern: string, address: KnotAddress): Cell | null {
  const p = shape.rowIndex.get(address.rowPair);
  const local = localOf(pattern, address.stringPair);
  const q = local === null ? undefined : shape.stringIndex.get(local);
  return p === undefined || q === undefined ? null : cellAt(shape, p, q, address.half);
}

/** Address of a shown row; null outside the pattern. */
export function rowAddressAt(shape: Shape, row: number): RowAddress | null {
  if (!Number.isInteger(row) || row < 0 || row >= shape.rows) return null;
  const at = row + shape.start;
  return { rowPair: shape.rowPairIds[at >> 1]!, half: at % 2 === 0 ? 'inside' : 'seam' };
}

/** Row of an address; null when its pair was deleted or the row is hidden. */
export function rowAt(shape: Shape, address: RowAddress): number | null {
  const p = shape.rowIndex.get(address.rowPair);
  if (p === undefined) return null;
  const row = p * 2 + (address.half === 'seam' ? 1 : 0) - shape.start;
  return row >= 0 && row < shape.rows ? row : null;
}

/** Address of a shown string; null outside the pattern. */
export function stringAddressAt(shape: Shape, string: number): StringAddress | null {
  if (!Number.isInteger(string) || string < 0 || string >= shape.strings) return null;
  return { stringPair: shape.stringPairIds[string >> 1]!, side: (string & 1) as 0 | 1 };
}

/** String of an address; null when its pair was deleted or the string is hidden. */
export function stringAt(shape: Shape, pattern: string, address: StringAddress): number | null {
  const local = localOf(pattern, address.stringPair);
  const q = local === null ? undefined : shape.stringIndex.get(local);
  if (q === undefined) return null;
  const string = q * 2 + address.side;
  return string < shape.strings ? string : null;
}
