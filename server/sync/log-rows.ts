/** The log of a document as a room reads it. */
import * as Y from 'yjs';
import type { DocumentAddress, Store, StoredRow } from '../store/index.ts';

/** All rows of a document, and what they hold as one update. */
export interface DocumentLog {
  readonly rows: readonly StoredRow[];
  readonly update: Uint8Array;
}

/** Reads the log; null when there are no rows. Rejects as the store does. */
export async function readLog(store: Store, address: DocumentAddress): Promise<DocumentLog | null> {
  const rows = await store.load(address);
  if (rows.length === 0) return null;
  return { rows, update: rows.length === 1 ? rows[0]!.bytes : Y.mergeUpdates(rows.map((row) => row.bytes)) };
}
