/** Which visit made which change of a row: by the structs that stand under the changed keys. */
import * as Y from 'yjs';
import { isListRoot, type KeyChange, type Roots } from '../../engine/document/index.ts';
import { removerOfStruct, type RowSignature, writerOfStruct } from '../sync/index.ts';

/** Stands for people who are not known, and for edits of the server's own. */
const NOBODY = '';

/** Says whose a change is: the label of a visit, empty where it is nobody's. Right after the transaction, before what was deleted is let go of. */
export function attributing(signature: RowSignature | null, roots: Roots): (change: KeyChange) => string {
  if (signature === null) return () => NOBODY;
  const [only, ...others] = signature.shares;
  if (others.length === 0) return () => only!.visit;
  const entries = new Map<string, ReadonlyMap<string, Y.ID>>();
  return ({ root, key, after }) => {
    if (!isListRoot(root)) return ofKey(signature, roots[root] as Y.Map<unknown>, key);
    const list = roots[root] as Y.Array<unknown>;
    let found = entries.get(root);
    if (found === undefined) {
      found = entryIds(list);
      entries.set(root, found);
    }
    const id = found.get(key);
    if (id === undefined) return NOBODY;
    const whose = after === null ? removerOfStruct : writerOfStruct;
    return whose(signature, id.client, id.clock) ?? NOBODY;
  };
}

function ofKey(signature: RowSignature, map: Y.Map<unknown>, key: string): string {
  const item = map._map.get(key);
  if (item === undefined) return NOBODY;
  const { client } = item.id;
  const clock = item.id.clock + item.length - 1;
  const whose = item.deleted ? removerOfStruct : writerOfStruct;
  return whose(signature, client, clock) ?? NOBODY;
}

/** The structs of the entries of a list; of one that stands there now and was taken out too, the one that stands there. */
function entryIds(list: Y.Array<unknown>): ReadonlyMap<string, Y.ID> {
  const ids = new Map<string, Y.ID>();
  for (let item = list._start; item !== null; item = item.right) {
    const { id, deleted } = item;
    for (const [at, entry] of item.content.getContent().entries())
      if (typeof entry === 'string' && (!deleted || !ids.has(entry)))
        ids.set(entry, Y.createID(id.client, id.clock + at));
  }
  return ids;
}
