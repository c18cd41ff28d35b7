/** Edits of a design as they come, one's own and others', for who is to be told of what was done to their work. */
import type * as Y from 'yjs';
import {
  changesOf,
  isListRoot,
  type KeyChange,
  knotPlaceOf,
  type RootName,
  shownAt,
  writerOf,
} from '../journal/index.ts';
import { rootsOf } from '../schema.ts';

/** Others' changes that one Yjs client wrote; null where nobody can be named, as for what was only taken away. */
export interface OthersEdit {
  readonly client: number | null;
  readonly changes: readonly KeyChange[];
}

interface EditWatcher {
  readonly onOwn: (changes: readonly KeyChange[]) => void;
  readonly onOthers: (edits: readonly OthersEdit[]) => void;
}

/**
 * Tells of every transaction from now on. What only this page writes is its own: commands, undo and redo.
 * @returns stops it
 */
export function watchEdits(doc: Y.Doc, { onOwn, onOthers }: EditWatcher): () => void {
  const roots = rootsOf(doc);
  const listen = (transaction: Y.Transaction): void => {
    if (transaction.changed.size === 0) return;
    const changes = changesOf(transaction, roots);
    if (changes.length === 0) return;
    if (transaction.local) {
      onOwn(changes);
      return;
    }
    const writers = writersOf(transaction);
    const [only = null] = writers.size === 1 ? writers : [];
    const edits = new Map<number | null, KeyChange[]>();
    for (const change of changes) {
      // What was only taken away has no writer; whoever wrote the rest of the same did that too.
      const wrote = change.after === null || change.after === undefined ? null : writerOf(change, roots);
      const client = wrote !== null && writers.has(wrote) ? wrote : only;
      const list = edits.get(client);
      if (list === undefined) edits.set(client, [change]);
      else list.push(change);
    }
    onOthers([...edits].map(([client, of]) => ({ client, changes: of })));
  };
  doc.on('afterTransaction', listen);
  return () => doc.off('afterTransaction', listen);
}

function writersOf({ beforeState, afterState }: Y.Transaction): ReadonlySet<number> {
  const writers = new Set<number>();
  for (const [client, clock] of afterState) if (clock > (beforeState.get(client) ?? 0)) writers.add(client);
  return writers;
}

/**
 * What stands under a key now, as edits tell it: a knot as it reads, of a list an object where the entry is in it, else null.
 * O(list) for lists, else O(1).
 */
export function presentValue(doc: Y.Doc, root: RootName, key: string): unknown {
  const roots = rootsOf(doc);
  if (isListRoot(root)) return roots[root].toArray().includes(key) ? {} : null;
  const place = root === 'knots' ? knotPlaceOf(key) : null;
  return place === null ? roots[root].get(key) : shownAt(roots.knots, key, place);
}

/** Whether what a change took is there again. */
export function isBack(doc: Y.Doc, { root, key, before }: KeyChange): boolean {
  const now = presentValue(doc, root, key);
  if (isListRoot(root)) return (before === null) === (now === null);
  return now === before || JSON.stringify(now ?? null) === JSON.stringify(before ?? null);
}
