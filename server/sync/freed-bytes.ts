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
        if (struct.deleted || !(struct instanceof Y.Item)) continue;
        const from = Math.max(0, clock - start);
        freed += freedOf(struct, from, Math.min(struct.length, clock + len - start));
      }
    }
  }
  return freed >= bytes;
}

/**
 * Bytes less once a part of an item has gone; less than none where splitting it takes more.
 * O(what goes): a hostile edit may delete one item in as many pieces as it has.
 */
function freedOf({ content, length }: Y.Item, from: number, to: number): number {
  const isWhole = from === 0 && to === length;
  const there = sizeOf(isWhole ? content : partOf(content, from, to));
  return there - sizeOf(new Y.ContentDeleted(to - from)) - (isWhole ? 0 : SPLIT_BYTES);
}

/** All that a design or a talk has in pieces longer than one; of anything else nothing is counted. */
function partOf(content: Y.Item['content'], from: number, to: number): Y.Item['content'] {
  if (content instanceof Y.ContentAny) return new Y.ContentAny(content.arr.slice(from, to));
  if (content instanceof Y.ContentString) return new Y.ContentString(content.str.slice(from, to));
  return new Y.ContentDeleted(to - from);
}

function sizeOf(content: Y.Item['content']): number {
  const encoder = new Y.UpdateEncoderV1();
  content.write(encoder, 0);
  return encoding.length(encoder.restEncoder);
}
