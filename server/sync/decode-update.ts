/**
 * Reads updates. Nearly all are one value for one key, and these are read straight from their bytes; Yjs makes two decoders, a reader and a
 * generator for each update, which take longer than what they read. All others are read by Yjs, and a test holds one against the other.
 */
import * as decoding from 'lib0/decoding';
import * as Y from 'yjs';

export type DecodedUpdate = ReturnType<typeof Y.decodeUpdate>;

/** As Yjs 13.6 writes an item (Item.write): what follows is told by these bits, and which content by the five lowest. */
export const HAS_ORIGIN = 0x80;
export const HAS_RIGHT_ORIGIN = 0x40;
export const HAS_KEY = 0x20;
export const CONTENT_BITS = 0x1f;
export const CONTENT_ANY = 8;

/** Reads an update (Yjs V1 encoding). @throws Error when the bytes do not decode */
export function decodeUpdate(update: Uint8Array): DecodedUpdate {
  return decodeValue(update) ?? Y.decodeUpdate(update);
}

/**
 * Reads an update of one struct that is values, and whatever it deletes.
 * @returns null when it is another, or none
 * @throws Error when the bytes end too early, as Yjs does
 */
function decodeValue(update: Uint8Array): DecodedUpdate | null {
  // One client, one struct.
  if (update[0] !== 1 || update[1] !== 1) return null;
  const decoder = decoding.createDecoder(update);
  decoder.pos = 2;
  const client = decoding.readVarUint(decoder);
  const clock = decoding.readVarUint(decoder);
  const info = decoding.readUint8(decoder);
  if ((info & CONTENT_BITS) !== CONTENT_ANY) return null;
  const origin = (info & HAS_ORIGIN) === 0 ? null : readId(decoder);
  const rightOrigin = (info & HAS_RIGHT_ORIGIN) === 0 ? null : readId(decoder);
  const isFirst = origin === null && rightOrigin === null;
  // Where it stands within a shared type, Yjs finds out more.
  if (isFirst && decoding.readVarUint(decoder) !== 1) return null;
  const parent = isFirst ? decoding.readVarString(decoder) : null;
  const key = isFirst && (info & HAS_KEY) !== 0 ? decoding.readVarString(decoder) : null;
  const content = new Y.ContentAny(readValues(decoder));
  // The decoder of Yjs gives the name of a root as parent too, though the type says otherwise.
  const struct = new Y.Item(
    Y.createID(client, clock),
    null,
    origin,
    null,
    rightOrigin,
    parent as never,
    key,
    content,
  );
  return { structs: [struct], ds: readDeletions(decoder) };
}

function readId(decoder: decoding.Decoder): Y.ID {
  const client = decoding.readVarUint(decoder);
  return Y.createID(client, decoding.readVarUint(decoder));
}

function readValues(decoder: decoding.Decoder): unknown[] {
  const length = decoding.readVarUint(decoder);
  if (length === 1) return [decoding.readAny(decoder)];
  const values: unknown[] = [];
  for (let left = length; left > 0; left -= 1) values.push(decoding.readAny(decoder));
  return values;
}

/** Reads what an update deletes, which stands behind its structs. */
export function readDeletions(decoder: decoding.Decoder): DecodedUpdate['ds'] {
  const ds = Y.createDeleteSet();
  for (let clients = decoding.readVarUint(decoder); clients > 0; clients -= 1) {
    const client = decoding.readVarUint(decoder);
    let ranges = ds.clients.get(client);
    for (let left = decoding.readVarUint(decoder); left > 0; left -= 1) {
      const clock = decoding.readVarUint(decoder);
      const range = { clock, len: decoding.readVarUint(decoder) };
      if (ranges === undefined) {
        ranges = [range];
        ds.clients.set(client, ranges);
      } else ranges.push(range);
    }
  }
  return ds;
}
