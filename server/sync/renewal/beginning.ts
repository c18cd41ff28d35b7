/** What is stored when a generation of a design ends and the next one begins. */
import { deflateRawSync } from 'node:zlib';
import * as Y from 'yjs';
import { compactDesign } from '../../../engine/document/index.ts';
import type { Renewal } from '../../store/index.ts';
import { generationAfter, type Identity, identityUpdate } from '../identity.ts';

/** Bytes of a document that is worn are more than this many times those of what begins the next generation. */
export const WORN_TIMES = 2;

/** What a renewal stores, but for the rows in whose place it goes. */
export type Beginning = Omit<Renewal, 'seqs'>;

/** What begins the generation after the one given, whether it is time for that or not; null when the document holds no board. */
export function beginningOf(doc: Y.Doc, identity: Identity): Uint8Array | null {
  const next = compactDesign(doc);
  if (next === null) return null;
  const after = generationAfter(identity, (client) => doc.store.clients.has(client));
  Y.applyUpdate(next, identityUpdate(after));
  const snapshot = Y.encodeStateAsUpdate(next);
  next.destroy();
  return snapshot;
}

/** Whether a row is what a generation begins with, and nothing was written since: it was written in one, and named in another. */
export function isBeginning(row: Uint8Array): boolean {
  return Y.parseUpdateMeta(row).to.size === 2;
}

/**
 * What begins the generation after the one given; null when the document holds no board, or not mostly its past.
 * @param state the document, encoded
 */
export function renewalOf(doc: Y.Doc, state: Uint8Array, identity: Identity): Beginning | null {
  const snapshot = beginningOf(doc, identity);
  return snapshot === null || snapshot.length * WORN_TIMES > state.length
    ? null
    : endingWith(snapshot, state, identity);
}

/** The last state of a generation as it is kept: nobody reads it but who comes back late. */
export function packLastState(state: Uint8Array): Uint8Array {
  return deflateRawSync(state);
}

/** The generation that ends, and what begins the next one. */
export function endingWith(
  snapshot: Uint8Array,
  state: Uint8Array,
  { generation, drawn }: Identity,
): Beginning {
  return { snapshot, generation, drawn, lastState: packLastState(state) };
}
