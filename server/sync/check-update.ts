/**
 * Looks at an update before it may touch a document. Yjs keeps what it cannot place yet, for ever, and hands it to every
 * newcomer; y-protocols swallows what does not decode. So nothing is applied that has not passed here.
 */
import * as Y from 'yjs';
import { EMPTY_UPDATE_BYTES } from './frames.ts';
import { generationIn, IDENTITY_ROOT, type Identity } from './identity.ts';

export type UpdateCheck =
  /** Decodes, and all it builds on is there. */
  | { readonly kind: 'fits' }
  /** Holds nothing. */
  | { readonly kind: 'empty' }
  /** Builds on something that neither the document nor the update holds. */
  | { readonly kind: 'unmet'; readonly message: string }
  | { readonly kind: 'malformed'; readonly message: string }
  /** Comes from a copy of a former generation. */
  | { readonly kind: 'former'; readonly generation: number }
  /** Says that it belongs to another document. */
  | { readonly kind: 'foreign'; readonly message: string };

/** Beyond this clock an update is not the work of a person: 2^31 characters or knots by one client. */
const MAX_CLOCK = 2 ** 31;

interface Dependency {
  readonly client: number;
  readonly clock: number;
}

/** Whether an update holds nothing. */
export function isEmptyUpdate(update: Uint8Array): boolean {
  return update.length === EMPTY_UPDATE_BYTES && update[0] === 0 && update[1] === 0;
}

/**
 * Checks an update (Yjs V1 encoding) against a document; changes neither.
 * @param identity the document's name and generation, which an update may repeat but not change
 * O(structs of the update).
 */
export function checkUpdate(doc: Y.Doc, identity: Identity, update: Uint8Array): UpdateCheck {
  if (isEmptyUpdate(update)) return { kind: 'empty' };
  let decoded: ReturnType<typeof Y.decodeUpdate>;
  try {
    decoded = Y.decodeUpdate(update);
  } catch (cause) {
    return { kind: 'malformed', message: `the update does not decode: ${(cause as Error).message}` };
  }
  const ends = new Map<number, number>();
  const endOf = (client: number): number => ends.get(client) ?? Y.getState(doc.store, client);

  for (const struct of decoded.structs) {
    const { client, clock } = struct.id;
    if (struct instanceof Y.Skip) return { kind: 'unmet', message: `a gap at ${client}:${clock}` };
    const end = clock + struct.length;
    if (!(struct.length > 0) || end > MAX_CLOCK)
      return { kind: 'malformed', message: `struct ${client}:${clock} has length ${struct.length}` };
    const known = endOf(client);
    if (clock > known)
      return { kind: 'unmet', message: `${client}:${clock} follows ${client}:${known}, which is missing` };
    if (end > known) ends.set(client, end);
  }
  const isMissing = (id: Dependency | null): boolean => id !== null && id.clock >= endOf(id.client);
  for (const struct of decoded.structs) {
    if (!(struct instanceof Y.Item)) continue;
    const { id, origin, rightOrigin, parent } = struct;
    // Yjs takes for granted that a client built on its own earlier structs, and fails where one refers to itself or ahead.
    for (const other of [origin, rightOrigin, parent instanceof Y.ID ? parent : null])
      if (other !== null && other.client === id.client && other.clock >= id.clock)
        return { kind: 'malformed', message: `${id.client}:${id.clock} builds on itself or on a later one` };
    if (isMissing(origin) || isMissing(rightOrigin) || (parent instanceof Y.ID && isMissing(parent)))
      return { kind: 'unmet', message: `${struct.id.client}:${struct.id.clock} builds on what is missing` };
    // The decoder gives the name of a root, though the type says otherwise.
    if ((parent as unknown) !== IDENTITY_ROOT) continue;
    for (const text of struct.content.getContent()) {
      const generation = generationIn(identity.name, text);
      if (generation === null || generation > identity.generation)
        return { kind: 'foreign', message: 'the update belongs to another document' };
      if (generation < identity.generation) return { kind: 'former', generation };
    }
  }
  for (const [client, deletions] of decoded.ds.clients)
    for (const { clock, len } of deletions)
      if (clock + len > endOf(client))
        return { kind: 'unmet', message: `deletes ${client}:${clock}, which is missing` };
  return { kind: 'fits' };
}
