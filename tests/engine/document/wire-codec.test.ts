import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { expect, test } from 'vitest';
import {
  encodeFollowed,
  encodeNotice,
  encodePieceWanted,
  encodeRenewed,
  encodeSavedMark,
  MESSAGE_COPY_PIECE,
  MESSAGE_NOTICE,
  MESSAGE_RENEWED,
  MESSAGE_SAVED_MARK,
  readNotice,
  readPieceWanted,
  readRenewed,
  readSavedMark,
} from '../../../engine/document/index.ts';
import { DOCUMENT_PARTS, NOTICE_CODES, partOf, roomName } from '../../../engine/document/wire.ts';

test('[D95] a saved mark comes back from its bytes', () => {
  for (const mark of [0, 1, 127, 128, 2 ** 31, Number.MAX_SAFE_INTEGER]) {
    const decoder = decoding.createDecoder(encodeSavedMark(mark));
    expect(decoding.readVarUint(decoder)).toBe(MESSAGE_SAVED_MARK);
    expect(readSavedMark(decoder)).toBe(mark);
    expect(decoding.hasContent(decoder)).toBe(false);
  }
});

test('a room’s name says which part of which board it is; what names none is refused', () => {
  for (const part of DOCUMENT_PARTS) {
    expect(roomName('a-board', part)).toBe(`a-board/${part}`);
    expect(partOf(roomName('a-board', part))).toBe(part);
    // Boards of other programs may have a slash in their id.
    expect(partOf(roomName('a/design/b', part))).toBe(part);
  }
  for (const name of [
    '',
    'a-board',
    'a-board/',
    'a-board/desig',
    'a-board/design/',
    'a-board/Design',
    'design/x',
  ])
    expect(() => partOf(name), name).toThrow(JSON.stringify(name));
});

test('[D95] from where on the next piece is wanted comes back from its bytes', () => {
  for (const offset of [0, 127, 128, 2 ** 31]) {
    const decoder = decoding.createDecoder(encodePieceWanted(offset));
    expect(decoding.readVarUint(decoder)).toBe(MESSAGE_COPY_PIECE);
    expect(readPieceWanted(decoder)).toBe(offset);
    expect(decoding.hasContent(decoder)).toBe(false);
  }
});

test('[D95] the bytes of a saved mark are the two varuints that wire.ts promises', () => {
  // Variable-length unsigned integers: seven bits a byte, least first, high bit = more (as LEB128).
  expect([...encodeSavedMark(5)]).toEqual([100, 5]);
  expect([...encodeSavedMark(300)]).toEqual([100, 0b10101100, 0b10]);
  expect([...encodePieceWanted(300)]).toEqual([102, 0b10101100, 0b10]);
});

test('[D95] a mark that is none is refused before a byte is written', () => {
  for (const mark of [-1, 0.5, Number.NaN, 2 ** 53]) expect(() => encodeSavedMark(mark)).toThrow(RangeError);
});

test('[D96] every notice comes back from its bytes, several in one frame', () => {
  const messages = [...NOTICE_CODES.map(encodeNotice), encodeSavedMark(7)];
  const decoder = decoding.createDecoder(Uint8Array.from(messages.flatMap((bytes) => [...bytes])));
  for (const code of NOTICE_CODES) {
    expect(decoding.readVarUint(decoder)).toBe(MESSAGE_NOTICE);
    expect(readNotice(decoder)).toBe(code);
  }
  expect(decoding.readVarUint(decoder)).toBe(MESSAGE_SAVED_MARK);
  expect(readSavedMark(decoder)).toBe(7);
});

test('[D95] [W1043] the beginning of the next generation comes back from its bytes, and what says that one has gone over is one number', () => {
  const decoder = decoding.createDecoder(encodeRenewed(Uint8Array.of(1, 2, 3)));
  expect(decoding.readVarUint(decoder)).toBe(MESSAGE_RENEWED);
  expect(readRenewed(decoder)).toEqual(Uint8Array.of(1, 2, 3));
  expect([...encodeFollowed()]).toEqual([MESSAGE_RENEWED]);
  expect(readRenewed(decoding.createDecoder(Uint8Array.of(5, 1)))).toBeNull();
});

test('[D96] an unknown notice reads as none', () => {
  const frame = encoding.encode((encoder) => encoding.writeVarString(encoder, 'something-newer'));
  expect(readNotice(decoding.createDecoder(frame))).toBeNull();
});

test('[D97] bytes that end too soon or are garbage read as none and do not throw', () => {
  for (const bytes of [[], [0x80], [0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff]]) {
    expect(readSavedMark(decoding.createDecoder(Uint8Array.from(bytes)))).toBeNull();
    expect(readNotice(decoding.createDecoder(Uint8Array.from(bytes)))).toBeNull();
  }
  const cut = encodeNotice('store-ok').slice(1, 4);
  expect(readNotice(decoding.createDecoder(cut))).toBeNull();
});
