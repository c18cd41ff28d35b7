/**
 * Looks at an update before it may touch a document. Yjs keeps what it cannot place yet, for ever, and hands it to every
 * newcomer; y-protocols swallows what does not decode. So nothing is applied that has not passed here.
 */
import * as Y from 'yjs';
import { EMPTY_UPDATE_BYTES } from './frames.ts';
import { clientOf, generationIn, IDENTITY_ROOT, type Identity } from './identity.ts';

export type UpdateCheck =
  /** Decodes, and all it builds on is there. */
  | {
      readonly kind: 'fits';
      /** How far each client's structs reach once it is applied. */
      readonly ends: ReadonlyMap<number, number>;
      /**
       * Whether it is one client's next structs and nothing else. Such an update can be passed on as it came, and applied
       * later: there is nothing in it that the document holds already, and nothing that could wait for something else.
       */
      readonly isPlain: boolean;
    }
  /** Holds nothing. */
  | { readonly kind: 'empty' }
  /** Builds on something that neither the document nor the update holds. */
  | { readonly kind: 'unmet'; readonly message: string }
  | { readonly kind: 'malformed'; readonly message: string }
  /** Comes from a copy of a former generation. */
  | { readonly kind: 'former'; readonly generation: number }
  /** Says that it belongs to another document. */
  | { readonly kind: 'foreign'; readonly message: string };

/** How far a document's structs reach, by client; a state vector. */
export interface Clocks {
  get(client: number): number | undefined;
}

const NO_CLOCKS: Clocks = new Map<number, number>();

/** How far a Y.Doc reaches. */
export function clocksOf(doc: Y.Doc): Clocks {
  return { get: (client) => Y.getState(doc.store, client) };
}

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

/** The earliest generation that an update names, 0 when it names none, and null when it names another document too. */
function namedIn(structs: Decoded['structs'], name: string): number | null {
  let earliest = 0;
  for (const struct of structs) {
    // The decoder gives the name of a root, though the type says otherwise.
    if (!(struct instanceof Y.Item) || (struct.parent as unknown) !== IDENTITY_ROOT) continue;
    for (const text of struct.content.getContent()) {
      const generation = generationIn(name, text);
      if (generation === null) return null;
      earliest = earliest === 0 ? generation : Math.min(earliest, generation);
    }
  }
  return earliest;
}

/** Whether an update would take the place of the document's name, or remove it. */
function touchesName({ structs, ds }: Decoded, writer: number): boolean {
  if (ds.clients.has(writer)) return true;
  return structs.some(
    (struct) =>
      (struct.id.client === writer && struct.id.clock > 0) ||
      (struct instanceof Y.Item &&
        (struct.origin?.client === writer || struct.rightOrigin?.client === writer)),
  );
}

/**
 * Checks an update (Yjs V1 encoding) against a document; changes neither.
 * @param clocks how far the document reaches
 * @param identity the document's name and generation, which an update may repeat but not change
 * @param writer the client id under which the name is written, for who asks often
 * O(structs of the update).
 */
export function checkUpdate(
  clocks: Clocks,
  identity: Identity,
  update: Uint8Array,
  writer = clientOf(identity),
): UpdateCheck {
  if (isEmptyUpdate(update)) return { kind: 'empty' };
  const decoded = decode(update);
  if ('kind' in decoded) return decoded;
  const named = namedIn(decoded.structs, identity.name);
  if (named === null || named > identity.generation)
    return { kind: 'foreign', message: 'the update belongs to another document' };
  if (named > 0 && named < identity.generation) return { kind: 'former', generation: named };
  if (touchesName(decoded, writer))
    return { kind: 'foreign', message: 'the name of a document is written by the server alone' };
  return checkDecoded(clocks, decoded);
}

/** What a whole document says of itself, as it was read from the store. O(structs). */
export function checkState(
  state: Uint8Array,
  name: string,
): { readonly generation: number; readonly check: UpdateCheck } {
  const decoded = decode(state);
  if ('kind' in decoded) return { generation: 1, check: decoded };
  return { generation: namedIn(decoded.structs, name) || 1, check: checkDecoded(NO_CLOCKS, decoded) };
}

type Decoded = ReturnType<typeof Y.decodeUpdate>;

function decode(update: Uint8Array): Decoded | (UpdateCheck & { readonly kind: 'malformed' }) {
  try {
    return Y.decodeUpdate(update);
  } catch (cause) {
    return { kind: 'malformed', message: `the update does not decode: ${(cause as Error).message}` };
  }
}

function checkDecoded(clocks: Clocks, { structs, ds }: Decoded): UpdateCheck {
  const ends = new Map<number, number>();
  const endOf = (client: number): number => ends.get(client) ?? clocks.get(client) ?? 0;
  let isPlain = true;
  for (const struct of structs) {
    const { client, clock } = struct.id;
    if (struct instanceof Y.Skip) return { kind: 'unmet', message: `a gap at ${client}:${clock}` };
    const end = clock + struct.length;
    if (!(struct.length > 0) || end > MAX_CLOCK)
      return { kind: 'malformed', message: `struct ${client}:${clock} has length ${struct.length}` };
    const known = endOf(client);
    if (clock > known)
      return { kind: 'unmet', message: `${client}:${clock} follows ${client}:${known}, which is missing` };
    isPlain &&= clock === known && client === structs[0]?.id.client && isPlainItem(struct);
    if (end > known) ends.set(client, end);
  }
  const isMissing = (id: Dependency | null): boolean => id !== null && id.clock >= endOf(id.client);
  for (const struct of structs) {
    if (!(struct instanceof Y.Item)) continue;
    const { id, origin, rightOrigin, parent } = struct;
    const parentId = parent instanceof Y.ID ? parent : null;
    // Yjs takes for granted that a client built on its own earlier structs, and fails where one refers to itself or ahead.
    if (isAtOrAfter(origin, id) || isAtOrAfter(rightOrigin, id) || isAtOrAfter(parentId, id))
      return { kind: 'malformed', message: `${id.client}:${id.clock} builds on itself or on a later one` };
    if (isMissing(origin) || isMissing(rightOrigin) || isMissing(parentId))
      return { kind: 'unmet', message: `${id.client}:${id.clock} builds on what is missing` };
  }
  for (const [client, deletions] of ds.clients)
    for (const { clock, len } of deletions)
      if (clock + len > endOf(client))
        return { kind: 'unmet', message: `deletes ${client}:${clock}, which is missing` };
  return { kind: 'fits', ends, isPlain };
}

/** Whether a struct is an item whose content only has to be kept: formats of texts and documents within documents do more. */
function isPlainItem(struct: Y.Item | Y.GC): boolean {
  if (!(struct instanceof Y.Item)) return false;
  return !(struct.content instanceof Y.ContentFormat || struct.content instanceof Y.ContentDoc);
}

/** Whether a dependency is the same client's own struct or a later one. */
function isAtOrAfter(other: Dependency | null, id: Dependency): boolean {
  return other !== null && other.client === id.client && other.clock >= id.clock;
}
