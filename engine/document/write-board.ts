/** Writes whole boards into a document. */
import type * as Y from 'yjs';
import { type SupplyValue, supplyValues } from '../files/index.ts';
import type { Board } from '../pattern/index.ts';
import { checkBoard } from './check-board.ts';
import {
  colourwayKey,
  DOCUMENT_VERSION,
  type DressField,
  dressKey,
  type HeadField,
  type IdSource,
  type Roots,
  rootsOf,
  scoped,
  supplyKey,
  takeId,
  writeScope,
} from './schema.ts';
import { patternWrites } from './write-pattern.ts';
import { applyWrites, set, type Write } from './writes.ts';

/**
 * Fills a new document with a board, in one transaction. On a document that holds one, the new board takes its place.
 * @throws RangeError when the board is not valid (naming the path), TypeError when an id is none; nothing is written then
 * O(knots).
 */
export function writeBoard(doc: Y.Doc, board: Board, newId: IdSource, origin?: unknown): void {
  const fault = checkBoard(board);
  if (fault !== null) throw new RangeError(`${fault.path}: ${fault.message}`);
  const roots = rootsOf(doc);
  const scope = { board: takeId(newId), pattern: takeId(newId) };
  const writes = [
    set(roots.meta, 'version', DOCUMENT_VERSION),
    ...boardWrites(roots, scope.board, board),
    ...patternWrites(roots, scope.pattern, board.pattern),
    set(roots.meta, 'generation', writeScope(scope)),
  ];
  doc.transact(() => applyWrites(writes), origin ?? null);
}

/** Everything of a board but its pattern, under a new board id. */
export function boardWrites(roots: Roots, id: string, board: Board): Write[] {
  const writes = [set(roots.meta, scoped(id, 'title'), board.title)];
  for (const table of ['piece', 'gauge'] as const)
    for (const [name, value] of Object.entries(board[table]))
      if (value !== undefined) writes.push(set(roots.meta, scoped(id, `${table}.${name}`), value));
  for (const [key, value] of supplyValues(board.supplies)) writes.push(supplyWrite(roots, id, key, value));
  writes.push({
    do: 'insert',
    list: roots.paletteOrder,
    at: roots.paletteOrder.length,
    ids: board.palette.map((colour) => scoped(id, colour.id)),
  });
  for (const colour of board.palette) {
    writes.push(set(roots.palette, scoped(id, `${colour.id}:name`), colour.name));
    writes.push(set(roots.palette, scoped(id, `${colour.id}:hex`), colour.hex.toLowerCase()));
  }
  board.colourways.forEach((colourway, order) => {
    const { maker, pieces } = colourway;
    const head = (field: HeadField, value: unknown): number =>
      writes.push(set(roots.colourways, colourwayKey(id, colourway.id, field), value));
    head('order', order);
    head('name', colourway.name);
    if (maker !== undefined) head('maker', { id: maker.id, name: maker.name });
    if (pieces !== undefined) head('pieces', pieces);
    colourway.colours.forEach((colour, at) => {
      const dress = (field: DressField, value: unknown): number =>
        writes.push(set(roots.colourways, dressKey(id, colourway.id, colour.id, field), value));
      dress('hex', colour.hex.toLowerCase());
      dress('name', colour.name);
      dress('order', at);
    });
  });
  return writes;
}

/** Writes what is said of a thread or a part; null takes it back. */
export function supplyWrite(roots: Roots, board: string, key: string, value: SupplyValue | null): Write {
  return set(roots.meta, supplyKey(board, key), value);
}
