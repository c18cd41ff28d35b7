import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { IDENTITY_ROOT } from '../../engine/document/index.ts';
import { clientOf, identityUpdate } from '../../server/sync/identity.ts';

describe('the name in a document', () => {
  it.each([
    { name: 'a/design', generation: 1 },
    { name: 'b7-Zx_09/talk', generation: 1 },
    { name: 'a/design', generation: 2 },
    { name: 'a/design', generation: 1234 },
  ])('[V44] is the struct that Yjs writes: $name, generation $generation', (identity) => {
    const doc = new Y.Doc();
    doc.clientID = clientOf(identity);
    const { name, generation } = identity;
    doc.getMap(IDENTITY_ROOT).set('name', generation === 1 ? name : `${name}~${generation}`);
    expect(identityUpdate(identity)).toEqual(Y.encodeStateAsUpdate(doc));
  });
});
