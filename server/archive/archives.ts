/** Boards as a whole: packed into an archive, loaded from one, deleted for good. */
import { newBoardId, saysBeingMade } from '../boards/index.ts';
import { LESSON } from '../lessons/index.ts';
import { PROPOSAL, sayBranch, writeProposal } from '../proposals/index.ts';
import {
  type BoardRecord,
  type FirstRecord,
  type KeptRecord,
  type Store,
  StoreError,
} from '../store/index.ts';
import type { Rooms } from '../sync/index.ts';
import { tryEach } from '../try-each.ts';
import type { Answerable } from '../unattended.ts';
import { bytesOf, type Work } from '../work/index.ts';
import { ArchiveError } from './archive-format.ts';
import { LOAD, type LoadedArchive } from './load-archive.ts';
import type { LoadedProposal } from './load-proposals.ts';
import { PACK } from './pack-archive.ts';
import type { PackedBranch } from './pack-proposals.ts';

export interface ArchivesDeps {
  readonly store: Store;
  readonly rooms: Rooms;
  /** Packs and unpacks. */
  readonly work: Work;
  readonly now: () => number;
  /** Records with which each new board begins. */
  readonly first: readonly FirstRecord[];
  /** Forgets the links of a deleted board, and with them everybody's rights on it and its branches. */
  readonly forgetLinks: (board: string) => Promise<void>;
  /** Hears of boards that were to be removed, and stay until they are swept. */
  readonly answerable: Answerable;
}

/** An archive, and of what in it some could not be read: `design`, `talk`, or a record as `kind/id`. */
export interface PackedBoard {
  readonly bytes: Uint8Array;
  readonly lacks: readonly string[];
}

/** What the thread for large work does for archives. */
export const ARCHIVE_JOBS = [LOAD, PACK];

export class Archives {
  readonly #deps: ArchivesDeps;

  constructor(deps: ArchivesDeps) {
    this.#deps = deps;
  }

  /** All that is kept of a board and can be read, edits on their way to the disk included. @throws ArchiveError 'too-large' */
  async pack(board: string): Promise<PackedBoard> {
    const { store, work, now } = this.#deps;
    const lacks: string[] = [];
    const lack = (what: string) => (): unknown => lacks.includes(what) || lacks.push(what);
    const design = await this.#updates(board, 'design', lack('design'));
    const talk = await this.#updates(board, 'talk', lack('talk'));
    const records: KeptRecord[] = [];
    const branches: PackedBranch[] = [];
    for (const { kind, id } of await store.records(board, null)) {
      // A lesson stays where it is given: of who was there nothing leaves the server.
      if (saysBeingMade({ kind }) || kind === LESSON) continue;
      const record = await this.#record(board, kind, id, lacks);
      if (record === null) continue;
      records.push(record);
      // Where its branch is being forgotten just now, the proposal goes with it.
      if (kind !== PROPOSAL || (await store.board(id)) === null) continue;
      const onLack = lack(`${kind}/${id}`);
      const [shown, said] = [
        await this.#updates(id, 'design', onLack),
        await this.#updates(id, 'talk', onLack),
      ];
      branches.push({ record, design: shown, talk: said });
    }
    const ofBranches = branches.flatMap((branch) => [...branch.design, ...branch.talk]);
    const bytes = bytesOf([...design, ...talk, ...ofBranches, ...records.map((record) => record.bytes)]);
    const packed = await work.run(PACK, { design, talk, records, branches, lacks, now: now() }, bytes);
    if (!packed.ok) throw ArchiveError.of(packed.error);
    return { bytes: packed.value, lacks };
  }

  /** Notes a record that is not as it was written among what is lacking. */
  async #record(board: string, kind: string, id: string, lacks: string[]): Promise<KeptRecord | null> {
    try {
      return await this.#deps.store.record(board, kind, id);
    } catch (cause) {
      if (!(cause instanceof StoreError) || cause.kind !== 'damaged') throw cause;
      lacks.push(`${kind}/${id}`);
      return null;
    }
  }

  /**
   * Makes a new board of an archive, or nothing at all.
   * @throws ArchiveError naming the part that cannot be read
   */
  async load(packed: Uint8Array): Promise<BoardRecord & Pick<LoadedArchive, 'title' | 'strings' | 'rows'>> {
    const { store, work, now, first } = this.#deps;
    // A small one may unpack to much: none is unpacked here.
    const loaded = await work.run(LOAD, { packed, now: now() }, Number.POSITIVE_INFINITY);
    if (!loaded.ok) throw ArchiveError.of(loaded.error);
    const { title, strings, rows, design, talk, records, proposals } = loaded.value;
    const board: BoardRecord = { id: newBoardId(), kind: 'board', createdAt: now() };
    const documents = [
      { part: 'design', bytes: design },
      { part: 'talk', bytes: talk },
    ] as const;
    if (!(await store.addBoard(board, documents, first))) throw new Error('a new random board id was taken');
    const made = [board.id];
    try {
      for (const { kind, id, about, bytes } of records)
        await store.putRecord({ board: board.id, kind, id, about, bytes });
      for (const one of proposals) {
        const id = newBoardId();
        made.push(id);
        await this.#keepProposal(board, id, one);
      }
    } catch (cause) {
      try {
        await tryEach(made, (id) => store.removeBoard(id));
      } catch (failure) {
        this.#deps.answerable.broke('give-up', failure);
      }
      throw cause;
    }
    return { ...board, title, strings, rows };
  }

  /** The branch first, as wherever one is made. */
  async #keepProposal(
    board: BoardRecord,
    id: string,
    { proposal, base, design, talk }: LoadedProposal,
  ): Promise<void> {
    const { store } = this.#deps;
    const branch: BoardRecord = { id, kind: 'branch', createdAt: board.createdAt };
    const documents = [
      { part: 'design', bytes: design } as const,
      ...(talk === null ? [] : [{ part: 'talk', bytes: talk } as const]),
    ];
    const of = sayBranch({ board: board.id, proposer: proposal.proposer });
    if (!(await store.addBoard(branch, documents, [of]))) throw new Error('a new random board id was taken');
    await store.putRecord({
      board: board.id,
      kind: PROPOSAL,
      id,
      about: writeProposal(proposal),
      bytes: base,
    });
  }

  /**
   * Deletes a board for good: what is stored of it, then everybody's sockets, then its links and branches. A write that comes later
   * finds no board. Ends in between leave links that open nothing.
   * @returns false when it was gone already
   */
  async remove(board: string): Promise<boolean> {
    const { store, rooms, forgetLinks } = this.#deps;
    const isRemoved = await store.removeBoard(board);
    rooms.closeBoard(board);
    await forgetLinks(board);
    return isRemoved;
  }

  /** @param onLack is called where not all of it could be read */
  async #updates(
    board: string,
    part: 'design' | 'talk',
    onLack: () => unknown,
  ): Promise<readonly Uint8Array[]> {
    const hold = await this.#deps.rooms.hold({ board, part });
    try {
      if (hold.room.isDamaged) onLack();
      return hold.room.held.updates;
    } finally {
      hold.release();
    }
  }
}
