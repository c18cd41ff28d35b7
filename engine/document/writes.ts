/**
 * Writes to a document as data. A command computes all of them before the first is applied: Yjs does not roll back, so
 * nothing may fail in between. Commands never delete keys, only give them another value (null where nothing is meant), so that
 * taking back merges like setting; `clear` is for taking back the first value that a key ever had. Applying cannot throw for indices that hold at that moment.
 */
import type * as Y from 'yjs';

export type Write =
  | { readonly do: 'set'; readonly map: Y.Map<unknown>; readonly key: string; readonly value: unknown }
  | { readonly do: 'clear'; readonly map: Y.Map<unknown>; readonly key: string }
  | {
      readonly do: 'insert';
      readonly list: Y.Array<unknown>;
      readonly at: number;
      readonly ids: readonly string[];
    }
  | { readonly do: 'remove'; readonly list: Y.Array<unknown>; readonly at: number; readonly count: number };

/** Applies the writes in their order. Call inside a transaction. */
export function applyWrites(writes: readonly Write[]): void {
  for (const write of writes) {
    switch (write.do) {
      case 'set':
        write.map.set(write.key, write.value);
        break;
      case 'clear':
        write.map.delete(write.key);
        break;
      case 'insert':
        write.list.insert(write.at, [...write.ids]);
        break;
      case 'remove':
        write.list.delete(write.at, write.count);
        break;
    }
  }
}

/** A write of one key. */
export function set(map: Y.Map<unknown>, key: string, value: unknown): Write {
  return { do: 'set', map, key, value };
}

/**
 * Removes every entry that is one of the ids, last first. An id may stand in a list twice after two undos.
 * @param entries what the list holds by then
 */
export function removeAll(
  list: Y.Array<unknown>,
  ids: ReadonlySet<string>,
  entries: readonly unknown[] = list.toArray(),
): Write[] {
  const writes: Write[] = [];
  for (let end = entries.length; end > 0; ) {
    if (!ids.has(entries[end - 1] as string)) {
      end--;
      continue;
    }
    let begin = end - 1;
    while (begin > 0 && ids.has(entries[begin - 1] as string)) begin--;
    writes.push({ do: 'remove', list, at: begin, count: end - begin });
    end = begin;
  }
  return writes;
}
