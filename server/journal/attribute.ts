/** Which visit made which change of a row: by the structs that stand under the changed keys, and those that did in between. */
import * as Y from 'yjs';
import { changesOf, isListRoot, type KeyChange, type Roots } from '../../engine/document/index.ts';
import { removerOfStruct, type RowSignature, writerOfStruct } from '../sync/index.ts';

/** Stands for people who are not known, and for edits of the server's own. */
const NOBODY = '';
/** Roots that hold one value a key, of which each stands there as it was written. */
const VALUE_ROOTS = ['meta', 'knots', 'colours', 'palette', 'colourways'] as const;

/** A change, and the label of the visit that made it; empty where it is nobody's. */
export interface Signed {
  readonly change: KeyChange;
  readonly label: string;
}

/**
 * What a row changed, in rounds: of a key that several people wrote in one row the first change stands in the first round, the next in the
 * second. Right after the transaction, before what was deleted is let go of.
 */
export function signedChanges(
  transaction: Y.Transaction,
  signature: RowSignature | null,
  roots: Roots,
): readonly (readonly Signed[])[] {
  const changes = changesOf(transaction, roots);
  const [only, ...others] = signature?.shares ?? [];
  if (signature === null || others.length === 0)
    return [changes.map((change) => ({ change, label: only?.visit ?? NOBODY }))];
  return new Row(transaction, signature, roots).roundsOf(changes);
}

/** A row that several people wrote. */
class Row {
  readonly #transaction: Y.Transaction;
  readonly #signature: RowSignature;
  readonly #roots: Roots;
  readonly #entries = new Map<string, ReadonlyMap<string, Y.ID>>();

  constructor(transaction: Y.Transaction, signature: RowSignature, roots: Roots) {
    this.#transaction = transaction;
    this.#signature = signature;
    this.#roots = roots;
  }

  roundsOf(changes: readonly KeyChange[]): readonly (readonly Signed[])[] {
    const rounds: Signed[][] = [];
    const chains = changes.map((change) => this.#chainOf(change));
    for (const chain of [...chains, ...this.#undoneChains(changes)])
      for (const [i, signed] of chain.entries()) {
        rounds[i] ??= [];
        rounds[i].push(signed);
      }
    return rounds;
  }

  /** A change as those of several people who made it one after the other. */
  #chainOf(change: KeyChange): readonly Signed[] {
    const { root, key } = change;
    if (isListRoot(root)) return [{ change, label: this.#ofEntry(change) }];
    const written = this.#writtenUnder(this.#roots[root] as Y.Map<unknown>, key);
    const whole = [{ change, label: this.#ofKey(this.#roots[root] as Y.Map<unknown>, key) }];
    if (written === null || new Set(written.map(({ label }) => label)).size < 2) return whole;
    if (root === 'knots' && !written.every(({ value }) => isKnot(value))) return whole;
    const chain: Signed[] = [];
    let { before } = change;
    for (const [i, { value, label }] of written.entries()) {
      if (written[i + 1]?.label === label) continue;
      const after = i === written.length - 1 ? change.after : value;
      chain.push({ change: { root, key, before, after }, label });
      before = after;
    }
    return chain;
  }

  /** Of keys that are again what they were before the row, although two people changed them. */
  #undoneChains(changes: readonly KeyChange[]): readonly (readonly Signed[])[] {
    const told = new Set(changes.map(({ root, key }) => `${root} ${key}`));
    return VALUE_ROOTS.flatMap((root) => {
      const map = this.#roots[root];
      const keys =
        this.#transaction.changed.get(map as unknown as Y.AbstractType<Y.YEvent<Y.AbstractType<unknown>>>) ??
        [];
      return [...keys].flatMap((key) => {
        const value = key === null || told.has(`${root} ${key}`) ? undefined : map.get(key);
        if (key === null || value === undefined) return [];
        const chain = this.#chainOf({ root, key, before: value, after: value });
        return chain.length > 1 ? [chain] : [];
      });
    });
  }

  /** What the row wrote under a key, oldest first; null where not all of it is known, or it was taken away in the end. */
  #writtenUnder(
    map: Y.Map<unknown>,
    key: string,
  ): readonly { readonly value: unknown; readonly label: string }[] | null {
    const written = [];
    let item = map._map.get(key) ?? null;
    if (item?.deleted !== false) return null;
    for (; item !== null && this.#isNew(item); item = item.left) {
      if (!(item.content instanceof Y.ContentAny)) return null;
      const label = writerOfStruct(this.#signature, item.id.client, lastClock(item)) ?? NOBODY;
      written.unshift({ value: item.content.arr.at(-1) as unknown, label });
    }
    return written;
  }

  #isNew({ id }: Y.Item): boolean {
    return id.clock >= (this.#transaction.beforeState.get(id.client) ?? 0);
  }

  #ofKey(map: Y.Map<unknown>, key: string): string {
    const item = map._map.get(key);
    if (item === undefined) return NOBODY;
    const whose = item.deleted ? removerOfStruct : writerOfStruct;
    return whose(this.#signature, item.id.client, lastClock(item)) ?? NOBODY;
  }

  #ofEntry({ root, key, after }: KeyChange): string {
    let ids = this.#entries.get(root);
    if (ids === undefined) {
      ids = entryIds(this.#roots[root] as Y.Array<unknown>);
      this.#entries.set(root, ids);
    }
    const id = ids.get(key);
    if (id === undefined) return NOBODY;
    const whose = after === null ? removerOfStruct : writerOfStruct;
    return whose(this.#signature, id.client, id.clock) ?? NOBODY;
  }
}

function lastClock({ id, length }: Y.Item): number {
  return id.clock + length - 1;
}

function isKnot(value: unknown): boolean {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0 && value <= 4;
}

/** The structs of the entries of a list; of one that stands there now and was taken out too, the one that stands there. */
function entryIds(list: Y.Array<unknown>): ReadonlyMap<string, Y.ID> {
  const ids = new Map<string, Y.ID>();
  for (let item = list._start; item !== null; item = item.right) {
    const { id, deleted } = item;
    for (const [at, entry] of item.content.getContent().entries())
      if (typeof entry === 'string' && (!deleted || !ids.has(entry)))
        ids.set(entry, Y.createID(id.client, id.clock + at));
  }
  return ids;
}
