/** Who wrote what of a row. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { removedOf } from '../../../server/sync/removed.ts';
import { Visits } from '../../../server/sync/visits.ts';
import {
  readWrittenBy,
  removerOfStruct,
  type Signed,
  WrittenBy,
  writerOfStruct,
} from '../../../server/sync/written-by.ts';

const ada = { visit: 'ada.1', name: 'Ada' };
const bo = { visit: 'bo.2', name: '' };
const edit = (
  ends: readonly (readonly [number, number])[],
  removed: Signed['removed'] = new Map(),
): Signed => ({
  ends: new Map(ends),
  removed,
});

describe('a row', () => {
  it('[V422] of one person needs no more than the visit; nobody’s needs nothing', () => {
    const by = new WrittenBy();
    by.note(ada, edit([[7, 3]]));
    by.note(ada, edit([[8, 1]], new Map([[7, [{ clock: 0, len: 2 }]]])));
    expect(by.text(5)).toBe('[5,["ada.1","Ada"]]');
    const read = readWrittenBy(by.text(5))!;
    expect([writerOfStruct(read, 99, 0), removerOfStruct(read, 99, 0)]).toEqual(['ada.1', 'ada.1']);
    const nobody = new WrittenBy();
    nobody.note(null, edit([[7, 3]]));
    expect(nobody.text(5)).toBe('');
    expect(readWrittenBy('')).toBeNull();
  });

  it('[V422] of several says of each struct and deletion whose it is, also under a client id that two wrote under', () => {
    const [first, later] = [new WrittenBy(), new WrittenBy()];
    first.note(ada, edit([[7, 3]]));
    first.note(
      bo,
      edit(
        [
          [7, 5],
          [9, 1],
        ],
        new Map([[7, [{ clock: 1, len: 2 }]]]),
      ),
    );
    later.note(ada, edit([[7, 8]]));
    later.note(null, edit([[11, 1]], new Map([[9, [{ clock: 0, len: 1 }]]])));
    later.note(bo, edit([[9, 4]]));
    first.add(later);
    const read = readWrittenBy(first.text(6))!;
    const writers = [0, 2, 3, 4, 5, 7, 8].map((clock) => writerOfStruct(read, 7, clock));
    expect(writers).toEqual(['ada.1', 'ada.1', 'bo.2', 'bo.2', 'ada.1', 'ada.1', null]);
    expect([writerOfStruct(read, 9, 3), writerOfStruct(read, 11, 0), writerOfStruct(read, 12, 0)]).toEqual([
      'bo.2',
      '',
      null,
    ]);
    const removers = [0, 1, 2, 3].map((clock) => removerOfStruct(read, 7, clock));
    expect([...removers, removerOfStruct(read, 9, 0)]).toEqual([null, 'bo.2', 'bo.2', null, '']);
  });

  it('[V422] of more deletions than are named, the rest is of who deleted so much', () => {
    const by = new WrittenBy();
    by.note(ada, edit([[7, 1]], new Map([[7, [{ clock: 0, len: 1 }]]])));
    const many = Array.from({ length: 600 }, (_, i) => ({ clock: i * 2, len: 1 }));
    by.note(bo, edit([[9, 1]], new Map([[3, many]])));
    expect(by.text(1).length).toBeLessThan(200);
    const read = readWrittenBy(by.text(1))!;
    expect([removerOfStruct(read, 7, 0), removerOfStruct(read, 3, 8)]).toEqual(['ada.1', 'bo.2']);
    const later = new WrittenBy();
    later.add(by);
    expect(later.text(1)).toBe(by.text(1));
  });

  it.each([
    '{',
    '5',
    '[5]',
    '["x",["a",""]]',
    '[5,["a"]]',
    '[5,["a","",[[1]]]]',
    '[5,["a","",[[1,"2"]],1]]',
    '[5,["a","",[],2]]',
    '[5,7]',
  ])('[V422] a text that is none of ours is nobody’s: %s', (text) => expect(readWrittenBy(text)).toBeNull());
});

describe('what an update removes', () => {
  const removedIn = (change: (doc: Y.Doc) => void): unknown => {
    const doc = new Y.Doc();
    doc.clientID = 4;
    doc.getMap('m').set('a', 1);
    doc.getArray('l').insert(0, ['x', 'y', 'z']);
    const before = Y.encodeStateVector(doc);
    const after = new Y.Doc();
    Y.applyUpdate(after, Y.encodeStateAsUpdate(doc));
    after.clientID = 5;
    after.transact(() => change(after));
    const { structs, ds } = Y.decodeUpdate(Y.encodeStateAsUpdate(after, before));
    return [...removedOf(structs, ds.clients)].map(([client, ranges]) => [
      client,
      ranges.map(({ clock, len }) => [clock, len]),
    ]);
  };

  it('[V422] is what nothing is put in the place of', () => {
    expect(removedIn((doc) => doc.getMap('m').set('a', 2))).toEqual([]);
    expect(removedIn((doc) => doc.getMap('m').set('b', 2))).toEqual([]);
    expect(removedIn((doc) => doc.getMap('m').delete('a'))).toEqual([[4, [[0, 1]]]]);
    expect(removedIn((doc) => doc.getArray('l').delete(1, 2))).toEqual([[4, [[2, 2]]]]);
    expect(
      removedIn((doc) => {
        doc.getMap('m').set('a', 2);
        doc.getArray('l').delete(2, 1);
      }),
    ).toEqual([[4, [[3, 1]]]]);
  });
});

describe('visits in a room', () => {
  it('[V423] end half an hour after the person was last seen, and carry the name last shown', () => {
    const visits = new Visits();
    const state = (name: string): string => JSON.stringify({ person: { id: 'ada', name, hex: '#112233' } });
    expect(visits.signatureOf('ada', null, 0)).toEqual({ visit: 'ada.0', name: '' });
    expect(visits.signatureOf('ada', state('Ada'), 10)).toEqual({ visit: 'ada.0', name: 'Ada' });
    expect(visits.signatureOf('ada', null, 20).name).toBe('Ada');
    const half = 30 * 60_000;
    visits.see(new Set(['ada']), half);
    visits.see(new Set(), 2 * half);
    expect(visits.signatureOf('ada', state('Ada 2'), 2 * half)).toEqual({ visit: 'ada.0', name: 'Ada 2' });
    visits.see(new Set(), 3 * half + 1);
    expect(visits.size).toBe(0);
    expect(visits.signatureOf('ada', JSON.stringify({ person: 5 }), 3 * half + 1)).toEqual({
      visit: `ada.${(3 * half + 1).toString(36)}`,
      name: '',
    });
    expect(visits.signatureOf('ada', null, 0).visit).toBe('ada.0');
  });
});
