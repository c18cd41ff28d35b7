/**
 * Generations of a document. A design that was worked on for long is mostly its past: 50,000 knots tied anew weigh 540 KB
 * where the board itself weighs 6. A new generation is the same board under the same ids without the past. It shares no
 * history with the one that ended, so copies of that one that come back are not merged; what they hold beyond its last
 * state is brought over to the present document: see `late-copies.ts`.
 */
import * as Y from 'yjs';
import { compactDesign } from '../../../engine/document/index.ts';
import type { DocumentAddress, Renewal } from '../../store/index.ts';
import { packLastState } from './copy-jobs.ts';
import { generationAfter, type Identity, identityUpdate } from '../identity.ts';
import type { RoomDeps } from '../room-member.ts';

/**
 * What begins the generation after the one given; null when the document holds no board, or not mostly its past.
 * @param state the document, encoded
 * @param seqs the rows of the store that hold it
 */
export function renewalOf(
  doc: Y.Doc,
  state: Uint8Array,
  identity: Identity,
  seqs: readonly number[],
): Renewal | null {
  const next = compactDesign(doc);
  if (next === null) return null;
  const after = generationAfter(identity, (client) => doc.store.clients.has(client));
  Y.applyUpdate(next, identityUpdate(after));
  const snapshot = Y.encodeStateAsUpdate(next);
  next.destroy();
  const { generation, drawn } = identity;
  return snapshot.length * 2 > state.length
    ? null
    : { seqs, snapshot, generation, drawn, lastState: packLastState(state) };
}

/** Stores a new generation. @returns false where it did not happen, or that is not known */
export async function storeRenewal(
  { store, log, metrics }: Pick<RoomDeps, 'store' | 'log' | 'metrics'>,
  address: DocumentAddress,
  { name, generation }: Identity,
  renewal: Renewal,
): Promise<boolean> {
  try {
    const isDone = await store.renew(address, renewal);
    const [from, to] = [renewal.lastState.length, renewal.snapshot.length];
    log.info('renewed', { name, generation, isDone, from, to });
    if (isDone) metrics.count('larkboard_renewals_total', 'New generations of documents.');
    return isDone;
  } catch (cause) {
    log.warn('renewal-failed', { room: name, message: (cause as Error).message });
    return false;
  }
}
