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
import type { DocumentAddress, Store } from '../store/index.ts';
import { bringOver } from './bring-over.ts';
import { checkUpdate } from './check-update.ts';
import { type Identity, identityUpdate } from './identity.ts';

/** The first state of the generation after the one given; null when the document holds no board. */
export function renewedState(doc: Y.Doc, identity: Identity): Uint8Array | null {
  const next = compactDesign(doc);
  if (next === null) return null;
  Y.applyUpdate(next, identityUpdate({ name: identity.name, generation: identity.generation + 1 }));
  const state = Y.encodeStateAsUpdate(next);
  next.destroy();
  return state;
}

/** The last state of a generation as it is kept: nobody reads it but who comes back late. */
export function packFormer(state: Uint8Array): Uint8Array {
  return deflateRawSync(state);
}

export interface BringCopyOptions {
  readonly store: Store;
  readonly address: DocumentAddress;
  readonly former: Identity;
  /** The whole of the copy, as one update. */
  readonly copy: Uint8Array;
  /** Runs a change on the present document; fulfils once it is on the disk. */
  readonly edit: (change: (doc: Y.Doc) => void) => Promise<void>;
  readonly log: Log;
}

/**
 * Repeats on the present document the edits that a copy of a former generation holds. Fulfils once they are on the disk, or
 * with the reason why the copy was refused; rejects as the store does. The former state then holds them too, so that the
 * same copy coming once more brings nothing twice.
 */
export async function bringCopyOver(options: BringCopyOptions): Promise<string | null> {
  const { store, address, former, copy, edit, log } = options;
  const state = await store.former(address, former.generation);
  if (state === null) return `generation ${former.generation} is not kept; nothing was taken`;
  const [base, mine] = [new Y.Doc(), new Y.Doc()];
  try {
    for (const doc of [base, mine]) Y.applyUpdate(doc, inflateRawSync(state));
    const check = checkUpdate(mine, former, copy);
    if (check.kind !== 'fits') return `the copy of generation ${former.generation} is ${check.kind}`;
    Y.applyUpdate(mine, copy);
    let result = { commands: 0, refused: [] as readonly string[] };
    await edit((doc) => {
      result = bringOver(base, mine, doc, () => randomBytes(9).toString('base64url'));
    });
    if (result.commands > 0)
      await store.keepFormer(address, former.generation, packFormer(Y.encodeStateAsUpdate(mine)));
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
