/** A design of a generation that has ended, copies of it, and the present document that came of it; without a server. */
import * as Y from 'yjs';
import { compactDesign } from '../../engine/document/index.ts';
import { type Identity, identityUpdate } from '../../server/sync/identity.ts';
import { openDesign } from '../support/open-design.ts';
import { sampleBoard } from '../support/sample-board.ts';
import { runAll } from './worn-board.ts';

export const NAME = 'kites/design';
export const ENDED: Identity = { name: NAME, generation: 2, drawn: 'abcdefghijklmnop' };
export const OTHER: Identity = { name: NAME, generation: 2, drawn: 'ponmlkjihgfedcba' };
export const PRESENT: Identity = { name: NAME, generation: 3, drawn: 'qrstuvwxyzabcdef' };

/** Who writes the present document, so that it is the same each time. */
const WRITER = 2 ** 31;

/** The last state of the ended generation: a board in which nothing was ever deleted. */
export function lastDoc(identity = ENDED): Y.Doc {
  const doc = openDesign(sampleBoard(8, 12)).doc;
  Y.applyUpdate(doc, identityUpdate(identity));
  return doc;
}

/** A copy of a document with edits. */
export function copyOf(doc: Y.Doc, edit: (copy: Y.Doc) => void): Y.Doc {
  const copy = new Y.Doc();
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
  edit(copy);
  return copy;
}

export const stateOf = (doc: Y.Doc): Uint8Array => Y.encodeStateAsUpdate(doc);
/** What one holds beyond another, as it is asked for. */
export const beyond = (copy: Y.Doc, base: Y.Doc): Uint8Array =>
  Y.encodeStateAsUpdate(copy, Y.encodeStateVector(base));
/** Takes rows out, which brings nothing: it only deletes. */
export const untie = (doc: Y.Doc): void => runAll(doc, [{ kind: 'delete-row-pairs', from: 1, count: 2 }]);

/** The board of the ended generation as the present document begins with it. */
export function presentOf(last: Y.Doc): Uint8Array {
  const next = compactDesign(last, WRITER)!;
  Y.applyUpdate(next, identityUpdate(PRESENT));
  return stateOf(next);
}
