/** Designs on documents of their own, joined by hand. */
import * as Y from 'yjs';
import { type Command, Design, writeBoard } from '../../engine/document/index.ts';
import { type Board, formatBoard } from '../../engine/index.ts';
import { countingIds, sampleBoard } from './sample-board.ts';

let nextClient = 1;

/** A document whose client id does not depend on chance, so that a failing seed fails again. */
export function numberedDoc(clientId: number = nextClient++): Y.Doc {
  const doc = new Y.Doc();
  doc.clientID = clientId;
  return doc;
}

/** A new document with the board, open for maker `m`; each command undoes alone. */
export function openDesign(board: Board = sampleBoard(), makerId = 'm'): Design {
  const doc = numberedDoc();
  writeBoard(doc, board, countingIds('w'));
  return new Design(doc, { makerId, newId: countingIds(`${makerId}-`), captureMs: 0 });
}

/** A second maker with a copy of the document. */
export function joinDesign(other: Design, makerId: string): Design {
  const doc = numberedDoc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(other.doc));
  return new Design(doc, { makerId, newId: countingIds(`${makerId}-`), captureMs: 0 });
}

/** Brings all documents to the same state. */
export function syncAll(...designs: readonly Design[]): void {
  const updates = designs.map(({ doc }) => Y.encodeStateAsUpdate(doc));
  for (const { doc } of designs) for (const update of updates) Y.applyUpdate(doc, update, 'remote');
}

/** Runs commands that must be taken. */
export function runAll(design: Design, ...commands: readonly Command[]): void {
  for (const command of commands) {
    const result = design.run(command);
    if (!result.ok) throw new Error(`${command.kind} was refused: ${result.error.message}`);
  }
}

/** The rows in text, as in a board file. */
export function rowsOf(design: Design): readonly string[] {
  return formatBoard(design.snapshot.board).rows;
}

/** Colours of the strings, joined. */
export function stringsOf(design: Design): string {
  return design.snapshot.board.pattern.colours.join('');
}
