/**
 * Which document a document is. Every document holds its own name and generation, written by the server in a struct that is
 * the same on every server and at every start, so that it never conflicts and the first need not be stored. An
 * update that names another document belongs to that one; one that names a former generation comes from a copy that was
 * made before the document was renewed.
 */
import { crc32 } from 'node:zlib';
import * as encoding from 'lib0/encoding';
import { IDENTITY_ROOT } from '../../engine/document/index.ts';

export interface Identity {
  readonly name: string;
  /** From 1. */
  readonly generation: number;
}

/** What stands in the document: the name, with the generation from the second on. */
export function textOf({ name, generation }: Identity): string {
  return generation === 1 ? name : `${name}~${generation}`;
}

/** The generation that a text names; null when it is another document's or nothing of the kind. */
export function generationIn(name: string, text: unknown): number | null {
  if (text === name) return 1;
  if (typeof text !== 'string' || !text.startsWith(`${name}~`)) return null;
  const generation = Number(text.slice(name.length + 1));
  return Number.isSafeInteger(generation) && generation > 1 ? generation : null;
}

/** The client id under which the name is written. */
export function clientOf(identity: Identity): number {
  return clientOfText(textOf(identity));
}

/** The client id under which this stands as a name. */
export function clientOfText(text: string): number {
  return crc32(text);
}

/** Info of a struct that is one plain value under a key of a root (Yjs, Item.js: content 8, bit 6 for the key). */
const KEYED_VALUE = 0x28;

/**
 * The update that writes the name. Always the same bytes for the same name and generation: those that a Y.Doc of that client
 * id gives, written without one because every room that opens needs them.
 */
export function identityUpdate(identity: Identity): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, 1); // clients
  encoding.writeVarUint(encoder, 1); // structs
  encoding.writeVarUint(encoder, clientOf(identity));
  encoding.writeVarUint(encoder, 0); // clock
  encoding.writeUint8(encoder, KEYED_VALUE);
  encoding.writeVarUint(encoder, 1); // the parent is a root
  encoding.writeVarString(encoder, IDENTITY_ROOT);
  encoding.writeVarString(encoder, 'name');
  encoding.writeVarUint(encoder, 1); // values
  encoding.writeAny(encoder, textOf(identity));
  encoding.writeVarUint(encoder, 0); // deletions
  return encoding.toUint8Array(encoder);
}

/** The former generation whose copy a client holds, by its state vector; null when it holds the present one or none. */
export function formerGenerationIn(held: ReadonlyMap<number, number>, identity: Identity): number | null {
  if (identity.generation === 1) return null;
  if (held.has(clientOf(identity))) return null;
  for (let generation = identity.generation - 1; generation >= 1; generation -= 1)
    if (held.has(clientOf({ name: identity.name, generation }))) return generation;
  return null;
}
