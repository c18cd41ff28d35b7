/**
 * Generations of a document. A design that was worked on for long is mostly its past: 50,000 knots tied anew weigh 540 KB
 * where the board itself weighs 6. A new generation is the same board under the same ids without the past. It shares no
 * history with the one that ended, so copies of that one that come back are not merged; what they hold beyond its last
 * state is brought over to the present document: see `late-copies.ts`.
 */
import type * as Y from 'yjs';
import type { Log } from '../../log.ts';
import type { Metrics } from '../../metrics.ts';
import type { DocumentAddress, Renewal, Store } from '../../store/index.ts';
import type { Identity } from '../identity.ts';
import type { SyncLimits } from '../limits.ts';
import { renewalOf } from './beginning.ts';

/** The room of a document that may be worn. */
export interface WornRoom {
  readonly address: DocumentAddress;
  readonly isDamaged: boolean;
  readonly isSaved: boolean;
  readonly members: { readonly size: number };
  /** The present generation, and about how large its document is. */
  readonly held: { readonly bytes: number; readonly identity: Identity };
  readonly doc: Y.Doc;
  /** The whole document as one update. */
  encodedState(): Uint8Array;
  /** Whether another node has begun a new generation. */
  readonly isOutdated: boolean;
  readonly peers: {
    areInUse(): Promise<boolean>;
    readonly isShared: boolean;
    inTime(): Promise<boolean>;
    tellRenewed(generation: number): void;
  };
  /** Takes nothing from now on. @returns the rows of the store that hold the document */
  stopTaking(): readonly number[];
}

export interface RenewalDeps {
  readonly store: Store;
  readonly log: Log;
  readonly metrics: Metrics;
  readonly limits: Pick<SyncLimits, 'renewBytes'>;
}

/**
 * Begins a new generation where the document is large and most of it is its past. Nobody must be in the room.
 * @returns whether the room is over and must be opened anew
 */
export async function renew(room: WornRoom, deps: RenewalDeps): Promise<boolean> {
  const { renewBytes } = deps.limits;
  if (renewBytes === 0 || room.address.part !== 'design' || room.isDamaged) return false;
  if (room.held.bytes < renewBytes || (await room.peers.areInUse())) return false;
  // Rows that other nodes stored belong to what is renewed; where they can't be read, who leaves next is the next occasion.
  if (room.peers.isShared && !(await room.peers.inTime())) return room.isOutdated;
  const state = room.encodedState();
  if (state.length < renewBytes || !room.isSaved || room.members.size > 0) return false;
  const { identity } = room.held;
  const begun = renewalOf(room.doc, state, identity);
  if (begun === null) return false;
  const renewal = { seqs: room.stopTaking(), ...begun };
  if (await storeRenewal(deps, room.address, identity, renewal))
    room.peers.tellRenewed(identity.generation + 1);
  // Also where it failed: whether it happened is not always known, and reading anew finds out.
  return true;
}

/** Stores a new generation. @returns false where it did not happen, or that is not known */
export async function storeRenewal(
  { store, log, metrics }: Pick<RenewalDeps, 'store' | 'log' | 'metrics'>,
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
