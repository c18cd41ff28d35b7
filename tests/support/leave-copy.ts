/** What a browser keeps of a board that no tab has open. */
import type * as Y from 'yjs';
import { keepCopy } from '../../web/sync/keep-copy.ts';

/** Leaves what a document holds under a name, beside what lies there already. */
export async function leaveCopy(name: string, doc: Y.Doc): Promise<void> {
  const kept = keepCopy(name, doc, () => {});
  await kept.whenSynced;
  await kept.destroy();
}
