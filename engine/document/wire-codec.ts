/** Bytes of our own messages: what `wire.ts` says in words. */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import {
  MESSAGE_COPY_PIECE,
  MESSAGE_LESSON,
  MESSAGE_NOTICE,
  MESSAGE_PROPOSALS,
  MESSAGE_RENEWED,
  MESSAGE_SAVED_MARK,
  NOTICE_CODES,
  type NoticeCode,
} from './wire.ts';

/** A frame that holds one saved mark, `[100, mark]`. @throws RangeError when the mark is no whole number from 0 to 2^53 - 1 */
export function encodeSavedMark(mark: number): Uint8Array {
  if (!Number.isSafeInteger(mark) || mark < 0) throw new RangeError(`${mark} is no saved mark`);
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_SAVED_MARK);
    encoding.writeVarUint(encoder, mark);
  });
}

/** The mark, from a decoder that has just read the kind 100; null when the bytes hold none. */
export function readSavedMark(decoder: decoding.Decoder): number | null {
  return attempt(() => decoding.readVarUint(decoder));
}

/** A frame that holds one notice, `[101, code]`. */
export function encodeNotice(code: NoticeCode): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_NOTICE);
    encoding.writeVarString(encoder, code);
  });
}

/** The code, from a decoder that has just read the kind 101; null when the bytes hold no code known here. */
export function readNotice(decoder: decoding.Decoder): NoticeCode | null {
  const code = attempt(() => decoding.readVarString(decoder));
  return NOTICE_CODES.find((known) => known === code) ?? null;
}

/** A frame that says that the proposals of the board may be others now, `[103]`. */
export function encodeProposalsNews(): Uint8Array {
  return encoding.encode((encoder) => encoding.writeVarUint(encoder, MESSAGE_PROPOSALS));
}

/** A frame that holds the beginning of the next generation, `[104, state]`. */
export function encodeRenewed(state: Uint8Array): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_RENEWED);
    encoding.writeVarUint8Array(encoder, state);
  });
}

/** The beginning of the next generation, from a decoder that has just read the kind 104; lies in the bytes of the frame. Null when they hold none. */
export function readRenewed(decoder: decoding.Decoder): Uint8Array | null {
  return attempt(() => decoding.readVarUint8Array(decoder));
}

/** A frame that says that the client has gone over to it, `[104]`. */
export function encodeFollowed(): Uint8Array {
  return encoding.encode((encoder) => encoding.writeVarUint(encoder, MESSAGE_RENEWED));
}

/** A frame that holds something said in a lesson, `[105, text]`. */
export function encodeLessonText(text: string): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_LESSON);
    encoding.writeVarString(encoder, text);
  });
}

/** Its text, from a decoder that has just read the kind 105; null when the bytes hold none. */
export function readLessonText(decoder: decoding.Decoder): string | null {
  return attempt(() => decoding.readVarString(decoder));
}

/** A part of the answer to a step 1 that is larger than one message may be. */
export interface CopyPiece {
  /** Bytes of the whole answer. */
  readonly total: number;
  readonly offset: number;
  readonly bytes: Uint8Array;
}

/** A frame that holds one piece. */
export function encodeCopyPiece({ total, offset, bytes }: CopyPiece): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_COPY_PIECE);
    encoding.writeVarUint(encoder, total);
    encoding.writeVarUint(encoder, offset);
    encoding.writeVarUint8Array(encoder, bytes);
  });
}

/** The piece, from a decoder that has just read the kind 102; its bytes lie in those of the frame. Null when it is none. */
export function readCopyPiece(decoder: decoding.Decoder): CopyPiece | null {
  return attempt(() => {
    const total = decoding.readVarUint(decoder);
    const offset = decoding.readVarUint(decoder);
    return { total, offset, bytes: decoding.readVarUint8Array(decoder) };
  });
}

/** A frame that asks for the next piece, `[102, offset]`; the length of the whole when no more is wanted. */
export function encodePieceWanted(offset: number): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_COPY_PIECE);
    encoding.writeVarUint(encoder, offset);
  });
}

/** Where the next piece is to begin, from a decoder that has just read the kind 102; null when the bytes hold no number. */
export function readPieceWanted(decoder: decoding.Decoder): number | null {
  return attempt(() => decoding.readVarUint(decoder));
}

/** lib0 throws on bytes that end too soon or count too far; a peer's bytes are an expected failure here. */
function attempt<T>(read: () => T): T | null {
  try {
    return read();
  } catch {
    return null;
  }
}
