/**
 * Looks at an update before it may touch a document. Yjs keeps what it cannot place yet, for ever, and hands it to every
 * newcomer; y-protocols swallows what does not decode. So nothing is applied that has not passed here.
 */
import * as decoding from 'lib0/decoding';
import * as Y from 'yjs';
import { type BoardPart, IDENTITY_ROOT, partOf } from '../../engine/document/index.ts';
import { admitStructs, runsOf } from './admit-structs.ts';
import { type DecodedUpdate, decodeUpdate } from './decode-update.ts';
import { type Effect, effectOf } from './effect.ts';
import type { Deletions } from './freed-bytes.ts';
import {
  clientOf,
  clientOfText,
  firstOf,
  type Identity,
  identityIn,
  isSameGeneration,
  textOf,
} from './identity.ts';
import { type Placing, placingOf } from './placing.ts';
import { type Brought, type Present, Reach } from './reach.ts';
import { removedOf } from './removed.ts';

export type UpdateCheck =
  /** Decodes, and all it builds on is there. */
  | ({
      readonly kind: 'fits';
      /**
       * Whether it is one client's next structs and nothing else. Such an update can be passed on as it came, and applied
       * later: there is nothing in it that the document holds already, and nothing that could wait for something else.
       */
      readonly isPlain: boolean;
      readonly deletions: Deletions;
      /** Of these, what the update puts nothing in the place of; see {@link removedOf}. */
      readonly removed: Deletions;
      /** What it does to what the document holds; of no use for a whole document. */
      readonly effect: Effect;
    } & Brought)
  /** Holds nothing. */
  | { readonly kind: 'empty' }
  /** Builds on something that neither the document nor the update holds. */
  | { readonly kind: 'unmet'; readonly message: string }
  | { readonly kind: 'malformed'; readonly message: string }
  /** Decodes, and holds what no document of this kind is made of; see the table in `engine/document/admission.ts`. */
  | { readonly kind: 'alien'; readonly message: string }
  /** Comes from a copy of another generation: mostly one that has ended. */
  | { readonly kind: 'other-generation'; readonly of: Identity }
  /** Says that it belongs to another document. */
  | { readonly kind: 'foreign'; readonly message: string };

/** Of a whole document, which holds nothing to be compared with. */
type DocumentCheck = Exclude<UpdateCheck, { readonly kind: 'empty' | 'other-generation' }>;

const NOTHING: Present = new Reach();
const NONE: Deletions = new Map();

const NO_EFFECT: Effect = effectOf([], [], new Map(), new Map(), NOTHING, false);

/** Beyond this clock an update is not the work of a person: 2^31 characters or knots by one client. */
const MAX_CLOCK = 2 ** 31;

interface Dependency {
  readonly client: number;
  readonly clock: number;
}

/** An update without content, as Yjs encodes it. */
export const EMPTY_UPDATE_BYTES = 2;

/** Whether an update holds nothing. */
export function isEmptyUpdate(update: Uint8Array): boolean {
  return update.length === EMPTY_UPDATE_BYTES && update[0] === 0 && update[1] === 0;
}

/** The earliest generation, other than the present, that an update names; null when it names none, `foreign` when another document. */
function otherGenerationIn(
  structs: DecodedUpdate['structs'],
  name: string,
  present: Identity | null,
): Identity | 'foreign' | null {
  let earliest: Identity | null = null;
  for (const struct of structs) {
    // The decoder gives the name of a root, though the type says otherwise.
    if (!(struct instanceof Y.Item) || (struct.parent as unknown) !== IDENTITY_ROOT) continue;
    for (const text of struct.content.getContent()) {
      const named = identityIn(name, text);
      if (named === null) return 'foreign';
      if (present !== null && isSameGeneration(named, present)) continue;
      if (earliest === null || named.generation < earliest.generation) earliest = named;
    }
  }
  return earliest;
}

/** Whether an update would take the place of the document's name, or remove it. */
function touchesName({ structs, ds }: DecodedUpdate, writer: number): boolean {
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
 * @param present what the document holds
 * @param identity the document's name and generation, which an update may repeat but not change
 * @param writer the client id under which the name is written, for who asks often
 * O(structs of the update).
 */
export function checkUpdate(
  present: Present,
  identity: Identity,
  update: Uint8Array,
  writer = clientOf(identity),
): UpdateCheck {
  if (isEmptyUpdate(update)) return { kind: 'empty' };
  const decoded = decode(update);
  if ('kind' in decoded) return decoded;
  const named = otherGenerationIn(decoded.structs, identity.name, identity);
  if (named === 'foreign') return { kind: 'foreign', message: 'the update belongs to another document' };
  if (named !== null) return { kind: 'other-generation', of: named };
  if (touchesName(decoded, writer))
    return { kind: 'foreign', message: 'the name of a document is written by the server alone' };
  return checkDecoded(present, decoded, partOf(identity.name), isNameOf(identity, writer));
}

/** What a whole document says of itself, as it was read from the store or made elsewhere. O(structs). */
export function checkState(
  state: Uint8Array,
  name: string,
): { readonly identity: Identity; readonly check: DocumentCheck } {
  const decoded = decode(state);
  if ('kind' in decoded) return { identity: firstOf(name), check: decoded };
  const named = otherGenerationIn(decoded.structs, name, null);
  const identity = named === null || named === 'foreign' ? firstOf(name) : named;
  const writer = clientOf(identity);
  const check: DocumentCheck = touchesName(decoded, writer)
    ? { kind: 'alien', message: 'the name of the document was touched' }
    : checkDecoded(NOTHING, decoded, partOf(name), isNameOf(identity, writer));
  return { identity, check };
}

/** Whether bytes are a whole document of this kind, whatever its name, made elsewhere or kept beside the documents. O(structs). */
export function checkCopy(state: Uint8Array, part: BoardPart): DocumentCheck {
  const decoded = decode(state);
  return 'kind' in decoded ? decoded : checkDecoded(NOTHING, decoded, part, isAnyName);
}

/** Reads the bytes. Whatever is thrown here is the fault of who made them, and of nobody else. */
function decode(update: Uint8Array): DecodedUpdate | (UpdateCheck & { readonly kind: 'malformed' }) {
  let decoded: DecodedUpdate;
  let blocks: number;
  try {
    decoded = decodeUpdate(update);
    // Read already, so it is there.
    blocks = update[0]! < 0x80 ? update[0]! : decoding.readVarUint(decoding.createDecoder(update));
  } catch (cause) {
    return { kind: 'malformed', message: `the update does not decode: ${(cause as Error).message}` };
  }
  // Of two blocks of one client, or an empty one, Yjs applies the last alone and merging takes all: no encoder writes that.
  const clients = clientsIn(decoded.structs);
  if (clients !== blocks)
    return { kind: 'malformed', message: `${blocks} blocks hold structs of ${clients} clients` };
  // Yjs goes through all that stands in each: the same long one over and over would take it minutes. No encoder writes that.
  for (const [client, deletions] of decoded.ds.clients) {
    let end = 0;
    for (const { clock, len } of deletions) {
      if (clock < end || !(len > 0))
        return { kind: 'malformed', message: `deletions of ${client} are not one after the other` };
      end = clock + len;
    }
  }
  return decoded;
}

/** Clients in an update. */
function clientsIn(structs: DecodedUpdate['structs']): number {
  let seen: Set<number> | null = null;
  let last = -1;
  let count = 0;
  for (const { id } of structs) {
    if (id.client === last) continue;
    if (last >= 0) seen ??= new Set([last]);
    last = id.client;
    if (seen === null || !seen.has(last)) count += 1;
    seen?.add(last);
  }
  return count;
}

function checkDecoded(
  present: Present,
  { structs, ds }: DecodedUpdate,
  part: BoardPart,
  isOwn: (item: Y.Item) => boolean,
): DocumentCheck {
  const ends = new Map<number, number>();
  const endOf = (client: number): number => ends.get(client) ?? present.clockOf(client);
  let isPlain = true;
  const first = structs[0]?.id.client;
  for (const struct of structs) {
    const { client, clock } = struct.id;
    if (struct instanceof Y.Skip) return { kind: 'unmet', message: `a gap at ${client}:${clock}` };
    const end = clock + struct.length;
    if (!(struct.length > 0) || end > MAX_CLOCK)
      return { kind: 'malformed', message: `struct ${client}:${clock} has length ${struct.length}` };
    const known = endOf(client);
    if (clock > known)
      return { kind: 'unmet', message: `${client}:${clock} follows ${client}:${known}, which is missing` };
    isPlain &&= clock === known && client === first;
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
  const admission = admitStructs(part, structs, present, isOwn);
  if (!admission.ok) return { kind: 'alien', message: admission.message };
  const { rules } = admission;
  const runs = runsOf(structs, rules, present);
  const deletions = ds.clients;
  if (present === NOTHING)
    return new WholeCheck(ends, runs, isPlain, deletions, () =>
      placingOf(structs, rules, deletions, present),
    );
  const removed = removedOf(structs, deletions);
  const placing = placingOf(structs, rules, deletions, present);
  const effect = effectOf(structs, rules, deletions, ends, present, placing.overtakes);
  // Written out, not put together: each one put together has a shape of its own, and whoever reads it finds nothing where it was.
  return { kind: 'fits', ends, runs, isPlain, deletions, removed, effect, placing };
}

type Fitting = UpdateCheck & { readonly kind: 'fits' };

/**
 * Of a whole document. It is mostly opened and left again without an edit: then nobody asks how it is placed. And nobody ever asks who
 * wrote it, or what it takes.
 */
class WholeCheck implements Fitting {
  readonly kind = 'fits';
  readonly removed = NONE;
  readonly effect = NO_EFFECT;
  readonly ends: Fitting['ends'];
  readonly runs: Fitting['runs'];
  readonly isPlain: boolean;
  readonly deletions: Deletions;
  readonly #place: () => Placing;
  #placing: Placing | null = null;

  constructor(
    ends: Fitting['ends'],
    runs: Fitting['runs'],
    isPlain: boolean,
    deletions: Deletions,
    place: () => Placing,
  ) {
    this.ends = ends;
    this.runs = runs;
    this.isPlain = isPlain;
    this.deletions = deletions;
    this.#place = place;
  }

  get placing(): Placing {
    this.#placing ??= this.#place();
    return this.#placing;
  }
}

/** Whether a struct is the one by which the server says which document this is. */
function isNameOf(identity: Identity, writer: number): (item: Y.Item) => boolean {
  return ({ id, content, parentSub }) =>
    id.client === writer &&
    id.clock === 0 &&
    parentSub === 'name' &&
    content instanceof Y.ContentAny &&
    content.arr.length === 1 &&
    content.arr[0] === textOf(identity);
}

/** Whether a struct says the name of some document, as the server of that would have written it. */
function isAnyName({ id, content, parentSub }: Y.Item): boolean {
  if (id.clock !== 0 || parentSub !== 'name' || !(content instanceof Y.ContentAny)) return false;
  const [text, ...more] = content.arr as unknown[];
  return typeof text === 'string' && more.length === 0 && id.client === clientOfText(text);
}

/** Whether a dependency is the same client's own struct or a later one. */
function isAtOrAfter(other: Dependency | null, id: Dependency): boolean {
  return other !== null && other.client === id.client && other.clock >= id.clock;
}
