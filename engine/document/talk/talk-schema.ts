/**
 * The shared document of the talk about a board, version 1.
 *
 * `threads` map: `<thread>` -> `{pin, order}`; `<thread>:done` -> `{by, at}`, or null when open again.
 * `remarks` map: `<thread>:<remark>` -> `{by, at, order}`; `<thread>:<remark>:says` -> `{text, mentions}`, or null when
 * taken back. `by` is `{id, name, hex}`. `order` counts up from what the writer saw, so that an answer stands after what
 * it answers whatever the clocks say; those of equal order stand by id. `meta.version` is 1.
 */
import type * as Y from 'yjs';

export const TALK_VERSION = 1;
export const MAX_THREADS = 2_000;
export const MAX_REMARKS = 500;
/** Length of a remark at most, in UTF-16 units. */
export const MAX_REMARK_CHARACTERS = 4_000;
/** People that a remark speaks to at most. */
export const MAX_MENTIONS = 20;

export interface TalkRoots {
  readonly meta: Y.Map<unknown>;
  readonly threads: Y.Map<unknown>;
  readonly remarks: Y.Map<unknown>;
}

/** The shared types of a talk document. */
export function talkRootsOf(doc: Y.Doc): TalkRoots {
  return { meta: doc.getMap('meta'), threads: doc.getMap('threads'), remarks: doc.getMap('remarks') };
}

const KEY = /^([\w-]{1,40})(?::([\w-]{1,40}))?(?::(done|says))?$/;

/** Parts of a key; null when it is none. */
export function readTalkKey(key: string): readonly string[] | null {
  return KEY.test(key) ? key.split(':') : null;
}
