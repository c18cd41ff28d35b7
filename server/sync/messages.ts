/**
 * What is said at a socket: each message as data, and as the bytes that it is on the wire (`engine/document/wire.ts` says in words what these are).
 * Nobody else in a room knows bytes of messages; what nodes say to each other is in `peer-messages.ts`.
 *
 * Reading comes before anything is done about a message: whatever fails here is the client's fault, and nothing else is.
 */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';
import {
  type CopyPiece,
  encodeLessonText,
  encodeNotice,
  encodePieceWanted,
  encodeProposalsNews,
  encodeRenewed,
  encodeSavedMark,
  MESSAGE_AUTH,
  MESSAGE_COPY_PIECE,
  MESSAGE_LESSON,
  MESSAGE_PRESENCE,
  MESSAGE_QUERY_PRESENCE,
  MESSAGE_RENEWED,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
  type NoticeCode,
  readCopyPiece,
  readLessonText,
  readSavedMark,
  SYNC_STEP_1,
  SYNC_STEP_2,
  SYNC_UPDATE,
} from '../../engine/document/index.ts';
import { binaryFrame, openFrame } from './frames.ts';
import { decodePresence, encodePresence, type PresenceEntry } from './presence-bytes.ts';

/** What the server says. */
export type ServerMessage =
  /** Asks for all that the state vector lacks. */
  | { readonly kind: 'step1'; readonly vector: Uint8Array }
  /** Answers a step 1. */
  | { readonly kind: 'step2'; readonly update: Uint8Array }
  | { readonly kind: 'update'; readonly update: Uint8Array }
  /** Of some people. */
  | { readonly kind: 'presence'; readonly entries: readonly PresenceEntry[] }
  /** All that a client sent before its mark of this number is on the disk. */
  | { readonly kind: 'saved'; readonly mark: number }
  /** From which byte on the next piece of a copy is wanted; its length when no more is. */
  | { readonly kind: 'wanted'; readonly offset: number }
  /** Something about the room, such as that nothing can be stored. */
  | { readonly kind: 'notice'; readonly code: NoticeCode }
  /** The proposals of the board may be others now. */
  | { readonly kind: 'proposals' }
  /** The next generation of the document begins, as this. */
  | { readonly kind: 'renewed'; readonly state: Uint8Array }
  /** Something said in a lesson. */
  | { readonly kind: 'lesson'; readonly text: string };

/** What a client says. */
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
  /** It has gone over to the next generation. */
  | { readonly kind: 'followed' }
  /** Something said in a lesson, not read yet. */
  | { readonly kind: 'lesson'; readonly text: string }
  /** Means nothing here. */
  | { readonly kind: 'other' };

/** A message in a frame of its own, for every reader alike. O(bytes). */
export function frameOf(message: ServerMessage): Buffer {
  switch (message.kind) {
    case 'step1':
      return syncFrame(SYNC_STEP_1, message.vector);
    case 'step2':
      return syncFrame(SYNC_STEP_2, message.update);
    case 'update':
      return syncFrame(SYNC_UPDATE, message.update);
    case 'presence':
      return binaryFrame(presenceMessage(message.entries));
    case 'saved':
      return binaryFrame(encodeSavedMark(message.mark));
    case 'wanted':
      return binaryFrame(encodePieceWanted(message.offset));
    case 'notice':
      return binaryFrame(encodeNotice(message.code));
    case 'proposals':
      return binaryFrame(encodeProposalsNews());
    case 'renewed':
      return binaryFrame(encodeRenewed(message.state));
    case 'lesson':
      return binaryFrame(encodeLessonText(message.text));
  }
}

/** The frame of something said in a lesson, for every reader alike. */
export function lessonFrame(text: string): Buffer {
  return frameOf({ kind: 'lesson', text });
}

/** A sync message, written straight into its frame: one is made for every edit. */
function syncFrame(kind: number, bytes: Uint8Array): Buffer {
  const { length } = bytes;
  const { frame, at: start } = openFrame(2 + varUintBytes(length) + length);
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

/** Bytes of a number as lib0 writes it: seven bits each, the lowest first. */
function varUintBytes(value: number): number {
  let bytes = 1;
  for (let rest = value; rest > 0x7f; rest = Math.floor(rest / 128)) bytes += 1;
  return bytes;
}

function presenceMessage(entries: readonly PresenceEntry[]): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_PRESENCE);
    encoding.writeVarUint8Array(encoder, encodePresence(entries));
  });
}

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
    case MESSAGE_RENEWED:
      return { kind: 'followed' };
    case MESSAGE_LESSON: {
      const text = readLessonText(decoder);
      if (text === null) throw new RangeError('something said in a lesson that is cut off');
      return { kind: 'lesson', text };
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
