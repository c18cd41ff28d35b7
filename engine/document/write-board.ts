/** Writes whole boards and patterns into a document. */
import type * as Y from 'yjs';
import { type Board, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import type { StoredBase } from './base-knots.ts';
import { checkBoard } from './check-board.ts';
import type { StoredColourway, StoredColourwayColour } from './read-colours.ts';
import {
  colourKey,
  colourwayKey,
  DOCUMENT_VERSION,
  foundingLocal,
  type IdSource,
  type Roots,
  rootsOf,
  scoped,
  takeId,
  writeGeneration,
} from './schema.ts';
import { wellFormed } from './text.ts';
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
  const generation = { board: takeId(newId), pattern: takeId(newId) };
  const writes = [
    set(roots.meta, 'version', DOCUMENT_VERSION),
    ...boardWrites(roots, generation.board, board),
    ...patternWrites(roots, generation.pattern, board.pattern),
    set(roots.meta, 'generation', writeGeneration(generation)),
  ];
  doc.transact(() => applyWrites(writes), origin ?? null);
}

/** Everything of a board but its pattern, under a new board id. */
export function boardWrites(roots: Roots, id: string, board: Board): Write[] {
  const writes = [set(roots.meta, scoped(id, 'title'), wellFormed(board.title))];
  for (const table of ['piece', 'gauge'] as const)
    for (const [name, value] of Object.entries(board[table]))
      if (value !== undefined) writes.push(set(roots.meta, scoped(id, `${table}.${name}`), value));
  writes.push({
    do: 'insert',
    list: roots.paletteOrder,
    at: roots.paletteOrder.length,
    ids: board.palette.map((colour) => scoped(id, colour.id)),
  });
  for (const colour of board.palette) {
    writes.push(set(roots.palette, scoped(id, `${colour.id}:name`), wellFormed(colour.name)));
    writes.push(set(roots.palette, scoped(id, `${colour.id}:hex`), colour.hex.toLowerCase()));
  }
  board.colourways.forEach((colourway, order) => {
    const head: StoredColourway = { name: wellFormed(colourway.name), order };
    writes.push(set(roots.colourways, colourwayKey(id, colourway.id), head));
    colourway.colours.forEach((colour, at) => {
      const stored: StoredColourwayColour = {
        name: wellFormed(colour.name),
        hex: colour.hex.toLowerCase(),
        order: at,
      };
      writes.push(set(roots.colourways, colourwayKey(id, colourway.id, colour.id), stored));
    });
  });
  return writes;
}

/** A pattern under a new pattern id: pairs, flags, colours of strings and knots. */
export function patternWrites(roots: Roots, id: string, pattern: Pattern): Write[] {
  const { colours, start, rows } = pattern;
  // A pattern without rows has no row pairs, wherever it would begin.
  const rowPairs = rows === 0 ? 0 : (rows + start + 1) >> 1;
  const stringPairs = (colours.length + 1) >> 1;
  const writes = [
    pairsWrite(roots.rowPairs, id, rowPairs),
    pairsWrite(roots.stringPairs, id, stringPairs),
    set(roots.meta, scoped(id, 'firstHidden'), start === 1),
    set(roots.meta, scoped(id, 'lastHidden'), rows > 0 && (rows + start) % 2 === 1),
    set(roots.meta, scoped(id, 'loneString'), colours.length % 2 === 1),
  ];
  for (let place = 0; place < stringPairs * 2; place++) {
    // The hidden string beside a lone one has its neighbour's colour.
    const colour = colours[Math.min(place, colours.length - 1)]!;
    const pair = scoped(id, foundingLocal(place >> 1));
    writes.push(set(roots.colours, colourKey(pair, (place & 1) as 0 | 1), colour));
  }
  writes.push(set(roots.knots, id, packKnots(pattern, rowPairs, stringPairs)));
  return writes;
}

function pairsWrite(list: Y.Array<unknown>, id: string, count: number): Write {
  const ids = Array.from({ length: count }, (_, i) => scoped(id, foundingLocal(i)));
  return { do: 'insert', list, at: list.length, ids };
}

function packKnots(
  { start, rows, knots, colours }: Pattern,
  rowPairs: number,
  stringPairs: number,
): StoredBase {
  const stride = rowStride(colours.length);
  const packed = new Uint8Array(rowPairs * stringPairs);
  for (let row = 0; row < rows; row++) {
    const shift = rowParity(start, row) === 0 ? 0 : 4;
    const at = ((row + start) >> 1) * stringPairs;
    for (let k = 0; k < stride; k++) packed[at + k]! |= knots[row * stride + k]! << shift;
  }
  return { rows: rowPairs, strings: stringPairs, knots: packed };
}
