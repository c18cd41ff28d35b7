/** Reads designs with their ids. Apart from what compares them, so that comparing needs no document. */
import * as Y from 'yjs';
import type { Board, ColourId } from '../../pattern/index.ts';
import { DesignReader } from '../read-design.ts';
import { KnotReader } from '../read-knots.ts';
import type { Shape } from '../read-lists.ts';
import { type Roots, type Scope, scoped } from '../schema.ts';
import { packKnots } from '../write-pattern.ts';
import type { KeyedDesign } from './keyed.ts';

/** What a keyed design is gathered from. */
export interface KeyedSource {
  readonly roots: Roots;
  readonly scope: Scope;
  readonly shape: Shape;
  readonly colours: { readonly ofPairs: readonly ColourId[] };
  readonly board: Board;
}

/**
 * Reads a design with its ids.
 * @returns null when the document holds no board or is of a newer version
 * O(document). Rule D130.
 */
export function readKeyed(doc: Y.Doc): KeyedDesign | null {
  const reader = new DesignReader(doc);
  if (reader.state.kind !== 'ready') return null;
  const { roots, scope, shape, colours, snapshot } = reader;
  return keyedFrom({ roots, scope, shape, colours, board: snapshot.board });
}

/**
 * The same from a document's encoded state, as records keep it.
 * @returns null when the document holds no board or is of a newer version
 * @throws Error when the bytes are no update
 */
export function readKeyedUpdate(bytes: Uint8Array): KeyedDesign | null {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, bytes);
  const keyed = readKeyed(doc);
  doc.destroy();
  return keyed;
}

/** The keyed design of a document that was read already. O(document). */
export function keyedFrom({ roots, scope, shape, colours, board }: KeyedSource): KeyedDesign {
  const { rowPairIds, stringPairIds, firstHidden, lastHidden, loneString } = shape;
  const instead: Record<string, string> = {};
  const before = scoped(scope.board, '');
  roots.palette.forEach((value, key) => {
    if (key.startsWith(before) && key.endsWith(':instead') && typeof value === 'string')
      instead[key.slice(before.length, -':instead'.length)] = value;
  });
  return {
    patternId: scope.pattern,
    board,
    rowPairIds,
    stringPairIds,
    ends: { firstHidden, lastHidden, loneString },
    ofPairs: colours.ofPairs,
    knots: readWhole(roots.knots, scope.pattern, shape),
    instead,
  };
}

/** All knots under the pairs of a shape, hidden ones too, packed. O(keys + knots). */
export function readWhole(map: Y.Map<unknown>, pattern: string, shape: Shape): Uint8Array {
  const rowPairs = shape.rowPairIds.length;
  const stringPairs = shape.stringPairIds.length;
  // One string more than there are: the seam behind the last pair may hold knots of a pair that stood there.
  const whole: Shape = { ...shape, start: 0, rows: rowPairs * 2, strings: stringPairs * 2 + 1 };
  const { cells } = new KnotReader(map, pattern, whole);
  const colours: string[] = new Array(whole.strings).fill('');
  return packKnots({ colours, start: 0, rows: whole.rows, knots: cells }, rowPairs, stringPairs);
}
