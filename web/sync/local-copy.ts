/** What this browser keeps of a board that is not open. */
import * as Y from 'yjs';
import { Design } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { localName } from './board-session.ts';
import { keepCopy } from './keep-copy.ts';
import { newId } from './person.ts';

/** The board as this browser keeps it; null when it keeps none. */
export async function readLocalCopy(boardId: string): Promise<Board | null> {
  const doc = new Y.Doc();
  const kept = keepCopy(localName(boardId), doc, () => {});
  try {
    await kept.whenSynced;
    const design = new Design(doc, { makerId: 'reader', newId });
    const board = design.state.kind === 'ready' ? design.snapshot.board : null;
    design.dispose();
    return board;
  } finally {
    await kept.destroy();
    doc.destroy();
  }
}
