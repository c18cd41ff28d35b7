/** The rows of a document as a room reads them, where not all of them can be. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { StoredRow } from '../../../server/store/index.ts';
import { type Identity, firstOf, identityUpdate } from '../../../server/sync/identity.ts';
import { readRows } from '../../../server/sync/log-rows.ts';
import { craftUpdate, sharedType } from '../../support/crafted-update.ts';

const NAME = 'kites/design';
const SECOND: Identity = { name: NAME, generation: 2, drawn: 'abcdefghijklmnop' };
const THIRD: Identity = { name: NAME, generation: 3, drawn: 'ponmlkjihgfedcba' };

/** Rows one after the other, from number 1 on; null = one that is not as it was written. */
const rowsOf = (...all: readonly (Uint8Array | null)[]): readonly StoredRow[] =>
  all.map((bytes, i) =>
    bytes === null ? { seq: i + 1, bytes: Uint8Array.of(7), isDamaged: true } : { seq: i + 1, bytes },
  );

function edit(key: string): Uint8Array {
  const doc = new Y.Doc();
  doc.getMap('meta').set(key, 1);
  return Y.encodeStateAsUpdate(doc);
}

function keysIn(update: Uint8Array): readonly string[] {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  return [...doc.getMap('meta').keys()].sort();
}

const ALIEN = craftUpdate([{ client: 9, structs: [{ parent: 'knots', key: 'a', content: sharedType(1) }] }]);
const EMPTY = Uint8Array.of(0, 0);

describe('rows of which some cannot be read', () => {
  it('[V253] all that fit one after the other are shown; those left out are named, and of the first why', () => {
    const cut = edit('cut').subarray(0, 9);
    const log = readRows(rowsOf(edit('a'), null, EMPTY, ALIEN, cut, edit('b'), null), NAME);
    expect(keysIn(log.update)).toEqual(['a', 'b']);
    expect([log.left, log.fault]).toEqual([[2, 4, 5, 7], 'row 2 is not as it was written']);
    expect(readRows(rowsOf(edit('a'), ALIEN), NAME).fault).toMatch(/^row 2: alien: .*ContentType in knots/);
    expect(log.identity).toEqual(firstOf(NAME));
  });

  it('[V253] [V106] the latest generation that any of them names is the document; rows of another are left out and said to be', () => {
    const log = readRows(
      rowsOf(identityUpdate(SECOND), edit('old'), identityUpdate(THIRD), edit('new'), identityUpdate(SECOND)),
      NAME,
    );
    expect([log.identity, log.left]).toEqual([THIRD, [1, 5]]);
    expect(log.fault).toBe('row 1: other-generation: is of generation 2');
    expect(keysIn(log.update)).toEqual(['new', 'old']);
  });

  it('[V253] where nothing can be read nothing is shown, and every row is left', () => {
    const log = readRows(rowsOf(null, null), NAME);
    expect([log.update, log.left, log.fault]).toEqual([EMPTY, [1, 2], 'row 1 is not as it was written']);
  });
});
