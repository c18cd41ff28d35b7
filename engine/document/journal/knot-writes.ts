/** Writing knots, packed when they are more than a message should carry as keys; and what of them the document holds. */
import type * as Y from 'yjs';
import { indexOf, MAX_PACKED_BYTES, MAX_PAIRS, readBase, type StoredBase } from '../base-knots.ts';
import { set, type Write } from '../writes.ts';
import type { KeyChange } from './key-change.ts';
import {
  baseOf,
  codeOf,
  eachKnot,
  fillFromBase,
  KnotMatrix,
  type KnotPlace,
  keyOf,
  knotPlaceOf,
  LEAVE,
  placeIn,
} from './knots-shown.ts';

/** More knots than this are written as a base. */
const MOST_KEYED = 50_000;

/** The knot at a key, as it reads. */
export function shownAt(map: Y.Map<unknown>, key: string, { pattern, row, string, half }: KnotPlace): number {
  return codeOf(map.get(key)) ?? baseOf(map.get(pattern)).get(row, string, half);
}

/** Whether the document holds nothing of a knot: neither a key nor pairs of its base. A renewal drops what hangs on pairs that are gone. */
export function isUnheard(map: Y.Map<unknown>, key: string, { pattern, row, string }: KnotPlace): boolean {
  if (map.has(key)) return false;
  return !baseOf(map.get(pattern)).knows(row, string);
}

/**
 * The writes after which the knots of a matrix read as it says. Very many of them are a new base with all the former one says
 * besides, and those keys anew that lie over it; a base that would be too large is none, and then they are keys.
 */
export function matrixWrites(
  map: Y.Map<unknown>,
  pattern: string,
  wanted: KnotMatrix,
  mostKeyed = MOST_KEYED,
): Write[] {
  let count = 0;
  eachKnot(wanted, (i, j, half) => {
    if (wanted.get(i, j, half) !== LEAVE) count++;
  });
  const keyed = (isOnlyOver: boolean): Write[] => {
    const writes: Write[] = [];
    eachKnot(wanted, (i, j, half) => {
      const code = wanted.get(i, j, half);
      if (code === LEAVE) return;
      const key = keyOf(placeIn(wanted, pattern, i, j, half));
      if (!isOnlyOver || map.has(key)) writes.push(set(map, key, code));
    });
    return writes;
  };
  if (count <= mostKeyed) return keyed(false);
  const old = baseOf(map.get(pattern));
  const rows = [...new Set([...old.rows, ...wanted.rows])];
  const strings = [...new Set([...old.strings, ...wanted.strings])];
  const isTooLarge =
    rows.length > MAX_PAIRS || strings.length > MAX_PAIRS || rows.length * strings.length > MAX_PACKED_BYTES;
  if (isTooLarge) return keyed(false);
  const next = new KnotMatrix(rows, strings);
  fillFromBase(next, old);
  const [rowIndex, stringIndex] = [indexOf(rows), indexOf(strings)];
  const atRow = wanted.rows.map((row) => rowIndex.get(row)!);
  const atString = wanted.strings.map((string) => stringIndex.get(string)!);
  eachKnot(wanted, (i, j, half) => {
    const code = wanted.get(i, j, half);
    if (code !== LEAVE) next.put(atRow[i]!, atString[j]!, half, code);
  });
  return [set(map, pattern, next.toBase()), ...keyed(true)];
}

/** The bases in a change of many knots; null when it is not one. */
export function replacedBases({
  root,
  key,
  before,
  after,
}: KeyChange): readonly [StoredBase, StoredBase] | null {
  if (root !== 'knots' || knotPlaceOf(key) !== null) return null;
  return readBase(before) === null || readBase(after) === null
    ? null
    : [before as StoredBase, after as StoredBase];
}
