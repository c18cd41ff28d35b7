/** Whether a change is of something that is shown now. */
import type { Shape } from '../read-lists.ts';
import { colourwayKey, localOf, type Roots, readColourwayKey, type Scope } from '../schema.ts';
import { boardOf } from './held.ts';
import { type KeyChange, scopeOf } from './key-change.ts';
import { knotPlaceOf } from './knots-shown.ts';

/** The design as it is read now. */
export interface Shown {
  readonly roots: Roots;
  readonly scope: Scope;
  readonly shape: Shape;
}

/**
 * Whether somebody who looks at the board would see it taken back: its board and pattern are those that are read, its rows, strings
 * and colourway are there. Halves that are only hidden at an edge count as seen.
 */
export function isInSight({ root, key }: Pick<KeyChange, 'root' | 'key'>, shown: Shown): boolean {
  const { scope, shape, roots } = shown;
  switch (root) {
    case 'meta':
      return key === 'generation' || scopeOf(key) === scope.board || scopeOf(key) === scope.pattern;
    case 'rowPairs':
    case 'stringPairs':
      return scopeOf(key) === scope.pattern;
    case 'colours':
      return hasString(shown, key.slice(0, -2));
    case 'palette':
    case 'paletteOrder':
      return scopeOf(key) === scope.board;
    case 'colourways': {
      const parts = boardOf(key) === scope.board ? readColourwayKey(scope.board, key) : null;
      if (parts === null) return false;
      if (parts.field === null || (parts.colour === null && parts.field === 'order')) return true;
      const order = roots.colourways.get(colourwayKey(scope.board, parts.colourway, 'order'));
      return order !== null && order !== undefined;
    }
    case 'knots': {
      const place = knotPlaceOf(key);
      if (place === null) return key === scope.pattern;
      if (place.pattern !== scope.pattern) return false;
      return shape.rowIndex.has(`${place.pattern}.${place.row}`) && shape.stringIndex.has(place.string);
    }
  }
}

/** Whether it is of the board or the pattern that are read now. */
export function isOfScope(
  { root, key }: Pick<KeyChange, 'root' | 'key'>,
  { board, pattern }: Scope,
): boolean {
  const of = root === 'colourways' ? boardOf(key) : key.includes('.') ? scopeOf(key) : key;
  return of === board || of === pattern;
}

function hasString({ scope, shape }: Shown, pair: string): boolean {
  const local = localOf(scope.pattern, pair);
  return local !== null && shape.stringIndex.has(local);
}
