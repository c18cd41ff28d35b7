/** Who wrote what stands under a key now. */
import type * as Y from 'yjs';
import type { Roots } from '../schema.ts';
import { isListRoot, type KeyChange } from './key-change.ts';
import { knotPlaceOf } from './knots-shown.ts';

/**
 * The Yjs client of the value that stands where the change was; null where nobody can be named: what was taken away has no writer,
 * and after a renewal the server has written all. O(1) in maps, O(list) in lists.
 */
export function writerOf({ root, key }: Pick<KeyChange, 'root' | 'key'>, roots: Roots): number | null {
  if (isListRoot(root)) {
    for (let item = roots[root]._start; item !== null; item = item.right)
      if (!item.deleted && item.content.getContent().includes(key)) return item.id.client;
    return null;
  }
  const item = standing(roots[root], key);
  if (item !== null) return item.id.client;
  const place = root === 'knots' ? knotPlaceOf(key) : null;
  return place === null ? null : (standing(roots.knots, place.pattern)?.id.client ?? null);
}

function standing(map: Y.Map<unknown>, key: string): Y.Item | null {
  const item = map._map.get(key);
  return item === undefined || item.deleted ? null : item;
}
