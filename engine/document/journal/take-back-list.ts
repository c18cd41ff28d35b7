/** Taking back what was put into a list, taken out of it or moved in it. */
import type * as Y from 'yjs';
import { removeAll, type Write } from '../writes.ts';
import { Sequence } from './changes-of.ts';
import { type KeyChange, type ListPlace, scopeOf } from './key-change.ts';

interface ListTakenBack {
  readonly writes: readonly Write[];
  readonly kept: readonly KeyChange[];
  /** Entries that leave the list, and those that come into it. */
  readonly gone: ReadonlySet<string>;
  readonly back: ReadonlySet<string>;
}

/**
 * Entries that came go, also when they stand twice; those that went come behind their former neighbour, else before the
 * other one, else at their former index; those that were moved go back unless somebody has moved them since. O(list + changes).
 * @param held entries of a scope that is named again, which a renewal has dropped; they come first
 */
export function takeBackInList(
  list: Y.Array<unknown>,
  changes: readonly KeyChange[],
  held: readonly string[] = [],
): ListTakenBack {
  const now = new Sequence();
  const entries = [...list.toArray(), ...held];
  for (const entry of entries) if (typeof entry === 'string') now.add(entry);
  const kept: KeyChange[] = [];
  const gone = new Set<string>();
  const moved = new Set<string>();
  const places = new Map<string, ListPlace>();
  for (const change of changes) {
    const [before, after] = [change.before as ListPlace | null, change.after as ListPlace | null];
    const place = now.placeOf(change.key);
    if (before === null) {
      if (place !== null) gone.add(change.key);
    } else if (after === null) {
      if (place === null) places.set(change.key, before);
    } else if (place !== null && isAt(place, after)) {
      moved.add(change.key);
      places.set(change.key, before);
    } else if (place === null || !isAt(place, before)) kept.push(change);
  }
  const out = new Set([...gone, ...moved]);
  const writes: Write[] = [
    ...(held.length > 0 ? [{ do: 'insert' as const, list, at: list.length, ids: held }] : []),
    ...removeAll(list, out, entries),
    ...insertions(
      list,
      entries.filter((entry) => !out.has(entry as string)),
      places,
    ),
  ];
  const back = new Set([...places.keys()].filter((entry) => !moved.has(entry)));
  return { writes, kept, gone, back };
}

/** Beside either neighbour: somebody may have put others on one side since. */
function isAt(place: ListPlace, { behind, before }: ListPlace): boolean {
  return place.behind === behind || place.before === before;
}

/**
 * The last to go comes back first: where it stood is said in the list as it was then. What stood side by side comes as one run.
 * @param entries the list as it is after what goes has gone; changed along
 */
function insertions(
  list: Y.Array<unknown>,
  entries: unknown[],
  places: ReadonlyMap<string, ListPlace>,
): Write[] {
  const writes: Write[] = [];
  const pending = new Map([...places].reverse());
  const following = new Map<string, string>();
  for (const [entry, { behind }] of places) if (behind !== '') following.set(behind, entry);
  for (const entry of pending.keys()) {
    let first = entry;
    const seen = new Set([first]);
    for (let left = pending.get(first)!.behind; pending.has(left) && !seen.has(left); ) {
      first = left;
      seen.add(first);
      left = pending.get(first)!.behind;
    }
    const place = pending.get(first)!;
    const ids: string[] = [];
    let next: string | undefined = first;
    while (next !== undefined && pending.has(next)) {
      ids.push(next);
      next = following.get(next);
      if (ids.length > 1) pending.delete(ids.at(-2)!);
    }
    const last = ids.at(-1)!;
    const at = indexFor(entries, first, { ...place, before: pending.get(last)!.before });
    pending.delete(last);
    writes.push({ do: 'insert', list, at, ids });
    entries.splice(at, 0, ...ids);
  }
  return writes;
}

function indexFor(entries: readonly unknown[], entry: string, { behind, before, at }: ListPlace): number {
  const left = behind === '' ? -1 : entries.indexOf(behind);
  if (left >= 0) return left + 1;
  const right = before === '' ? -1 : entries.indexOf(before);
  if (right >= 0) return right;
  const scope = scopeOf(entry);
  let last = -1;
  let count = 0;
  for (let i = 0; i < entries.length; i++) {
    const other = entries[i];
    if (typeof other !== 'string' || scopeOf(other) !== scope) continue;
    if (count++ === at) return i;
    last = i;
  }
  return last < 0 ? entries.length : last + 1;
}
