/** How what is held comes back. */
import type * as Y from 'yjs';
import type { Roots } from '../schema.ts';
import { set, type Write } from '../writes.ts';
import { entriesOf } from './held.ts';
import { type Held, type ListRoot, type MapRoot, scopeOf } from './key-change.ts';
import { isUnheard, matrixWrites } from './knot-writes.ts';
import { baseOf, eachKnot, KnotMatrix, keyOf, LEAVE, placeIn } from './knots-shown.ts';

/** The entries of a list that are held and of whose scope the document no longer knows any. */
export function heldEntries(held: Held, roots: Roots, root: ListRoot): readonly string[] {
  const first = held.lists.find(([of]) => of === root)?.[1] ?? [];
  return entriesOf(roots, root, scopeOf(first[0] ?? '')).length === 0 ? first : [];
}

/**
 * Writes what is held, but for lists, and the document no longer knows. What it still has is as others left it.
 * @param isWritten whether a key is written otherwise
 */
export function heldWrites(
  held: Held,
  roots: Roots,
  isWritten: (root: MapRoot, key: string) => boolean,
): Write[] {
  const writes: Write[] = [];
  for (const [root, key, value] of held.values)
    if (!roots[root].has(key) && !isWritten(root, key)) writes.push(set(roots[root], key, value));
  // What hung there first counts.
  const seen = new Set<string>();
  for (const [pattern, stored] of held.bases) {
    if (!roots.knots.has(pattern) && !seen.has(pattern)) writes.push(set(roots.knots, pattern, stored));
    else
      writes.push(
        ...missingKnots(
          roots.knots,
          pattern,
          stored,
          (key) => seen.has(key) || isWritten('knots', key),
          seen,
        ),
      );
    seen.add(pattern);
  }
  return writes;
}

function missingKnots(
  map: Y.Map<unknown>,
  pattern: string,
  stored: Held['bases'][number][1],
  isWritten: (key: string) => boolean,
  seen: Set<string>,
): Write[] {
  const base = baseOf(stored);
  const missing = new KnotMatrix(base.rows, base.strings, LEAVE);
  eachKnot(missing, (i, j, half) => {
    const code = base.at(i, j, half);
    if (code === 0) return;
    const place = placeIn(missing, pattern, i, j, half);
    const key = keyOf(place);
    if (!isUnheard(map, key, place) || isWritten(key)) return;
    missing.put(i, j, half, code);
    seen.add(key);
  });
  return matrixWrites(map, pattern, missing);
}
