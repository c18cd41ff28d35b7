/**
 * Puts updates together. What gathers while the disk is busy, or in a turn, is mostly one value for one key in each: then the bytes of
 * the structs are copied as they are. All else is put together by Yjs, which makes every struct and writes it anew; a test holds the bytes
 * of one against those of the other.
 */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';
import {
  CONTENT_ANY,
  CONTENT_BITS,
  type DecodedUpdate,
  HAS_KEY,
  HAS_ORIGIN,
  HAS_RIGHT_ORIGIN,
  readDeletions,
} from './decode-update.ts';

/** Where an update of one struct holds it. */
interface Piece {
  readonly update: Uint8Array;
  readonly client: number;
  readonly clock: number;
  /** The clock behind it. */
  readonly end: number;
  /** Its first byte as Yjs writes it, and where the others are. */
  readonly info: number;
  readonly from: number;
  readonly to: number;
}

type Deletions = DecodedUpdate['ds'][];

/** A string among values (lib0, encoding.writeAny). */
const STRING = 119;

/** Updates as one (Yjs V1 encoding), as `Y.mergeUpdates` writes it; values stay as whoever made them wrote them. */
export function mergeUpdates(updates: readonly Uint8Array[]): Uint8Array {
  const [first] = updates;
  if (first !== undefined && updates.length === 1) return first;
  return mergePieces(updates) ?? Y.mergeUpdates(updates as Uint8Array[]);
}

/** Null when they are not all of one struct that is values, or do not follow each other. */
function mergePieces(updates: readonly Uint8Array[]): Uint8Array | null {
  const pieces: Piece[] = [];
  const deletions: Deletions = [];
  for (const update of updates) {
    const piece = readPiece(update, deletions);
    if (piece === null) return null;
    pieces.push(piece);
  }
  // The highest client comes first.
  pieces.sort((a, b) => b.client - a.client || a.clock - b.clock);
  const blocks: Piece[][] = [];
  for (const piece of pieces) {
    const block = blocks.at(-1);
    const before = block?.at(-1);
    if (block === undefined || before?.client !== piece.client) blocks.push([piece]);
    else if (before.end !== piece.clock) return null;
    else block.push(piece);
  }
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, blocks.length);
    for (const block of blocks) {
      const { client, clock } = block[0]!;
      encoding.writeVarUint(encoder, block.length);
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, clock);
      for (const { update, info, from, to } of block) {
        encoding.writeUint8(encoder, info);
        encoding.writeUint8Array(encoder, update.subarray(from, to));
      }
    }
    writeDeletions(encoder, deletions);
  });
}

/** @param deletions gets what the update deletes */
function readPiece(update: Uint8Array, deletions: Deletions): Piece | null {
  // One client, one struct.
  if (update[0] !== 1 || update[1] !== 1) return null;
  const decoder = decoding.createDecoder(update);
  decoder.pos = 2;
  const client = decoding.readVarUint(decoder);
  const clock = decoding.readVarUint(decoder);
  const info = decoding.readUint8(decoder);
  const from = decoder.pos;
  if ((info & CONTENT_BITS) !== CONTENT_ANY) return null;
  const ids = ((info & HAS_ORIGIN) === 0 ? 0 : 1) + ((info & HAS_RIGHT_ORIGIN) === 0 ? 0 : 1);
  for (let numbers = 2 * ids; numbers > 0; numbers -= 1) decoding.readVarUint(decoder);
  if (ids === 0) {
    if (decoding.readVarUint(decoder) !== 1) return null;
    passString(decoder);
    if ((info & HAS_KEY) !== 0) passString(decoder);
  }
  const length = decoding.readVarUint(decoder);
  for (let left = length; left > 0; left -= 1) passValue(decoder);
  const to = decoder.pos;
  if (length === 0 || to > update.length) return null;
  if (decoder.arr[to] !== 0) deletions.push(readDeletions(decoder));
  // That it has a key follows from what it stands behind; Yjs says it with the first writing alone.
  return { update, client, clock, end: clock + length, info: ids === 0 ? info : info & ~HAS_KEY, from, to };
}

function passString(decoder: decoding.Decoder): void {
  const bytes = decoding.readVarUint(decoder);
  decoder.pos += bytes;
}

function passValue(decoder: decoding.Decoder): void {
  if (decoder.arr[decoder.pos] !== STRING) decoding.readAny(decoder);
  else {
    decoder.pos += 1;
    passString(decoder);
  }
}

function writeDeletions(encoder: encoding.Encoder, deletions: Deletions): void {
  if (deletions.length === 0) {
    encoding.writeVarUint(encoder, 0);
    return;
  }
  const merged = [...Y.mergeDeleteSets(deletions).clients].sort((a, b) => b[0] - a[0]);
  encoding.writeVarUint(encoder, merged.length);
  for (const [client, ranges] of merged) {
    encoding.writeVarUint(encoder, client);
    encoding.writeVarUint(encoder, ranges.length);
    for (const { clock, len } of ranges) {
      encoding.writeVarUint(encoder, clock);
      encoding.writeVarUint(encoder, len);
    }
  }
}
