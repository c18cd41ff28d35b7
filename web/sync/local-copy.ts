/** What this browser keeps of a board that is not open. */
import { BareDesign } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { asideNames, deleteCopy, loadCopy, localName } from './copies.ts';
import { newId } from './person.ts';

/** Copies of a board that show the same, as they can be shown and saved. */
export interface LeftCopy {
  readonly names: readonly string[];
  readonly board: Board;
}

/** These copies and one more. */
export function withCopy(copies: readonly LeftCopy[], name: string, board: Board): readonly LeftCopy[] {
  const same = copies.find((copy) => looksAlike(copy.board, board));
  if (same === undefined) return [...copies, { names: [name], board }];
  return copies.map((copy) => (copy === same ? { names: [...copy.names, name], board: copy.board } : copy));
}

/** Whether two boards that were read from documents are the same. */
export function looksAlike(one: Board, other: Board): boolean {
  const text = ({ pattern, ...rest }: Board): string =>
    JSON.stringify([rest, pattern.colours, pattern.start, pattern.rows, pattern.knots.join('')]);
  return text(one) === text(other);
}

/** Drops copies with all that is in them. */
export async function dropCopies({ names }: Pick<LeftCopy, 'names'>): Promise<void> {
  await Promise.all(names.map((name) => deleteCopy(name)));
}

/** The board in the copy of this name; null when it holds none. */
export async function readCopy(name: string): Promise<Board | null> {
  const doc = await loadCopy(name);
  const design = new BareDesign(doc, { makerId: 'reader', newId });
  const board = design.state.kind === 'ready' ? design.snapshot.board : null;
  design.dispose();
  doc.destroy();
  return board;
}

/** The board as this browser keeps it, and as tabs had it that put theirs aside; none when it keeps none. */
export async function readLeftCopies(boardId: string): Promise<readonly LeftCopy[]> {
  let copies: readonly LeftCopy[] = [];
  for (const name of [localName(boardId), ...(await asideNames(boardId))]) {
    const board = await readCopy(name);
    if (board !== null) copies = withCopy(copies, name, board);
  }
  return copies;
}
