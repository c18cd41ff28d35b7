/** A design document without its past. */
import * as Y from 'yjs';
import { placeOf, storedColourways } from './read-colourways.ts';
import { DesignReader } from './read-design.ts';
import { KnotReader } from './read-knots.ts';
import type { Shape } from './read-lists.ts';
import {
  colourwayKey,
  DOCUMENT_VERSION,
  dressKey,
  foundingLocal,
  localOf,
  type Roots,
  readScope,
  rootsOf,
  type Scope,
  scoped,
  writeScope,
} from './schema.ts';
import { boardWrites } from './write-board.ts';
import { packKnots, pairsWrites } from './write-pattern.ts';
import { applyWrites, set, type Write } from './writes.ts';

/**
 * A new document with the same board under the same ids, and nothing else: no history, no knots of deleted pairs,
 * nothing that was replaced, faults mended. Knots, rows and strings that are only hidden stay. The new document shares no
 * history with the old one, so the two must never be merged: whoever still has the old one loads the new one instead.
 * Places among colourways keep their numbers, so that what is taken back later finds its place. With a `clientId` they are counted
 * anew, and the same board under the same ids gives the same bytes.
 * @returns null when the document holds no board or is of a newer version
 * O(document). Rules D100 to D102.
 */
export function compactDesign(doc: Y.Doc, clientId?: number): Y.Doc | null {
  const reader = new DesignReader(doc);
  if (reader.state.kind !== 'ready') return null;
  const next = new Y.Doc({ gc: doc.gc });
  if (clientId !== undefined) next.clientID = clientId;
  const roots = rootsOf(next);
  const writes = wholeWrites(reader, roots);
  const kept = clientId === undefined ? withPlaces(writes, reader, roots) : writes;
  next.transact(() => applyWrites(kept));
  return next;
}

/**
 * Puts the board that one document shows in the place of that of another, under its ids. For a board that was opened in place of another,
 * or brought back by undo: whoever did so takes it back by these ids.
 * @returns false, and nothing is written, where both show the same board, however differently, or the other shows none, or holds some of it already
 * O(documents).
 */
export function putWholeBoard(from: Y.Doc, into: Y.Doc): boolean {
  const [reader, { state, roots }] = [new DesignReader(from), new DesignReader(into)];
  if (reader.state.kind !== 'ready' || state.kind !== 'ready' || holdsSome(roots, reader.scope)) return false;
  const writes = withPlaces(wholeWrites(reader, roots), reader, roots);
  into.transact(() => applyWrites(writes));
  return true;
}

function holdsSome({ meta, rowPairs, stringPairs, paletteOrder, knots }: Roots, scope: Scope): boolean {
  const shown = readScope(meta.get('generation'));
  const has = (id: string, entries: readonly unknown[]): boolean =>
    entries.some((entry) => localOf(id, entry) !== null);
  return (
    shown?.board === scope.board ||
    knots.has(scope.pattern) ||
    has(scope.pattern, rowPairs.toArray()) ||
    has(scope.pattern, stringPairs.toArray()) ||
    paletteOrder.toArray().some((entry) => String(entry).startsWith(scoped(scope.board, '')))
  );
}

/** All that is shown and only hidden, under its ids. */
function wholeWrites(reader: DesignReader, roots: Roots): Write[] {
  const { scope, shape, colours, snapshot } = reader;
  const whole: Shape = {
    ...shape,
    start: 0,
    rows: shape.rowPairIds.length * 2,
    // One more than there are: the seam behind the last pair may hold knots that show again beside a new one.
    strings: shape.stringPairIds.length * 2 + 1,
  };
  const { cells } = new KnotReader(reader.roots.knots, scope.pattern, whole);
  const { firstHidden, lastHidden, loneString } = shape;
  return [
    set(roots.meta, 'version', DOCUMENT_VERSION),
    ...boardWrites(roots, scope.board, snapshot.board),
    ...replacementWrites(reader.roots.palette, roots.palette, scope.board),
    ...pairsWrites(roots, scope.pattern, {
      rows: locals(scope.pattern, shape.rowPairIds),
      strings: locals(scope.pattern, shape.stringPairIds),
      flags: { firstHidden, lastHidden, loneString },
      ofPairs: colours.ofPairs,
      knots: packKnots(
        { colours: [...colours.ofPairs, ''], start: 0, rows: whole.rows, knots: cells },
        shape.rowPairIds.length,
        shape.stringPairIds.length,
      ),
    }),
    set(roots.meta, 'generation', writeScope(scope)),
  ];
}

/** By key, the numbers by which colourways, and their colours, have their places. */
export function placesOf(roots: Roots, board: string): ReadonlyMap<string, number> {
  const places = new Map<string, number>();
  for (const [id, { head, colours }] of storedColourways(roots, board)) {
    places.set(colourwayKey(board, id, 'order'), placeOf(head.get('order')));
    for (const [colour, fields] of colours)
      places.set(dressKey(board, id, colour, 'order'), placeOf(fields.get('order')));
  }
  return places;
}

/** The same with the places in the document that is read. */
function withPlaces(
  writes: readonly Write[],
  { roots, scope }: DesignReader,
  { colourways }: Roots,
): Write[] {
  const places = placesOf(roots, scope.board);
  return writes.map((write) => {
    const place = write.do === 'set' && write.map === colourways ? places.get(write.key) : undefined;
    return write.do === 'set' && place !== undefined ? { ...write, value: place } : write;
  });
}

/** What replaces removed colours: somebody who was away may still use one. */
function replacementWrites(from: Y.Map<unknown>, to: Y.Map<unknown>, board: string): Write[] {
  const writes: Write[] = [];
  from.forEach((value, key) => {
    if (key.startsWith(scoped(board, '')) && key.endsWith(':instead') && typeof value === 'string')
      writes.push(set(to, key, value));
  });
  return writes;
}

function locals(pattern: string, ids: readonly string[]): number | readonly string[] {
  const list = ids.map((id) => localOf(pattern, id)!);
  return list.every((local, i) => local === foundingLocal(i)) ? list.length : list;
}
