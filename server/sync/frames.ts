/** Bytes of the messages a room sends, and the WebSocket frames round them. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import {
  encodeNotice,
  encodePieceWanted,
  encodeProposalsNews,
  encodeSavedMark,
  MESSAGE_PRESENCE,
  MESSAGE_SYNC,
  type NoticeCode,
  SYNC_STEP_1,
  SYNC_STEP_2,
  SYNC_UPDATE,
} from '../../engine/document/index.ts';

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
function binaryFrame(payload: Uint8Array): Buffer {
  const [frame, at] = frameOf(payload.length);
  frame.set(payload, at);
  return frame;
}

/** A frame for a payload of so many bytes, and where that begins. */
function frameOf(length: number): [frame: Buffer, at: number] {
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
  return [frame, header];
}

/** Bytes of a number as lib0 writes it: seven bits each, the lowest first. */
function varUintBytes(value: number): number {
  let bytes = 1;
  for (let rest = value; rest > 0x7f; rest = Math.floor(rest / 128)) bytes += 1;
  return bytes;
}

/** A sync message, written straight into its frame: one is made for every edit. */
function syncFrame(kind: number, bytes: Uint8Array): Buffer {
  const { length } = bytes;
  const [frame, start] = frameOf(2 + varUintBytes(length) + length);
  frame[start] = MESSAGE_SYNC;
  frame[start + 1] = kind;
  let at = start + 2;
  let rest = length;
  for (; rest > 0x7f; rest = Math.floor(rest / 128)) {
    frame[at] = 0x80 | (rest % 128);
    at += 1;
  }
  frame[at] = rest;
  frame.set(bytes, at + 1);
  return frame;
}

/** Asks for all that the state vector lacks. */
export function step1Frame(stateVector: Uint8Array): Buffer {
  return syncFrame(SYNC_STEP_1, stateVector);
}

/** Answers a step 1. */
export function step2Frame(update: Uint8Array): Buffer {
  return syncFrame(SYNC_STEP_2, update);
}

export function updateFrame(update: Uint8Array): Buffer {
  return syncFrame(SYNC_UPDATE, update);
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

/** Presence of some people, for every reader alike. O(bytes). */
export function presenceFrame(entries: readonly PresenceEntry[]): Buffer {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, MESSAGE_PRESENCE);
  encoding.writeVarUint8Array(encoder, encodePresence(entries));
  return binaryFrame(encoding.toUint8Array(encoder));
}

/** Says that all a client sent before its mark of this number is on the disk. */
export function savedFrame(mark: number): Buffer {
  return binaryFrame(encodeSavedMark(mark));
}

/** Says from which byte on the next piece of a copy is wanted; its length when no more is. */
export function pieceWantedFrame(offset: number): Buffer {
  return binaryFrame(encodePieceWanted(offset));
}

/** Says something about the room, such as that nothing can be stored. */
export function noticeFrame(code: NoticeCode): Buffer {
  return binaryFrame(encodeNotice(code));
}

/** Says that the proposals of the board may be others now. */
export function proposalsFrame(): Buffer {
  return binaryFrame(encodeProposalsNews());
}
