/**
 * Generations of a document. A design that was worked on for long is mostly its past: 50,000 knots tied anew weigh 540 KB
 * where the board itself weighs 6. A new generation is the same board under the same ids without the past. It shares no
 * history with the former one, so copies of the former one that come back are not merged; what they hold beyond its last
 * state is repeated on the present document.
 */
import { randomBytes } from 'node:crypto';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import * as Y from 'yjs';
import { compactDesign } from '../../engine/document/index.ts';
import type { Log } from '../log.ts';
import { type DocumentAddress, type Former, type Renewal, type Store, StoreError } from '../store/index.ts';
import { bringOver } from './bring-over.ts';
import { checkState, checkUpdate } from './check-update.ts';
import { type Identity, identityUpdate } from './identity.ts';
import type { SyncLimits } from './limits.ts';
import { Reach } from './reach.ts';
import { isCostly, type Trials } from './trials.ts';
import type { RoomDeps } from './room-member.ts';

/**
 * What begins the generation after the one given; null when the document holds no board, or not mostly its past.
 * @param state the document, encoded
 * @param seqs the rows of the store that hold it
 */
export function renewalOf(
  doc: Y.Doc,
  state: Uint8Array,
  { name, generation }: Identity,
  seqs: readonly number[],
): Renewal | null {
  const next = compactDesign(doc);
  if (next === null) return null;
  Y.applyUpdate(next, identityUpdate({ name, generation: generation + 1 }));
  const snapshot = Y.encodeStateAsUpdate(next);
  next.destroy();
  return snapshot.length * 2 > state.length
    ? null
    : { seqs, snapshot, generation, former: packFormer(state) };
}

/** Stores a new generation. @returns false where it did not happen, or that is not known */
export async function storeRenewal(
  { store, log, metrics }: Pick<RoomDeps, 'store' | 'log' | 'metrics'>,
  address: DocumentAddress,
  identity: Identity,
  renewal: Renewal,
): Promise<boolean> {
  try {
    const isDone = await store.renew(address, renewal);
    const [from, to] = [renewal.former.length, renewal.snapshot.length];
    log.info('renewed', { ...identity, isDone, from, to });
    if (isDone) metrics.count('larkboard_renewals_total', 'New generations of documents.');
    return isDone;
  } catch (cause) {
    log.warn('renewal-failed', { room: identity.name, message: (cause as Error).message });
    return false;
  }
}

/** The last state of a generation as it is kept: nobody reads it but who comes back late. */
function packFormer(state: Uint8Array): Uint8Array {
  return deflateRawSync(state);
}

export interface BringCopyOptions {
  readonly store: Store;
  readonly address: DocumentAddress;
  readonly former: Identity;
  /** The whole of the copy, as one update. */
  readonly copy: Uint8Array;
  /**
   * Runs a change on the present document and stores it, together with the state of the former generation that the change
   * returns; fulfils once both are on the disk.
   */
  readonly edit: (change: (doc: Y.Doc) => Former | undefined) => Promise<void>;
  /** Keeps a copy some of whose edits have no place in the present document. */
  readonly leftOver: (copy: Uint8Array) => Promise<void>;
  readonly log: Log;
  readonly trials: Trials;
  readonly limits: Pick<SyncLimits, 'steps'>;
}

/**
 * Repeats on the present document the edits that a copy of a former generation holds. Fulfils once they are on the disk, or
 * with the reason why the copy was refused; rejects as the store does. The former state holds them from the same step on, so
 * that the same copy coming once more brings nothing twice, whatever happened in between.
 */
export async function bringCopyOver(options: BringCopyOptions): Promise<string | null> {
  const { store, address, former, copy, edit, leftOver, log, trials, limits } = options;
  const state = await store.former(address, former.generation);
  if (state === null) return `generation ${former.generation} is not kept; nothing was taken`;
  const kept = inflateRawSync(state);
  const { check: whole } = checkState(kept, former.name);
  if (whole.kind !== 'fits')
    throw new StoreError('damaged', `generation ${former.generation} is ${whole.kind}`);
  const reach = new Reach();
  reach.note(whole);
  const check = checkUpdate(reach, former, copy);
  if (check.kind !== 'fits') return `the copy of generation ${former.generation} is ${check.kind}`;
  if (isCostly(reach, check.placing, limits.steps)) {
    const outcome = await trials.try([kept, copy]);
    if (outcome === 'too-much') return `the copy of generation ${former.generation} takes too many steps`;
    if (outcome === 'unknown') throw new StoreError('unavailable', 'the copy could not be tried');
  }
  const [base, mine] = [new Y.Doc(), new Y.Doc()];
  try {
    for (const doc of [base, mine]) Y.applyUpdate(doc, kept);
    Y.applyUpdate(mine, copy);
    let result = { commands: 0, refused: [] as readonly string[] };
    await edit((doc) => {
      result = bringOver(base, mine, doc, () => randomBytes(9).toString('base64url'));
      if (result.commands === 0) return undefined;
      return { generation: former.generation, bytes: packFormer(Y.encodeStateAsUpdate(mine)) };
    });
    if (result.refused.length > 0) await leftOver(Y.encodeStateAsUpdate(mine));
    log.info('brought-over', {
      room: former.name,
      generation: former.generation,
      commands: result.commands,
      refused: result.refused.join('; '),
    });
    return null;
  } finally {
    base.destroy();
    mine.destroy();
  }
}
