/**
 * Which document a document is. Every document holds its own name, written by the server in a struct that is the same on
 * every server and at every start, so that it never conflicts and need not be stored. An update that names
 * another document belongs to that one and is refused.
 */
import { crc32 } from 'node:zlib';
import * as Y from 'yjs';

/** Root of the document that holds its name, under the key `name`. */
export const IDENTITY_ROOT = 'identity';

/** The update that writes the name. Always the same bytes for the same name. */
export function identityUpdate(name: string): Uint8Array {
  const doc = new Y.Doc();
  doc.clientID = crc32(name);
  doc.getMap(IDENTITY_ROOT).set('name', name);
  const update = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return update;
}
