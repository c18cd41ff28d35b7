/** Documents as the updates that make them, in their order. */
import * as Y from 'yjs';

/** Reads a document made of updates, and lets go of it. */
export function withDocument<T>(updates: readonly Uint8Array[], read: (doc: Y.Doc) => T): T {
  const doc = new Y.Doc();
  try {
    doc.transact(() => {
      for (const update of updates) Y.applyUpdate(doc, update);
    });
    return read(doc);
  } finally {
    doc.destroy();
  }
}

/** Whether a document is made of the same updates, which nobody changes. */
export function isSameDocument(a: readonly Uint8Array[], b: readonly Uint8Array[]): boolean {
  return a.length === b.length && a.every((update, i) => update === b[i]);
}

/** How many bytes these are. */
export function bytesOf(parts: readonly Uint8Array[]): number {
  return parts.reduce((sum, { length }) => sum + length, 0);
}
