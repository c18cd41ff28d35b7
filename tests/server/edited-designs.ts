/** Designs that are edited in one generation and read in another. */
import { expect } from 'vitest';
import type * as Y from 'yjs';
import { type Command, Design, readDesign } from '../../engine/document/index.ts';
import { formatBoard } from '../../engine/index.ts';

let count = 0;
export const newId = (): string => {
  count += 1;
  return `n${count}`;
};
export const designOf = (doc: Y.Doc): Design => new Design(doc, { makerId: 'm', newId, captureMs: 0 });

export function runAll(doc: Y.Doc, commands: readonly Command[]): void {
  const design = designOf(doc);
  for (const command of commands) expect(design.run(command), JSON.stringify(command)).toEqual({ ok: true });
  design.dispose();
}

export const fileOf = (doc: Y.Doc) => formatBoard(readDesign(doc).board);
