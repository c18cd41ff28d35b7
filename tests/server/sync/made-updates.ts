/** Updates of all kinds, as clients make them. */
import fc from 'fast-check';
import * as Y from 'yjs';

const value = fc.oneof(
  fc.string(),
  fc.integer(),
  fc.double({ noNaN: true }),
  fc.boolean(),
  fc.constant(null),
  fc.array(fc.integer(), { maxLength: 3 }),
  fc.dictionary(fc.constantFrom('x', 'y'), fc.string(), { noNullPrototype: true }),
);
/** One edit of one of three clients. */
export const editStep = fc.record({
  who: fc.nat(2),
  kind: fc.constantFrom('set', 'delete', 'insert', 'remove', 'text'),
  key: fc.constantFrom('a', 'b', ''),
  at: fc.nat(5),
  value,
});

/** The updates that three clients make who hear of each other at once. */
export function updatesOf(
  steps: readonly { who: number; kind: string; key: string; at: number; value: unknown }[],
): Uint8Array[] {
  const docs = [1, 2 ** 31 + 5, 2 ** 32 - 1].map((id) => {
    const doc = new Y.Doc();
    doc.clientID = id;
    return doc;
  });
  const updates: Uint8Array[] = [];
  for (const doc of docs)
    doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin === 'others') return;
      updates.push(update);
      for (const other of docs) if (other !== doc) Y.applyUpdate(other, update, 'others');
    });
  for (const { who, kind, key, at, value: written } of steps) {
    const doc = docs[who]!;
    const [map, list] = [doc.getMap('map'), doc.getArray('list')];
    if (kind === 'set') map.set(key, written);
    else if (kind === 'delete') map.delete(key);
    else if (kind === 'insert') list.insert(Math.min(at, list.length), [written, written]);
    else if (kind === 'remove' && list.length > 0) list.delete(at % list.length, 1);
    else if (kind === 'text') doc.getText('text').insert(0, key);
  }
  return updates;
}
