/**
 * Many knots of a pattern changed at once, packed: a new base, and only those keys anew that say otherwise. A key for each knot would be
 * 80 MB for the largest board, a base is one.
 */
import type * as Y from 'yjs';
import {
  BaseKnots,
  indexOf,
  MAX_PACKED_BYTES,
  MAX_PAIRS,
  readBase,
  shortest,
  type StoredBase,
} from './base-knots.ts';
import type { Demand } from '../pattern/index.ts';
import type { KeyedDesign } from './compare/index.ts';
import { localOf, readKnotKey } from './schema.ts';
import { set, type Write } from './writes.ts';

/** What a base would have too many of, and how many. */
export interface Excess {
  readonly demand: Demand;
  readonly found: number;
}

/** Knots of a base at most. */
const MOST_PACKED_KNOTS = MAX_PACKED_BYTES * 2;

/**
 * The writes after which the knots of a pattern read as those of `next`, and those of pairs that are gone wait as before.
 * O(keys + knots). Rule Y25.
 * @returns instead of what the base would have too many, when it has: one with more pairs could not be read. Rule Y30.
 */
export function packedKnotWrites(map: Y.Map<unknown>, next: KeyedDesign): Write[] | Excess {
  const { patternId, knots } = next;
  const locals = (ids: readonly string[]): string[] => ids.map((id) => localOf(patternId, id)!);
  const nextRows = locals(next.rowPairIds);
  const nextStrings = locals(next.stringPairIds);
  const old = readBase(map.get(patternId)) ?? BaseKnots.none;
  const rows = [...new Set([...nextRows, ...old.rows])];
  const strings = [...new Set([...nextStrings, ...old.strings])];
  const count = rows.length * strings.length * 2;
  if (count > MOST_PACKED_KNOTS)
    return { demand: { be: 'most-knots', most: MOST_PACKED_KNOTS }, found: count };
  if (rows.length > MAX_PAIRS)
    return { demand: { be: 'most-rows', most: MAX_PAIRS * 2 }, found: rows.length * 2 };
  if (strings.length > MAX_PAIRS)
    return { demand: { be: 'most-strings', most: MAX_PAIRS * 2 }, found: strings.length * 2 };

  const packed = new Uint8Array(rows.length * strings.length);
  for (let i = 0; i < nextRows.length; i++)
    packed.set(knots.subarray(i * nextStrings.length, (i + 1) * nextStrings.length), i * strings.length);
  const [oldRows, oldStrings] = [indexOf(old.rows), indexOf(old.strings)];
  const stringAt = strings.map((local) => oldStrings.get(local));
  rows.forEach((local, i) => {
    const from = oldRows.get(local);
    if (from === undefined) return;
    for (let j = i < nextRows.length ? nextStrings.length : 0; j < strings.length; j++) {
      const at = stringAt[j];
      if (at !== undefined) packed[i * strings.length + j] = old.at(from, at, 0) | (old.at(from, at, 1) << 4);
    }
  });
  const base: StoredBase = { rows: shortest(rows), strings: shortest(strings), knots: packed };

  const rowIndex = indexOf(next.rowPairIds);
  const stringIndex = indexOf(nextStrings);
  const writes = [set(map, patternId, base)];
  map.forEach((value, key) => {
    const parts = readKnotKey(key);
    if (parts === null) return;
    const i = rowIndex.get(parts.rowPair);
    const j = stringIndex.get(parts.stringLocal);
    if (i === undefined || j === undefined) return;
    const byte = knots[i * nextStrings.length + j]!;
    const wanted = parts.half === 'inside' ? byte & 15 : byte >> 4;
    if (value !== wanted) writes.push(set(map, key, wanted));
  });
  return writes;
}
