import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { IDENTITY_ROOT } from '../../../engine/document/index.ts';
import {
  clientOf,
  firstOf,
  generationAfter,
  identityIn,
  identityUpdate,
  isSameGeneration,
  textOf,
} from '../../../server/sync/identity.ts';

const DRAWN = 'nobody-knows-it_';

describe('the name in a document', () => {
  it.each([
    [{ name: 'a/design', generation: 1, drawn: '' }, 'a/design'],
    [{ name: 'b7-Zx_09/talk', generation: 1, drawn: '' }, 'b7-Zx_09/talk'],
    // Of a release that drew none.
    [{ name: 'a/design', generation: 2, drawn: '' }, 'a/design~2'],
    [{ name: 'a/design', generation: 1234, drawn: DRAWN }, `a/design~1234~${DRAWN}`],
  ])('[V44] [V351] is the struct that Yjs writes: %j', (identity, text) => {
    const doc = new Y.Doc();
    doc.clientID = clientOf(identity);
    doc.getMap(IDENTITY_ROOT).set('name', text);
    expect(identityUpdate(identity)).toEqual(Y.encodeStateAsUpdate(doc));
    expect(identityIn(identity.name, text)).toEqual(identity);
    expect(textOf(identity)).toBe(text);
  });

  it('[V351] is read in the one form in which it is written', () => {
    const texts = ['b/design', 'a/design~', 'a/design~1', 'a/design~02', 'a/design~2~', 'a/design~2~short'];
    for (const text of [...texts, `a/design~2~${DRAWN}~x`, `a/design~2~${DRAWN}!`, 7, null])
      expect(identityIn('a/design', text), String(text)).toBeNull();
  });

  it('[V351] each generation after the first is drawn a name, under a client id that the one before does not hold', () => {
    const first = firstOf('a/design');
    const one = generationAfter(first, () => false);
    const other = generationAfter(first, () => false);
    expect([one.generation, other.generation]).toEqual([2, 2]);
    expect(isSameGeneration(one, other)).toBe(false);
    expect(clientOf(one)).not.toBe(clientOf(other));
    const seen: number[] = [];
    const third = generationAfter(one, (client) => seen.push(client) < 3);
    expect(seen).toHaveLength(3);
    expect(clientOf(third)).toBe(seen[2]);
    expect(third.generation).toBe(3);
  });
});
