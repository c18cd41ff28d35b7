/** What a transaction changed, key by key. */
import * as Y from 'yjs';
import { BaseKnots, readBase } from '../base-knots.ts';
import type { Roots } from '../schema.ts';
import {
  isAlike,
  type KeyChange,
  LIST_ROOTS,
  type ListPlace,
  type ListRoot,
  MAP_ROOTS,
  scopeOf,
} from './key-change.ts';
import {
  baseOf,
  codeOf,
  fillFromBase,
  KnotMatrix,
  type KnotPlace,
  knotPlaceOf,
  layKeysOver,
} from './knots-shown.ts';

/** Before and after of a key. */
interface Values {
  readonly before: unknown;
  readonly after: unknown;
}

/**
 * What one transaction changed of a design, own or others'. To be called while what was overwritten is still there: by a
 * listener of `afterTransaction`, before anything else is written. Of a key written twice the first before and the last after.
 * O(changed keys), and the whole list where one changed, and all knots where a base was replaced.
 * Rules D300 to D303.
 */
export function changesOf(transaction: Y.Transaction, roots: Roots): KeyChange[] {
  const changes: KeyChange[] = [];
  for (const root of LIST_ROOTS)
    if (transaction.changed.has(anyType(roots[root]))) changes.push(...listChanges(transaction, roots, root));
  for (const root of MAP_ROOTS) {
    const map = roots[root];
    const keys = transaction.changed.get(anyType(map));
    if (keys === undefined) continue;
    const values = new Map<string, Values>();
    for (const key of keys) if (key !== null) values.set(key, valuesOf(transaction, map, key));
    if (root === 'knots') changes.push(...knotChanges(map, values));
    else
      for (const [key, { before, after }] of values)
        if (!isAlike(before, after)) changes.push({ root, key, before, after });
  }
  return changes;
}

/** The changed types are listed as any of them. */
function anyType(type: unknown): Y.AbstractType<Y.YEvent<Y.AbstractType<unknown>>> {
  return type as Y.AbstractType<Y.YEvent<Y.AbstractType<unknown>>>;
}

function isNew(transaction: Y.Transaction, { id }: Y.Item): boolean {
  return id.clock >= (transaction.beforeState.get(id.client) ?? 0);
}

/** Whether the item stood there before the transaction. */
function stood(transaction: Y.Transaction, item: Y.Item): boolean {
  return !isNew(transaction, item) && (!item.deleted || Y.isDeleted(transaction.deleteSet, item.id));
}

function valuesOf(transaction: Y.Transaction, map: Y.Map<unknown>, key: string): Values {
  const now = map._map.get(key);
  let was = now ?? null;
  while (was !== null && isNew(transaction, was)) was = was.left;
  return {
    before: was !== null && stood(transaction, was) ? plainOf(was) : undefined,
    after: now === undefined || now.deleted ? undefined : plainOf(now),
  };
}

/** A plain value; a shared type, which no document of ours holds, reads as none. */
function plainOf(item: Y.Item): unknown {
  const value: unknown = item.content.getContent().at(-1);
  return value instanceof Y.AbstractType || value instanceof Y.Doc ? undefined : value;
}

function knotChanges(map: Y.Map<unknown>, values: ReadonlyMap<string, Values>): KeyChange[] {
  const changes: KeyChange[] = [];
  const replaced = new Map<string, KnotMatrix>();
  for (const [key, { before, after }] of values) {
    if (knotPlaceOf(key) !== null || before === after) continue;
    if (readBase(after) === null) {
      changes.push({ root: 'knots', key, before, after });
      continue;
    }
    const [was, is] = shownMatrices(map, values, key);
    replaced.set(key, is);
    const isFirst = readBase(before) === null;
    if (isFirst || !was.bytes.every((byte, at) => byte === is.bytes[at]))
      changes.push({ root: 'knots', key, before: isFirst ? before : was.toBase(), after: is.toBase() });
  }
  for (const [key, value] of values) {
    const place = knotPlaceOf(key);
    if (place === null) continue;
    const { pattern, row, string } = place;
    const base = values.get(pattern);
    // Where the first base came after a knot of its own, that lies over it.
    const isOver = value.before !== undefined && baseOf(base?.before) === BaseKnots.none;
    if (!isOver && replaced.get(pattern)?.has(row, string) === true) continue;
    const now = map.get(pattern);
    const before = shown(value.before, base === undefined ? now : base.before, place);
    const after = shown(value.after, now, place);
    if (before !== after) changes.push({ root: 'knots', key, before, after });
  }
  return changes;
}

/** Before the base of its pattern has arrived, a knot without a value of its own reads as none. */
function shown(value: unknown, base: unknown, { row, string, half }: KnotPlace): number | undefined {
  const known = baseOf(base);
  return codeOf(value) ?? (known === BaseKnots.none ? undefined : known.get(row, string, half));
}

/** All knots of a pattern, of which a base was replaced, as they read before and after. */
function shownMatrices(
  map: Y.Map<unknown>,
  values: ReadonlyMap<string, Values>,
  pattern: string,
): readonly [KnotMatrix, KnotMatrix] {
  const { before, after } = values.get(pattern)!;
  const bases = [baseOf(before), baseOf(after)] as const;
  const rows = [...new Set(bases.flatMap((base) => base.rows))];
  const strings = [...new Set(bases.flatMap((base) => base.strings))];
  const [was, is] = [new KnotMatrix(rows, strings), new KnotMatrix(rows, strings)];
  fillFromBase(was, bases[0]);
  fillFromBase(is, bases[1]);
  const unchanged = [...map.entries()].filter(([key]) => !values.has(key));
  for (const matrix of [was, is]) layKeysOver(matrix, pattern, unchanged);
  const changed = [...values];
  layKeysOver(
    was,
    pattern,
    changed.map(([key, value]) => [key, value.before] as const),
  );
  layKeysOver(
    is,
    pattern,
    changed.map(([key, value]) => [key, value.after] as const),
  );
  return [was, is];
}

/** Entries that came, went or were moved. One that stands twice counts where it stands first. */
function listChanges(transaction: Y.Transaction, roots: Roots, root: ListRoot): KeyChange[] {
  const was = new Sequence();
  const is = new Sequence();
  const touched = new Set<string>();
  for (let item = roots[root]._start; item !== null; item = item.right) {
    const wasThere = stood(transaction, item);
    if (!wasThere && item.deleted) continue;
    for (const entry of item.content.getContent() as readonly unknown[]) {
      if (typeof entry !== 'string') continue;
      if (wasThere) was.add(entry);
      if (!item.deleted) is.add(entry);
      if (wasThere === item.deleted) touched.add(entry);
    }
  }
  const changes: KeyChange[] = [];
  for (const key of touched) {
    const [before, after] = [was.placeOf(key), is.placeOf(key)];
    // Between neighbours that were moved, it was moved with them.
    const isSame =
      before === null || after === null
        ? before === after
        : before.behind === after.behind &&
          before.before === after.before &&
          !touched.has(before.behind) &&
          !touched.has(before.before);
    if (!isSame) changes.push({ root, key, before, after });
  }
  return changes;
}

/** The entries of a list, each scope by itself. */
export class Sequence {
  readonly #scopes = new Map<string, { readonly entries: string[]; readonly index: Map<string, number> }>();

  add(entry: string): void {
    const scope = scopeOf(entry);
    let known = this.#scopes.get(scope);
    if (known === undefined) {
      known = { entries: [], index: new Map() };
      this.#scopes.set(scope, known);
    }
    if (known.index.has(entry)) return;
    known.index.set(entry, known.entries.length);
    known.entries.push(entry);
  }

  placeOf(entry: string): ListPlace | null {
    const known = this.#scopes.get(scopeOf(entry));
    const at = known?.index.get(entry);
    if (known === undefined || at === undefined) return null;
    return { behind: known.entries[at - 1] ?? '', before: known.entries[at + 1] ?? '', at };
  }
}
