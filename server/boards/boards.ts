/** Boards as the HTTP side sees them: made, read, copied, imported. Every write is on the disk when its promise fulfils. */
import { randomBytes } from 'node:crypto';
import { Design, loadBoard, quotaOf, type Role } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { type BoardRecord, type FirstRecord, type Store, StoreError } from '../store/index.ts';
import type { Room, RoomHold, Rooms } from '../sync/index.ts';
import type { Work } from '../work/index.ts';
import {
  BOARD,
  COPY,
  DesignReads,
  type DesignSummary,
  FILE,
  GLANCE,
  type Glance,
  SUMMARY,
} from './design-reads.ts';
import { encodeBoard, newDocumentId } from './encode-board.ts';
import { SENT_BOARD, SENT_FILE, type Sent } from './sent-boards.ts';

export interface BoardSummary extends DesignSummary {
  readonly id: string;
  readonly kind: BoardRecord['kind'];
}

/** A new unguessable id: 128 random bits, 22 letters, digits, `_` or `-`. */
export function newBoardId(): string {
  return randomBytes(16).toString('base64url');
}

export class Boards {
  readonly #store: Store;
  readonly #rooms: Rooms;
  readonly #work: Work;
  readonly #now: () => number;
  readonly #first: readonly FirstRecord[];
  readonly #reads: DesignReads;
  /** Demo boards are never edited, and everybody asks for all of them. */
  readonly #demos = new Map<string, BoardSummary>();

  /** @param first records with which each new board begins */
  constructor(store: Store, rooms: Rooms, work: Work, now: () => number, first: readonly FirstRecord[] = []) {
    this.#first = first;
    this.#store = store;
    this.#rooms = rooms;
    this.#work = work;
    this.#reads = new DesignReads(work);
    this.#now = now;
  }

  record(id: string): Promise<BoardRecord | null> {
    return this.#store.board(id);
  }

  demos(): Promise<readonly BoardRecord[]> {
    return this.#store.boardsOfKind('demo');
  }

  /** A new board of what was sent: JSON with a file or a size. */
  async create(text: string): Promise<Sent<BoardSummary>> {
    const sent = await this.#work.run(SENT_BOARD, text, text.length);
    return sent.ok ? { ok: true, value: await this.#add(sent.value.bytes, sent.value.summary) } : sent;
  }

  /** A new board that shows what another does now. @param onBytes hears how many it takes */
  async copy(id: string, onBytes: (bytes: number) => void): Promise<BoardSummary> {
    const { bytes, summary } = await this.#holding(id, (room) => this.#reads.read(room, COPY));
    onBytes(bytes.length);
    return this.#add(bytes, summary);
  }

  async #add(bytes: Uint8Array, summary: DesignSummary): Promise<BoardSummary> {
    const id = newBoardId();
    const record = { id, kind: 'board', createdAt: this.#now() } as const;
    const isNew = await this.#store.addBoard(record, [{ part: 'design', bytes }], this.#first);
    if (!isNew) throw new Error('a new random board id was taken');
    return { id, kind: record.kind, ...summary };
  }

  /** The board as it stands now, edits on their way to the disk included. */
  read(id: string): Promise<Board> {
    return this.#holding(id, (room) => this.#reads.read(room, BOARD));
  }

  /** The same as a board file: JSON in UTF-8. */
  file(id: string): Promise<Uint8Array> {
    return this.#holding(id, (room) => this.#reads.read(room, FILE));
  }

  /** A design that was kept, as a board file. */
  fileOf(state: Uint8Array): Promise<Uint8Array> {
    return this.#work.read(FILE, [state]);
  }

  /** What a page shows of it before it has the design. */
  glance(id: string): Promise<Glance> {
    return this.#holding(id, (room) => this.#reads.read(room, GLANCE));
  }

  async summary({ id, kind }: BoardRecord): Promise<BoardSummary> {
    const kept = this.#demos.get(id);
    if (kept !== undefined) return kept;
    const read = await this.#holding(id, (room) => this.#reads.read(room, SUMMARY));
    const summary = { id, kind, ...read };
    if (kind === 'demo') this.#demos.set(id, summary);
    return summary;
  }

  /**
   * Replaces the board by the file that was sent, as one edit that everybody in the room sees. Rejects with a StoreError when it is not
   * on the disk within ten seconds; it may get there later.
   * @param role of whoever sent it
   * @param personId whose doing it is
   */
  async replaceBy(id: string, text: string, role: Role, personId: string | null = null): Promise<Sent<null>> {
    const sent = await this.#work.run(SENT_FILE, text, text.length);
    if (!sent.ok) return sent;
    await this.#replace(id, sent.value, role, personId);
    return { ok: true, value: null };
  }

  /** As {@link replaceBy}, by a board. */
  async replace(id: string, board: Board): Promise<void> {
    await this.#replace(id, { board, bytes: encodeBoard(board, newDocumentId).length }, 'co-maker');
  }

  async #replace(
    id: string,
    { board, bytes }: { readonly board: Board; readonly bytes: number },
    role: Role,
    personId: string | null = null,
  ): Promise<void> {
    const hold = await this.#hold(id);
    try {
      if (hold.room.isStoreFailing) throw new StoreError('unavailable', 'edits cannot be stored now');
      // What is replaced stays in the document as its past, until it is renewed when everybody has left.
      if (!hold.room.hasRoomFor(bytes, quotaOf(role, 'design')))
        throw new StoreError('full', `the document of board ${id} has no room for another board`);
      await hold.room.edit((doc) => {
        const design = new Design(doc, { makerId: 'server', newId: newDocumentId });
        try {
          const result = design.run(loadBoard(board));
          // The board has been read by parseBoard, so the document refusing it is a fault of ours.
          if (!result.ok) throw new Error(`the document refused a valid board: ${result.error.message}`);
        } finally {
          design.dispose();
        }
      }, personId);
    } finally {
      hold.release();
    }
  }

  async #holding<T>(id: string, read: (room: Room) => Promise<T>): Promise<T> {
    const hold = await this.#hold(id);
    try {
      return await read(hold.room);
    } finally {
      hold.release();
    }
  }

  #hold(id: string): Promise<RoomHold> {
    return this.#rooms.hold({ board: id, part: 'design' });
  }
}
