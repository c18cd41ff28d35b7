/** Boards as documents. */
import { randomBytes } from 'node:crypto';
import * as Y from 'yjs';
import { type IdSource, writeBoard } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';

/** Ids for what is written into a document: 72 random bits. */
export const newDocumentId: IdSource = () => randomBytes(9).toString('base64url');

/** A board as the first update of its design document. */
export function encodeBoard(board: Board, newId: IdSource, clientId?: number): Uint8Array {
  const doc = new Y.Doc();
  if (clientId !== undefined) doc.clientID = clientId;
  writeBoard(doc, board, newId);
  const bytes = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return bytes;
}
