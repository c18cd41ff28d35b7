/** A keychain under way as short text that goes along to another device, and taking it in there. */
import type { Board } from '../../engine/index.ts';
import { type Keychain, type KeychainShelf, readWritten } from './keychain-shelf.ts';

/** Characters that may go along; the server takes no more. */
const MOST_CHARACTERS = 65_536;
/** A text that claims to be more when it is unpacked is none of ours. */
const MOST_UNPACKED = 4 * 1024 * 1024;

/** Packs a keychain with the board it was begun with; null when it is not there, or too large to go along. Rule N80. */
export async function packKeychain(shelf: KeychainShelf, id: string): Promise<string | null> {
  const written = shelf.written(id);
  if (written === null) return null;
  const bytes = new TextEncoder().encode(JSON.stringify({ version: 1, id, ...written }));
  const packed = await readAll(through(bytes, new CompressionStream('deflate-raw')), MOST_UNPACKED);
  const text = packed === null ? null : toText(packed);
  return text === null || text.length > MOST_CHARACTERS ? null : text;
}

/** What came along. */
export interface Parcel {
  readonly keychain: Keychain;
  readonly board: Board;
  /** Addresses of its rows. */
  readonly rows: readonly string[];
}

/** Null for whatever is no keychain of this release. */
export async function unpackKeychain(text: string): Promise<Parcel | null> {
  const bytes = toBytes(text);
  const unpacked = bytes === null ? null : await unpack(bytes);
  if (unpacked === null) return null;
  try {
    const parcel = JSON.parse(new TextDecoder().decode(unpacked)) as Readonly<Record<string, unknown>> | null;
    if (parcel === null || typeof parcel !== 'object' || parcel.version !== 1) return null;
    return readWritten(parcel.id, parcel.keychain, parcel.board, parcel.rows);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return null;
  }
}

/**
 * Takes in what came along. Where this device has that keychain already and has tied what the other has not, both stay.
 * @param newId  id for the second of two
 * @returns id of the one to go on with; null where there is no room
 * Rule N81.
 */
export function takeIn(
  shelf: KeychainShelf,
  { keychain, board, rows }: Parcel,
  newId: string,
): string | null {
  const here = shelf.find(keychain.id);
  const isMore = (one: Keychain, other: Keychain): boolean =>
    [...one.tied].some((key) => !other.tied.has(key));
  // The same, or further on: the one that is here.
  if (here !== null && isMore(here, keychain) && !isMore(keychain, here)) return here.id;
  const id = here !== null && isMore(here, keychain) ? newId : keychain.id;
  const before = id === keychain.id ? shelf.written(id) : null;
  if (shelf.begin({ ...keychain, id }, board, rows)) return id;
  if (before === null) shelf.remove(id);
  else shelf.putBack(id, before);
  return null;
}

function through(bytes: Uint8Array, stream: GenericTransformStream): ReadableStream<Uint8Array> {
  return new Blob([bytes as Uint8Array<ArrayBuffer>])
    .stream()
    .pipeThrough(stream as ReadableWritablePair<Uint8Array, Uint8Array>);
}

/** All bytes are here, so whatever goes wrong is in them; browsers and Node each say it in their own way. */
function unpack(bytes: Uint8Array): Promise<Uint8Array | null> {
  return readAll(through(bytes, new DecompressionStream('deflate-raw')), MOST_UNPACKED).catch(() => null);
}

/** Null when there is more than `most`. */
async function readAll(stream: ReadableStream<Uint8Array>, most: number): Promise<Uint8Array | null> {
  const chunks: Uint8Array[] = [];
  let length = 0;
  const reader = stream.getReader();
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    chunks.push(next.value);
    length += next.value.length;
    if (length <= most) continue;
    await reader.cancel();
    return null;
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}

/** Base64url, RFC 4648, section 5, without padding. */
function toText(bytes: Uint8Array): string {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function toBytes(text: string): Uint8Array | null {
  if (!/^[\w-]*$/.test(text)) return null;
  try {
    return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (one) => one.charCodeAt(0));
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    return null;
  }
}
