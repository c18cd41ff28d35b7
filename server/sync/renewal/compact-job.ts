/** Whether a document that people have open is worn, and what would begin its next generation: worked out in the thread for large work. */
import * as Y from 'yjs';
import type { Job } from '../../work/index.ts';
import type { Identity } from '../identity.ts';
import { type Beginning, beginningOf, endingWith, WORN_TIMES } from './beginning.ts';

export interface CompactInput {
  /** The document. */
  readonly updates: readonly Uint8Array[];
  readonly identity: Identity;
  /** From how many bytes on it is renewed. */
  readonly renewBytes: number;
}

/** Bytes of a document and of what would begin its next generation; and what is to be stored where it is worn. */
export interface CompactOutput {
  readonly bytes: number;
  readonly freshBytes: number;
  readonly begun: Beginning | null;
}

/** Null when the document holds no board. @throws Error when it cannot be read */
function compact({ updates, identity, renewBytes }: CompactInput): CompactOutput | null {
  const doc = new Y.Doc();
  try {
    for (const update of updates) Y.applyUpdate(doc, update);
    const snapshot = beginningOf(doc, identity);
    if (snapshot === null) return null;
    const state = Y.encodeStateAsUpdate(doc);
    const isWorn = state.length >= renewBytes && state.length >= snapshot.length * WORN_TIMES;
    const begun = isWorn ? endingWith(snapshot, state, identity) : null;
    return { bytes: state.length, freshBytes: snapshot.length, begun };
  } finally {
    doc.destroy();
  }
}

export const COMPACT: Job<CompactInput, CompactOutput | null> = { name: 'compact-worn', run: compact };
