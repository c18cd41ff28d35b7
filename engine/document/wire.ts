/**
 * What browser and server say to each other, beyond the documents themselves.
 *
 * The socket speaks the y-websocket protocol: each frame holds one or more messages, each message begins with a
 * varuint kind. 0 sync, 1 presence (awareness), 2 auth, 3 query presence are the protocol's own and any
 * y-websocket client may join with those alone. Kinds from 100 on are ours and go only to clients that used one, or asked for it.
 *
 * Saved marks. After edits the client sends `[100, mark]`, mark a varuint it counts up. The socket keeps order, so
 * when the server reads the mark it has read every edit sent before it; it answers `[100, mark]` once all of them are
 * committed to disk, and never before.
 *
 * Copies in pieces. Where the answer to a step 1 is larger than a message may be and the server's document is of another generation than the
 * client's copy, the client sends the first `[102, total, offset, bytes]` of it in its place, total and offset varuints, and then each
 * further one when the server has asked for it with `[102, offset]`; with the total the server says that it needs no more.
 *
 * Notices. `[101, code]`, a varstring of {@link NoticeCode}: a state of the room that its people must hear of.
 *
 * Proposals. `[103]`: the proposals of the board may be others now; what they are is asked over HTTP. It goes to those alone who ask for it in
 * the address of their socket ({@link HEARS_PROPOSALS}): pages of earlier releases do not know the kind and take no harm, and servers of
 * earlier releases pass over what stands behind the `?`. On a branch it speaks of the board that the branch is of.
 *
 * Handing over. To who asks for it in the address of their socket ({@link FOLLOWS_RENEWALS}) and holds all that the server has told, the server
 * sends `[104, state]` when the next generation of the document begins while they are there: a document of its own that shows what the ended
 * one did, under the same ids. What the server says from then on is about that one. The client puts on it what it holds beyond and was not told
 * is saved, answers `[104]`, and speaks of that one from then on. What the server reads before the answer is of the ended generation and passed
 * over, marks too: the client has it in hand, and sends it again.
 *
 * Lessons. In the room of a lesson `[105, text]`, a varstring of JSON, is what is said beside the document and never stored (`lesson/messages.ts`).
 */
import { MAX_NAME_CHARACTERS, MAX_TITLE_CHARACTERS } from '../files/index.ts';

/** Wire message: a step of syncing the document. */
export const MESSAGE_SYNC = 0;
/** Kind of sync message (y-protocols, sync.js): asks for what the other side holds beyond a state vector. */
export const SYNC_STEP_1 = 0;
/** Kind of sync message: answers a step 1. */
export const SYNC_STEP_2 = 1;
/** Kind of sync message: an edit. */
export const SYNC_UPDATE = 2;
/** Wire message: presence of people at the board. */
export const MESSAGE_PRESENCE = 1;
/** Wire message: what the server lets the client do. */
export const MESSAGE_AUTH = 2;
/** Wire message: asks for the presence of all. */
export const MESSAGE_QUERY_PRESENCE = 3;
/** Wire message: a counting mark that comes back when all before it is on disk. */
export const MESSAGE_SAVED_MARK = 100;
/** Wire message: something the page should tell its person. */
export const MESSAGE_NOTICE = 101;

/** Wire message: a piece of a copy, or from where on the server wants the next. */
export const MESSAGE_COPY_PIECE = 102;

/** Wire message: the proposals of the board may be others now. */
export const MESSAGE_PROPOSALS = 103;
/** What stands behind the `?` in the address of a socket that is to hear of proposals. */
export const HEARS_PROPOSALS = { hears: 'proposals' } as const;

/** Wire message: the next generation of the document, and that the client has gone over to it. */
export const MESSAGE_RENEWED = 104;
/** What stands behind the `?` in the address of a socket whose client goes over to the next generation while it is connected. */
export const FOLLOWS_RENEWALS = { follows: 'renewals' } as const;

/**
 * `store-read-only`: edits cannot be stored now and are kept in the browsers; `store-ok`: they can again. `log-damaged`, for owners: some of
 * what is stored cannot be read, so that nothing is taken until whoever runs the server has repaired it; `store-read-only` follows.
 * `write-limit`: too much was written from here in the last hour; edits are kept in the browser until `store-ok`.
 */
export const NOTICE_CODES = ['store-read-only', 'store-ok', 'log-damaged', 'write-limit'] as const;
/** One of {@link NOTICE_CODES}. */
export type NoticeCode = (typeof NOTICE_CODES)[number];

/** Wire message: something said in a lesson, `[105, text]`, the text JSON; only in the room of a lesson, to those who have said something there. */
export const MESSAGE_LESSON = 105;

/** Path prefix of the sync sockets: `/sync/<board id>/<part>`, for a lesson `/sync/<lesson id>/lesson`. */
export const SYNC_PATH = '/sync';

/** The documents of a board. Rights are enforced per part. */
export const BOARD_PARTS = ['design', 'talk'] as const;
/** The one document of a lesson, which is kept like a board under an id of its own. */
export const LESSON_PART = 'lesson';
/** Every document there is. */
export const DOCUMENT_PARTS = [...BOARD_PARTS, LESSON_PART] as const;
/** One of {@link DOCUMENT_PARTS}. */
export type BoardPart = (typeof DOCUMENT_PARTS)[number];

/** Name of the room of one part of a board, as the provider appends it to `/sync/`. */
export function roomName(boardId: string, part: BoardPart): string {
  return `${boardId}/${part}`;
}

/** The part of a board whose room has this name. @throws RangeError when it is no name of a room */
export function partOf(name: string): BoardPart {
  const last = name.slice(name.lastIndexOf('/') + 1);
  const part = DOCUMENT_PARTS.find((one) => one === last);
  if (part === undefined) throw new RangeError(`${JSON.stringify(name)} is no name of a room`);
  return part;
}

/**
 * Why the server closed a socket; the page turns each into a sentence. 4000 to 4999 is the application's range (RFC 6455,
 * 7.4.2). y-websocket takes 4400 to 4499 for final and comes back by itself after any other.
 */
export const CLOSE_CODES = {
  malformed: 4400,
  forbidden: 4403,
  unknownBoard: 4404,
  tooLarge: 4413,
  tooFast: 4529,
  tooSlow: 4508,
  boardFull: 4509,
  busy: 4503,
  storeFailed: 4507,
  revoked: 4401,
  /** The document was renewed; what this client held is brought over. It drops its copy and joins anew. */
  outdated: 4410,
  /** An owner deleted the board for good while this socket was open. */
  deleted: 4411,
  restarted: 4500,
  /** The person may do other things here than before; the page asks what, and joins anew. */
  roleChanged: 4501,
} as const;
/** Why the server ends a connection; a key of {@link CLOSE_CODES}. */
export type CloseReason = keyof typeof CLOSE_CODES;

/** Limits both sides know. Bytes unless the name says otherwise. */
export const LIMITS = {
  messageBytes: 4 * 1024 * 1024,
  copyPieceBytes: 512 * 1024,
  presenceBytes: 4 * 1024,
  boardFileBytes: 8 * 1024 * 1024,
  titleCharacters: MAX_TITLE_CHARACTERS,
  nameCharacters: MAX_NAME_CHARACTERS,
} as const;
