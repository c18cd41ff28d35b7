/**
 * The past of a design, gone through once more: which visit changed what, in the order of the log. Each generation begins with a row that holds
 * all there was, so what came before it needs not be there.
 */
import * as Y from 'yjs';
import { heldBy, type Held, type KeyChange, rootsOf } from '../../engine/document/index.ts';
import { readWrittenBy, type RowSignature } from '../sync/index.ts';
import { signedChanges } from './attribute.ts';

/** A row of the past, or of the log. */
export interface JournalRow {
  readonly generation: number;
  readonly by: string;
  readonly bytes: Uint8Array;
}

/** What one visit changed in one row. */
export interface Step {
  /** Label of the visit; empty where nobody is known. */
  readonly label: string;
  readonly changes: readonly KeyChange[];
  readonly held: Held;
}

export interface ReplayListener {
  /** A row is about to be applied. */
  row?(signature: RowSignature): void;
  step(step: Step): void;
}

/**
 * @param rows in the order of the log; those that cannot be read left out
 * O(rows), and what `changesOf` takes.
 */
export function replay(rows: readonly JournalRow[], listener: ReplayListener): void {
  let from = 0;
  while (from < rows.length) {
    const { generation } = rows[from]!;
    let to = from;
    while (to < rows.length && rows[to]!.generation === generation) to += 1;
    replayGeneration(rows.slice(from, to), listener);
    from = to;
  }
}

function replayGeneration(rows: readonly JournalRow[], listener: ReplayListener): void {
  const doc = new Y.Doc();
  const roots = rootsOf(doc);
  let signature: RowSignature | null = null;
  let isFirst = true;
  doc.on('afterTransaction', (transaction) => {
    // What a generation begins with is nobody's doing: it says again what was there.
    if (isFirst && signature === null) return;
    for (const round of signedChanges(transaction, signature, roots)) {
      const shares = new Map<string, KeyChange[]>();
      for (const { change, label } of round) {
        const share = shares.get(label);
        if (share === undefined) shares.set(label, [change]);
        else share.push(change);
      }
      for (const [label, changes] of shares) listener.step({ label, changes, held: heldBy(changes, roots) });
    }
  });
  for (const { by, bytes } of rows) {
    signature = readWrittenBy(by);
    if (signature !== null) listener.row?.(signature);
    Y.applyUpdate(doc, bytes);
    isFirst = false;
  }
  doc.destroy();
}
