/** How much room an edit makes by what it deletes. */
import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';

/** What an update deletes, by client; what was deleted before stands there too. */
export type Deletions = ReadonlyMap<number, readonly { readonly clock: number; readonly len: number }[]>;

/** What the parts of an item that was split take more, by far: what they stand behind and before. */
const SPLIT_BYTES = 64;

/**
 * Whether a document is encoded in so many bytes less once this is deleted. What is counted is the content that goes: the rest of an
 * item mostly stays.
 * O(what is deleted, and how much of that was before).
 */
export function freesBytes(doc: Y.Doc, deletions: Deletions, bytes: number): boolean {
  let freed = 0;
  for (const [client, ranges] of deletions) {
    const structs = doc.store.clients.get(client);
    if (structs === undefined) continue;
    for (const { clock, len } of ranges) {
      // What the edit itself brings and deletes makes no room.
      if (clock >= Y.getState(doc.store, client)) break;
      for (let i = Y.findIndexSS(structs, clock); i < structs.length; i += 1) {
        const struct = structs[i]!;
        const { clock: start } = struct.id;
        if (start >= clock + len) break;
        // Values are all that a document holds besides what is gone: see admit-structs.ts.
        if (struct.deleted || !(struct instanceof Y.Item && struct.content instanceof Y.ContentAny)) continue;
        const from = Math.max(0, clock - start);
        freed += freedOf(struct.content.arr, from, Math.min(struct.length, clock + len - start));
      }
    }
  }
  return freed >= bytes;
}

/**
 * Bytes less once some values of an item have gone; less than none where splitting it takes more.
 * O(what goes): a hostile edit may delete one item in as many pieces as it has.
 */
function freedOf(values: readonly unknown[], from: number, to: number): number {
  const isWhole = from === 0 && to === values.length;
  const there = sizeOf(new Y.ContentAny(values.slice(from, to)));
  return there - sizeOf(new Y.ContentDeleted(to - from)) - (isWhole ? 0 : SPLIT_BYTES);
}

function sizeOf(content: Y.Item['content']): number {
  const encoder = new Y.UpdateEncoderV1();
  content.write(encoder, 0);
  return encoding.length(encoder.restEncoder);
}
