/** Loads a whole board: a page that takes none in need not fetch what checks it. */
import type { Board } from '../pattern/index.ts';
import { checkBoard } from './check-board.ts';
import type { Command } from './command.ts';
import { DOCUMENT_VERSION, takeId, writeScope } from './schema.ts';
import { boardWrites } from './write-board.ts';
import { patternWrites } from './write-pattern.ts';
import { type CommandContext, checkFields, type Prepared, refuseFault, writeSet } from './write-set.ts';
import { set } from './writes.ts';

/** The command that puts a board in the place of all that stands in the document. */
export function loadBoard(board: Board): Command {
  return { kind: 'load-board', board, prepare: prepareLoadBoard };
}

/** New board and pattern ids. Rule D71. */
function prepareLoadBoard({ roots, newId }: CommandContext, board: Board): Prepared {
  const noBoard = checkFields('board', board);
  if (noBoard !== null) return noBoard;
  const fault = checkBoard(board);
  if (fault !== null) return refuseFault(fault, 'board.');
  const scope = { board: takeId(newId), pattern: takeId(newId) };
  const founding = [
    ...boardWrites(roots, scope.board, board),
    ...patternWrites(roots, scope.pattern, board.pattern),
  ];
  if (roots.meta.get('version') !== DOCUMENT_VERSION)
    founding.unshift(set(roots.meta, 'version', DOCUMENT_VERSION));
  return writeSet([set(roots.meta, 'generation', writeScope(scope))], founding);
}
