/** Updates put together by their bytes, against Yjs. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { mergeUpdates } from '../../../server/sync/merge-updates.ts';
import { editStep, updatesOf } from './made-updates.ts';

/** Whether each is one struct that is values, as most edits are. */
function areValues(updates: readonly Uint8Array[]): boolean {
  return updates.every((update) => {
    const [struct, ...others] = Y.decodeUpdate(update).structs;
    return struct instanceof Y.Item && struct.content instanceof Y.ContentAny && others.length === 0;
  });
}

describe('updates', () => {
  it('are put together byte for byte as Yjs does it, in whatever order and however often they come', () => {
    let values = 0;
    fc.assert(
      fc.property(
        fc.array(editStep, { minLength: 1, maxLength: 12 }),
        fc.array(fc.nat(20), { maxLength: 6 }),
        fc.boolean(),
        (steps, picks, isAll) => {
          const all = updatesOf(steps);
          const updates = isAll ? all : all.length === 0 ? [] : picks.map((pick) => all[pick % all.length]!);
          if (updates.length === 0) return;
          if (updates.length > 1 && areValues(updates)) values += 1;
          expect(mergeUpdates(updates)).toEqual(Y.mergeUpdates([...updates]));
        },
      ),
      { numRuns: 400 },
    );
    expect(values).toBeGreaterThan(40);
  });

  it('that overwrite the values of one key by several say what each has deleted', () => {
    const updates = updatesOf(
      Array.from({ length: 9 }, (_, at) => ({ who: at % 3, kind: 'set', key: 'a', at: 0, value: `v${at}` })),
    );
    expect(areValues(updates)).toBe(true);
    const doc = new Y.Doc();
    Y.applyUpdate(doc, mergeUpdates(updates));
    expect(doc.getMap('map').toJSON()).toEqual({ a: 'v8' });
    expect(mergeUpdates(updates)).toEqual(Y.mergeUpdates(updates));
  });
});
