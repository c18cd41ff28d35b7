/** Reads what a client says, before anything is done about it: whatever fails here is the client's fault, and nothing else is. */
import * as decoding from 'lib0/decoding';
import * as Y from 'yjs';
import {
  type CopyPiece,
  MESSAGE_AUTH,
  MESSAGE_COPY_PIECE,
  MESSAGE_PRESENCE,
  MESSAGE_QUERY_PRESENCE,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
  readCopyPiece,
  readSavedMark,
  SYNC_STEP_1,
  SYNC_STEP_2,
  SYNC_UPDATE,
} from '../../engine/document/index.ts';
import { decodePresence, type PresenceEntry } from './frames.ts';

export type ClientMessage =
  | {
      readonly kind: 'step1';
      readonly vector: Uint8Array;
      /** What the vector says. */
      readonly held: ReadonlyMap<number, number>;
    }
  /** An update, not decoded yet; `isComplete` when it answers a step 1. Lies in the bytes of the frame. */
  | { readonly kind: 'update'; readonly update: Uint8Array; readonly isComplete: boolean }
  | { readonly kind: 'presence'; readonly entries: readonly PresenceEntry[] }
  | { readonly kind: 'presence?' }
  | { readonly kind: 'mark'; readonly mark: number }
  | { readonly kind: 'piece'; readonly piece: CopyPiece }
  /** Means nothing here. */
  | { readonly kind: 'other' };

/** Reads one message. @throws Error when the bytes are none */
export function readMessage(decoder: decoding.Decoder): ClientMessage {
  const kind = decoding.readVarUint(decoder);
  switch (kind) {
    case MESSAGE_SYNC:
      return readSync(decoder);
    case MESSAGE_PRESENCE:
      return { kind: 'presence', entries: decodePresence(decoding.readVarUint8Array(decoder)) };
    case MESSAGE_QUERY_PRESENCE:
      return { kind: 'presence?' };
    case MESSAGE_AUTH:
      // A denial from a client means nothing here; read it so that what follows can be read.
      decoding.readVarUint(decoder);
      decoding.readVarString(decoder);
      return { kind: 'other' };
    case MESSAGE_SAVED_MARK: {
      const mark = readSavedMark(decoder);
      if (mark === null) throw new RangeError('a saved mark that is none');
      return { kind: 'mark', mark };
    }
    case MESSAGE_COPY_PIECE: {
      const piece = readCopyPiece(decoder);
      if (piece === null) throw new RangeError('a piece of a copy that is cut off');
      return { kind: 'piece', piece };
    }
    default:
      throw new RangeError(`unknown message kind ${kind}`);
  }
}

function readSync(decoder: decoding.Decoder): ClientMessage {
  const kind = decoding.readVarUint(decoder);
  const bytes = decoding.readVarUint8Array(decoder);
  switch (kind) {
    case SYNC_STEP_1:
      return { kind: 'step1', vector: bytes, held: Y.decodeStateVector(bytes) };
    case SYNC_STEP_2:
    case SYNC_UPDATE:
      return { kind: 'update', update: bytes, isComplete: kind === SYNC_STEP_2 };
    default:
      throw new RangeError(`unknown sync message ${kind}`);
  }
}
