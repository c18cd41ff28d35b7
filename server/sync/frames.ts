/** Bytes of the messages a room sends, and the WebSocket frames round them. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import {
  MESSAGE_NOTICE,
  MESSAGE_PRESENCE,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
  type NoticeCode,
} from '../../engine/document/index.ts';

/** Kinds of sync message (y-protocols, sync.js). */
export const SYNC_STEP_1 = 0;
export const SYNC_STEP_2 = 1;
export const SYNC_UPDATE = 2;

/** An update without content, as Yjs encodes it. */
export const EMPTY_UPDATE_BYTES = 2;

/** What one person shows, as it lies on the wire: `state` is JSON, `null` when they have gone. */
export interface PresenceEntry {
  readonly client: number;
  readonly clock: number;
  readonly state: string;
}

/**
 * A whole unmasked binary frame (RFC 6455, 5.2), ready for the socket: made once, written to every reader.
 * One copy of the payload.
 */
export function binaryFrame(payload: Uint8Array): Buffer {
  const length = payload.length;
  const header = length < 126 ? 2 : length < 65_536 ? 4 : 10;
  const frame = Buffer.allocUnsafe(header + length);
  frame[0] = 0x82;
  if (header === 2) frame[1] = length;
  else if (header === 4) {
    frame[1] = 126;
    frame.writeUInt16BE(length, 2);
  } else {
    frame[1] = 127;
    frame.writeUInt32BE(0, 2);
    frame.writeUInt32BE(length, 6);
  }
  frame.set(payload, header);
  return frame;
}

function syncMessage(kind: number, bytes: Uint8Array): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, MESSAGE_SYNC);
  encoding.writeVarUint(encoder, kind);
  encoding.writeVarUint8Array(encoder, bytes);
  return encoding.toUint8Array(encoder);
}

/** Asks for all that the state vector lacks. */
export function step1Frame(stateVector: Uint8Array): Buffer {
  return binaryFrame(syncMessage(SYNC_STEP_1, stateVector));
}

/** Answers a step 1. */
export function step2Frame(update: Uint8Array): Buffer {
  return binaryFrame(syncMessage(SYNC_STEP_2, update));
}

export function updateFrame(update: Uint8Array): Buffer {
  return binaryFrame(syncMessage(SYNC_UPDATE, update));
}

/** Bytes of an awareness update (y-protocols, awareness.js). */
export function encodePresence(entries: readonly PresenceEntry[]): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, entries.length);
  for (const { client, clock, state } of entries) {
    encoding.writeVarUint(encoder, client);
    encoding.writeVarUint(encoder, clock);
    encoding.writeVarString(encoder, state);
  }
  return encoding.toUint8Array(encoder);
}

/** Reads an awareness update. @throws Error when it is cut off. */
export function decodePresence(bytes: Uint8Array): PresenceEntry[] {
  const decoder = decoding.createDecoder(bytes);
  const entries: PresenceEntry[] = [];
  for (let left = decoding.readVarUint(decoder); left > 0; left -= 1) {
    const client = decoding.readVarUint(decoder);
    const clock = decoding.readVarUint(decoder);
    entries.push({ client, clock, state: decoding.readVarString(decoder) });
  }
  return entries;
}

export function presenceFrame(entries: readonly PresenceEntry[]): Buffer {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, MESSAGE_PRESENCE);
  encoding.writeVarUint8Array(encoder, encodePresence(entries));
  return binaryFrame(encoding.toUint8Array(encoder));
}

export function savedFrame(mark: number): Buffer {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, MESSAGE_SAVED_MARK);
  encoding.writeVarUint(encoder, mark);
  return binaryFrame(encoding.toUint8Array(encoder));
}

export function noticeFrame(code: NoticeCode): Buffer {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, MESSAGE_NOTICE);
  encoding.writeVarString(encoder, code);
  return binaryFrame(encoding.toUint8Array(encoder));
}
