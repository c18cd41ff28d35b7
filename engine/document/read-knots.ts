/** Reads the knots of a pattern, all of them or those that a change names. */
import type * as Y from 'yjs';
import { type KnotCode, knotsInRow, rowStride } from '../pattern/index.ts';
import { BaseKnots, readBase } from './base-knots.ts';
import { type Cell, cellAt } from './cells.ts';
import type { Shape } from './read-lists.ts';
import type { RepairLog } from './repair.ts';
import { localOf, readKnotKey } from './schema.ts';

/** Knots of one pattern as shown, with what is needed to read a change. */
export class KnotReader {
  readonly #map: Y.Map<unknown>;
  readonly #pattern: string;
  readonly #shape: Shape;
  readonly #base: BaseKnots;
  readonly #isBaseBad: boolean;
  /** Keys of shown knots whose value is no knot. */
  readonly #bad = new Set<string>();
  #cells: Uint8Array;

  /** Reads all. O(keys + knots). */
  constructor(map: Y.Map<unknown>, pattern: string, shape: Shape) {
    this.#map = map;
    this.#pattern = pattern;
    this.#shape = shape;
    const stored = map.get(pattern);
    const base = stored === undefined ? BaseKnots.none : readBase(stored);
    this.#isBaseBad = base === null;
    this.#base = base ?? BaseKnots.none;
    this.#cells = new Uint8Array(shape.rows * rowStride(shape.strings));
    this.#readBaseCells();
    map.forEach((value, key) => {
      const cell = this.#cellOf(key);
      if (cell === null) return;
      this.#cells[cell.row * rowStride(shape.strings) + cell.k] = this.#codeOf(key, value);
    });
  }

  /** Layout of `Pattern.knots`. Never changed afterwards: an update makes a new one. */
  get cells(): Uint8Array {
    return this.#cells;
  }

  noteRepairs(log: RepairLog): void {
    if (this.#isBaseBad) log.note('base-unreadable', 'knots');
    for (const key of this.#bad) log.note('knot-unreadable', `knots.${key}`);
  }

  /**
   * Reads the keys anew.
   * @returns the cells that changed, in no order; null when all knots must be read again
   * O(keys), and one copy of the cells when any changed.
   */
  update(keys: Iterable<string | null>): readonly Cell[] | null {
    const stride = rowStride(this.#shape.strings);
    const changed: Cell[] = [];
    let next: Uint8Array | null = null;
    for (const key of keys) {
      if (key === this.#pattern) return null;
      const cell = key === null ? null : this.#cellOf(key);
      if (key === null || cell === null) continue;
      const code = this.#map.has(key) ? this.#codeOf(key, this.#map.get(key)) : this.#baseOf(key);
      const at = cell.row * stride + cell.k;
      if ((next ?? this.#cells)[at] === code) continue;
      next ??= this.#cells.slice();
      next[at] = code;
      changed.push(cell);
    }
    if (next !== null) this.#cells = next;
    return changed;
  }

  /** Number of shown keys whose value is no knot. */
  get badCount(): number {
    return this.#bad.size;
  }

  #cellOf(key: string): Cell | null {
    const parts = readKnotKey(key);
    if (parts === null) return null;
    const p = this.#shape.rowIndex.get(parts.rowPair);
    const q = this.#shape.stringIndex.get(parts.stringLocal);
    return p === undefined || q === undefined ? null : cellAt(this.#shape, p, q, parts.half);
  }

  #codeOf(key: string, value: unknown): KnotCode {
    if (value === 0 || value === 1 || value === 2 || value === 3 || value === 4) {
      this.#bad.delete(key);
      return value;
    }
    this.#bad.add(key);
    return 0;
  }

  #baseOf(key: string): number {
    this.#bad.delete(key);
    const { rowPair, stringLocal, half } = readKnotKey(key)!;
    return this.#base.get(localOf(this.#pattern, rowPair)!, stringLocal, half);
  }

  #readBaseCells(): void {
    const { rowIndex, stringIndex, rows, start, strings } = this.#shape;
    const stride = rowStride(strings);
    const counts = [knotsInRow(strings, 0), knotsInRow(strings, 1)] as const;
    // A base may hold an id twice when a peer wrote it; the first counts, as in `BaseKnots.get`.
    const known = new Set<string>();
    const columns = this.#base.strings.map((local) => {
      const q = known.has(local) ? undefined : stringIndex.get(local);
      known.add(local);
      return q ?? -1;
    });
    const seen = new Set<string>();
    this.#base.rows.forEach((local, i) => {
      const p = rowIndex.get(`${this.#pattern}.${local}`);
      if (p === undefined || seen.has(local)) return;
      seen.add(local);
      for (const half of [0, 1] as const) {
        const row = p * 2 + half - start;
        if (row < 0 || row >= rows) continue;
        for (let j = 0; j < columns.length; j++) {
          const q = columns[j]!;
          if (q >= 0 && q < counts[half]) this.#cells[row * stride + q] = this.#base.at(i, j, half);
        }
      }
    });
  }
}
