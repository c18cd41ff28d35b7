/** What of whole designs proposals need. */
import { createHash } from 'node:crypto';
import * as Y from 'yjs';
import { compactDesign, readDesign } from '../../engine/document/index.ts';
import { formatBoard } from '../../engine/index.ts';
import { type Job, withDocument } from '../work/index.ts';

/** A branch as it is, and what is the same for documents that show the same. */
export interface Present {
  readonly present: Uint8Array;
  readonly seen: string;
}

/** A design without its past, for a branch to begin with; null when there is none. */
export const COMPACT: Job<readonly Uint8Array[], Uint8Array | null> = {
  name: 'proposal-base',
  run: (updates) =>
    withDocument(updates, (doc) => {
      const compact = compactDesign(doc);
      return compact === null ? null : Y.encodeStateAsUpdate(compact);
    }),
};

export const PRESENT: Job<readonly Uint8Array[], Present> = {
  name: 'proposal-present',
  run: (updates) =>
    withDocument(updates, (doc) => ({ present: Y.encodeStateAsUpdate(doc), seen: fingerprint(doc) })),
};

/** What the thread for large work does for proposals. */
export const PROPOSAL_JOBS = [COMPACT, PRESENT];

function fingerprint(doc: Y.Doc): string {
  const { board, rowPairIds, stringPairIds } = readDesign(doc);
  return createHash('sha256')
    .update(JSON.stringify([formatBoard(board), rowPairIds, stringPairIds]))
    .digest('base64url');
}
