/** The same talk in a new document, with other people's ids. */
import * as Y from 'yjs';
import type { Speaker, TalkSnapshot } from './read-talk.ts';
import { TALK_VERSION, talkRootsOf } from './talk-schema.ts';

/**
 * Writes what was read of a talk into a document of its own: ids of threads and remarks, times and order stay, so that nothing of what
 * the document held beside them comes along. O(talk).
 * @param idOf the id that a person has there, for speakers and for those spoken to
 */
export function copyTalk({ threads }: TalkSnapshot, idOf: (person: string) => string): Y.Doc {
  const doc = new Y.Doc();
  const roots = talkRootsOf(doc);
  const as = ({ id, name, hex }: Speaker): Speaker => ({ id: idOf(id), name, hex });
  doc.transact(() => {
    roots.meta.set('version', TALK_VERSION);
    for (const [order, { id, pin, remarks, done }] of threads.entries()) {
      roots.threads.set(id, { pin, order });
      if (done !== null) roots.threads.set(`${id}:done`, { by: as(done.by), at: done.at });
      for (const [place, remark] of remarks.entries()) {
        const key = `${id}:${remark.id}`;
        roots.remarks.set(key, { by: as(remark.by), at: remark.at, order: place });
        const says = { text: remark.text, mentions: remark.mentions.map(idOf) };
        roots.remarks.set(`${key}:says`, remark.text === null ? null : says);
      }
    }
  });
  return doc;
}
