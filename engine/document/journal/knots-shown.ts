/** Knots by key, as they read: the key's own value, else what the base says. */
import type * as Y from 'yjs';
import { BaseKnots, indexOf, readBase, shortest, type StoredBase } from '../base-knots.ts';
import { type Half, knotKey, localOf, readKnotKey, scoped } from '../schema.ts';
import { scopeOf } from './key-change.ts';

/** In a matrix of knots: leave as it is. */
export const LEAVE = 15;

export interface KnotPlace {
  readonly pattern: string;
  readonly row: string;
  readonly string: string;
  readonly half: Half;
}

const bases = new WeakMap<object, BaseKnots>();

/** A stored base that can be asked; the same for the same value. One that cannot be read knows nothing. */
export function baseOf(value: unknown): BaseKnots {
  if (typeof value !== 'object' || value === null) return BaseKnots.none;
  const known = bases.get(value);
  if (known !== undefined) return known;
  const base = readBase(value) ?? BaseKnots.none;
  bases.set(value, base);
  return base;
}

/** The local ids in a knot's key; null when it is none. */
export function knotPlaceOf(key: string): KnotPlace | null {
  const parts = readKnotKey(key);
  if (parts === null) return null;
  const pattern = scopeOf(parts.rowPair);
  const row = localOf(pattern, parts.rowPair);
  return row === null ? null : { pattern, row, string: parts.stringLocal, half: parts.half };
}

/** The code that a stored value reads as; undefined where there is no value. */
export function codeOf(value: unknown): number | undefined {
  if (value === undefined) return undefined;
  return value === 1 || value === 2 || value === 3 || value === 4 ? value : 0;
}

/** Knots by pair; {@link LEAVE} where none is meant. Laid out as a {@link StoredBase}. */
export class KnotMatrix {
  readonly rows: readonly string[];
  readonly strings: readonly string[];
  readonly bytes: Uint8Array;
  #rowSet: ReadonlySet<string> | null = null;
  #stringSet: ReadonlySet<string> | null = null;

  constructor(rows: readonly string[], strings: readonly string[], fill = 0) {
    this.rows = rows;
    this.strings = strings;
    this.bytes = new Uint8Array(rows.length * strings.length).fill(fill | (fill << 4));
  }

  has(row: string, string: string): boolean {
    this.#rowSet ??= new Set(this.rows);
    this.#stringSet ??= new Set(this.strings);
    return this.#rowSet.has(row) && this.#stringSet.has(string);
  }

  get(i: number, j: number, half: 0 | 1): number {
    const byte = this.bytes[i * this.strings.length + j]!;
    return half === 0 ? byte & 15 : byte >> 4;
  }

  put(i: number, j: number, half: 0 | 1, code: number): void {
    const at = i * this.strings.length + j;
    const byte = this.bytes[at]!;
    this.bytes[at] = half === 0 ? (byte & 0xf0) | code : (byte & 0x0f) | (code << 4);
  }

  toBase(): StoredBase {
    return { rows: shortest(this.rows), strings: shortest(this.strings), knots: this.bytes };
  }
}

/** Every knot of some pairs as they read. O(pairs + keys). */
export function matrixOf(
  map: Y.Map<unknown>,
  pattern: string,
  rows: readonly string[],
  strings: readonly string[],
): KnotMatrix {
  const matrix = new KnotMatrix(rows, strings);
  fillFromBase(matrix, baseOf(map.get(pattern)));
  if (rows.length * strings.length * 2 < map.size)
    eachKnot(matrix, (i, j, half) => {
      const code = codeOf(map.get(keyOf(placeIn(matrix, pattern, i, j, half))));
      if (code !== undefined) matrix.put(i, j, half, code);
    });
  else layKeysOver(matrix, pattern, map.entries());
  return matrix;
}

/** Puts what a base says into the pairs of a matrix that it knows. */
export function fillFromBase(matrix: KnotMatrix, base: BaseKnots): void {
  const [rowIndex, stringIndex] = [indexOf(base.rows), indexOf(base.strings)];
  const columns = matrix.strings.map((local) => stringIndex.get(local));
  matrix.rows.forEach((local, i) => {
    const from = rowIndex.get(local);
    if (from === undefined) return;
    columns.forEach((column, j) => {
      if (column === undefined) return;
      for (const half of [0, 1] as const) matrix.put(i, j, half, base.at(from, column, half));
    });
  });
}

/** Puts the values of keys into the matrix. */
export function layKeysOver(
  matrix: KnotMatrix,
  pattern: string,
  entries: Iterable<readonly [string, unknown]>,
): void {
  const [rowIndex, stringIndex] = [indexOf(matrix.rows), indexOf(matrix.strings)];
  for (const [key, value] of entries) {
    const place = knotPlaceOf(key);
    const code = codeOf(value);
    if (place === null || place.pattern !== pattern || code === undefined) continue;
    const [i, j] = [rowIndex.get(place.row), stringIndex.get(place.string)];
    if (i !== undefined && j !== undefined) matrix.put(i, j, place.half === 'inside' ? 0 : 1, code);
  }
}

/** Calls with each knot, in no more time than that takes: keys are spelled when they are asked for. */
export function eachKnot(
  { rows, strings }: Pick<KnotMatrix, 'rows' | 'strings'>,
  call: (i: number, j: number, half: 0 | 1) => void,
): void {
  for (let i = 0; i < rows.length; i++)
    for (let j = 0; j < strings.length; j++) {
      call(i, j, 0);
      call(i, j, 1);
    }
}

/** The knot at these indices of a matrix. */
export function placeIn(
  { rows, strings }: Pick<KnotMatrix, 'rows' | 'strings'>,
  pattern: string,
  i: number,
  j: number,
  half: 0 | 1,
): KnotPlace {
  return { pattern, row: rows[i]!, string: strings[j]!, half: half === 0 ? 'inside' : 'seam' };
}

export function keyOf({ pattern, row, string, half }: KnotPlace): string {
  return knotKey(scoped(pattern, row), string, half);
}
