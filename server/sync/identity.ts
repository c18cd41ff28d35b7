/**
 * Which document a document is. Every document holds its own name and generation, written by the server in a struct that is
 * the same on every server and at every start, so that it never conflicts and the first need not be stored. An
 * update that names another document belongs to that one; one that names another generation comes from a copy that was
 * made before the document was renewed, or before an earlier backup took its place.
 *
 * A generation has a number, by which generations are ordered, and from the second on a name drawn when it begins: nobody knows
 * before under which client id it will be written. Those begun by releases that drew none are known by their number alone.
 */
import { randomBytes } from 'node:crypto';
import { crc32 } from 'node:zlib';
import * as encoding from 'lib0/encoding';
import { IDENTITY_ROOT } from '../../engine/document/index.ts';

export interface Identity {
  readonly name: string;
  /** From 1. */
  readonly generation: number;
  /** The name drawn for the generation; empty for the first, and where none was drawn. */
  readonly drawn: string;
}

const DRAWN_BYTES = 12;
const DRAWN = /^[A-Za-z0-9_-]{16}$/;

/** The first generation of a document. */
export function firstOf(name: string): Identity {
  return { name, generation: 1, drawn: '' };
}

/** What stands in the document: the name, with the generation from the second on. */
export function textOf({ name, generation, drawn }: Identity): string {
  if (generation === 1) return name;
  return drawn === '' ? `${name}~${generation}` : `${name}~${generation}~${drawn}`;
}

/** The generation that a text names; null when it is another document's or nothing of the kind. */
export function identityIn(name: string, text: unknown): Identity | null {
  if (text === name) return firstOf(name);
  if (typeof text !== 'string' || !text.startsWith(`${name}~`)) return null;
  const [number, drawn = '', ...more] = text.slice(name.length + 1).split('~');
  const identity = { name, generation: Number(number), drawn };
  const isNumber = Number.isSafeInteger(identity.generation) && identity.generation > 1;
  // One generation has one text.
  return isNumber && more.length === 0 && (drawn === '' || DRAWN.test(drawn)) && textOf(identity) === text
    ? identity
    : null;
}

/** Whether two are the same generation: by the number and by the name that was drawn. */
export function isSameGeneration(a: Identity, b: Identity): boolean {
  return a.name === b.name && a.generation === b.generation && a.drawn === b.drawn;
}

/**
 * The generation after the one given, under a name drawn now.
 * @param isTaken whether the ended generation holds anything of a client id; then it would be taken for a copy of the next
 */
export function generationAfter(
  { name, generation }: Identity,
  isTaken: (client: number) => boolean,
): Identity {
  for (;;) {
    const drawn = randomBytes(DRAWN_BYTES).toString('base64url');
    const next = { name, generation: generation + 1, drawn };
    if (!isTaken(clientOf(next))) return next;
  }
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
