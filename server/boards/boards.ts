/** Boards as the HTTP side sees them: made, read, copied, imported. Every write is on the disk when its promise fulfils. */
import { randomBytes } from 'node:crypto';
import * as Y from 'yjs';
import { Design, type IdSource, readDesign, writeBoard } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { type BoardRecord, type Store, StoreError } from '../store/index.ts';
import type { RoomHold, Rooms } from '../sync/index.ts';

export interface BoardSummary {
  readonly id: string;
  readonly kind: BoardRecord['kind'];
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
}

/** A new unguessable id: 128 random bits, 22 letters, digits, `_` or `-`. */
export function newBoardId(): string {
  return randomBytes(16).toString('base64url');
}

/** Ids for what is written into a document: 72 random bits. */
const newDocumentId: IdSource = () => randomBytes(9).toString('base64url');

/** A board as the first update of its design document. */
export function encodeBoard(board: Board, newId: IdSource, clientId?: number): Uint8Array {
  const doc = new Y.Doc();
  if (clientId !== undefined) doc.clientID = clientId;
  writeBoard(doc, board, newId);
  const bytes = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return bytes;
}

export class Boards {
  readonly #store: Store;
  readonly #rooms: Rooms;
  readonly #now: () => number;

  constructor(store: Store, rooms: Rooms, now: () => number) {
    this.#store = store;
    this.#rooms = rooms;
    this.#now = now;
  }

  record(id: string): Promise<BoardRecord | null> {
    return this.#store.board(id);
  }

  demos(): Promise<readonly BoardRecord[]> {
    return this.#store.boardsOfKind('demo');
  }

  async create(board: Board): Promise<BoardSummary> {
    const id = newBoardId();
    const record = { id, kind: 'board', createdAt: this.#now() } as const;
    const bytes = encodeBoard(board, newDocumentId);
    const isNew = await this.#store.addBoard(record, [{ part: 'design', bytes }]);
    if (!isNew) throw new Error('a new random board id was taken');
    return summarize(record, board);
  }

  /** The board as it stands now, edits on their way to the disk included. */
  async read(id: string): Promise<Board> {
    const hold = await this.#hold(id);
    try {
      return readDesign(hold.room.doc).board;
    } finally {
      hold.release();
    }
  }

  async summary(record: BoardRecord): Promise<BoardSummary> {
    return summarize(record, await this.read(record.id));
  }

  /**
   * Replaces the board by another, as one edit that everybody in the room sees. Rejects with a StoreError when it is not
   * on the disk within ten seconds; it may get there later.
   */
  async replace(id: string, board: Board): Promise<void> {
    const hold = await this.#hold(id);
    try {
      if (hold.room.isStoreFailing) throw new StoreError('unavailable', 'edits cannot be stored now');
      // What is replaced stays in the document as its past, until it is renewed when everybody has left.
      if (!hold.room.hasRoomFor(encodeBoard(board, newDocumentId).length))
        throw new StoreError('full', `the document of board ${id} has no room for another board`);
      await hold.room.edit((doc) => {
        const design = new Design(doc, { makerId: 'server', newId: newDocumentId });
        try {
          const result = design.run({ kind: 'load-board', board });
          // The board has been read by parseBoard, so the document refusing it is a fault of ours.
          if (!result.ok) throw new Error(`the document refused a valid board: ${result.error.message}`);
        } finally {
          design.dispose();
        }
      });
    } finally {
      hold.release();
    }
  }

  #hold(id: string): Promise<RoomHold> {
    return this.#rooms.hold({ board: id, part: 'design' });
  }
}

function summarize(record: BoardRecord, board: Board): BoardSummary {
  const { pattern, title } = board;
  return { id: record.id, kind: record.kind, title, strings: pattern.colours.length, rows: pattern.rows };
}
