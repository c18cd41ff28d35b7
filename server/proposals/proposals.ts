/**
 * Proposals: branches of a board, worked on apart, that the owner accepts or declines.
 *
 * A branch is a board of its own. No link leads to it: who may do what there follows from the board it is of, asked each
 * time. Accepting is an edit in the owner's page; here it is only written down, once the page says what state it took.
 */
import { newBoardId } from '../boards/index.ts';
import { OneByOne } from '../one-by-one.ts';
import { type ListedRecord, type Store, StoreError } from '../store/index.ts';
import type { Room, Rooms } from '../sync/index.ts';
import { tryEach } from '../try-each.ts';
import { isSameDocument, type Work } from '../work/index.ts';
import {
  BRANCH,
  BRANCH_ID,
  type BranchOf,
  isLive,
  MAX_CLOSED,
  MAX_OPEN,
  MAX_OPEN_OF_ONE,
  MAX_WITHDRAWN_OF_ONE,
  PROPOSAL,
  type Proposal,
  readBranch,
  readProposal,
  writeProposal,
} from './proposal.ts';
import { COMPACT, PRESENT } from './proposal-jobs.ts';

export interface ProposalsDeps {
  readonly store: Store;
  readonly rooms: Rooms;
  /** Reads whole designs. */
  readonly work: Work;
  readonly now: () => number;
  /** Called with a board on which somebody's rights became less. */
  readonly narrow: (boardId: string) => void;
  /** Called with a board whose proposals may be others now. */
  readonly changed: (boardId: string) => void;
}

/** Why something was not done. `moved`: the branch is not as the page saw it; `changed`: somebody else was quicker. */
export type Refusal = 'unknown' | 'empty' | 'too-many' | 'too-many-of-one' | 'closed' | 'moved' | 'changed';

/** A proposal with the two states it lies between. */
export interface ProposalStates {
  readonly base: Uint8Array;
  readonly present: Uint8Array;
  /** Stands for what the branch shows; `accept` is told which was seen. */
  readonly seen: string;
}

/** So long at most the making of a branch takes. */
const BEING_MADE_MS = 60 * 60 * 1000;

function asProposal({ id, about }: Pick<ListedRecord, 'id' | 'about'>): Proposal {
  return readProposal(id, about);
}

function whyTooMany(proposals: readonly Proposal[], proposer: string): Refusal | null {
  const live = proposals.filter(isLive);
  if (live.length >= MAX_OPEN) return 'too-many';
  return live.filter((one) => one.proposer === proposer).length >= MAX_OPEN_OF_ONE ? 'too-many-of-one' : null;
}

export class Proposals {
  readonly #deps: ProposalsDeps;
  /** One is made on a board at a time; that the bounds hold among nodes sees the store to. */
  readonly #making = new OneByOne();

  constructor(deps: ProposalsDeps) {
    this.#deps = deps;
  }

  /** The proposals of a board, oldest first. */
  async list(board: string): Promise<readonly Proposal[]> {
    const entries = await this.#deps.store.records(board, PROPOSAL);
    return entries.map(asProposal).sort((a, b) => a.madeAt - b.madeAt || (a.id < b.id ? -1 : 1));
  }

  async find(board: string, id: string): Promise<Proposal | null> {
    const record = await this.#deps.store.record(board, PROPOSAL, id);
    return record === null ? null : readProposal(id, record.about);
  }

  /** Whose branch a board is, and whether its proposal can still change; null when it is none. */
  async branchOf(id: string): Promise<(BranchOf & { readonly isOpen: boolean }) | null> {
    const record = await this.#deps.store.record(id, BRANCH, BRANCH_ID);
    if (record === null) return null;
    const of = readBranch(id, record.about);
    const proposal = await this.find(of.board, id);
    return { ...of, isOpen: proposal !== null && isLive(proposal) };
  }

  /**
   * Makes a proposal: a branch with the present state of the board under the same ids.
   * @param onBytes hears how many that takes
   */
  make(
    board: string,
    wanted: Pick<Proposal, 'title' | 'proposer' | 'name'>,
    onBytes: (bytes: number) => void = () => {},
  ): Promise<Proposal | Refusal> {
    return this.#making.run(board, () => this.#make(board, wanted, onBytes));
  }

  async #make(
    board: string,
    { title, proposer, name }: Pick<Proposal, 'title' | 'proposer' | 'name'>,
    onBytes: (bytes: number) => void,
  ): Promise<Proposal | Refusal> {
    const { store, now } = this.#deps;
    const refusal = whyTooMany(await this.list(board), proposer);
    if (refusal !== null) return refusal;
    const base = await this.#holding(board, (room) => this.#deps.work.read(COMPACT, room.held.updates));
    if (base === null) return 'empty';
    // As its branch and as its base.
    onBytes(2 * base.length);
    const proposal: Proposal = {
      id: newBoardId(),
      title,
      proposer,
      name,
      state: 'draft',
      word: '',
      isPart: false,
      madeAt: now(),
      handedInAt: null,
      closedAt: null,
    };
    const { id } = proposal;
    // The branch first: a record without one would show a proposal that nobody can open.
    await store.addBoard({ id, kind: 'branch', createdAt: proposal.madeAt }, [
      { part: 'design', bytes: base },
    ]);
    const of: BranchOf = { board, proposer };
    await store.putRecord({
      board: id,
      kind: BRANCH,
      id: BRANCH_ID,
      about: JSON.stringify(of),
      bytes: new Uint8Array(0),
    });
    const record = { board, kind: PROPOSAL, id, about: writeProposal(proposal), bytes: base };
    // Other nodes make some too: of two that counted the same, one is told and counts anew.
    for (;;) {
      const there = await store.records(board, PROPOSAL);
      const tooMany = whyTooMany(there.map(asProposal), proposer);
      if (tooMany !== null) {
        await this.#removeBranch(id);
        return tooMany;
      }
      if (await this.#changing(board, () => store.putRecord(record, null, there))) return proposal;
    }
  }

  /** The base of a proposal and what its branch is now. */
  async states(board: string, id: string): Promise<ProposalStates | 'unknown'> {
    const record = await this.#deps.store.record(board, PROPOSAL, id);
    if (record === null) return 'unknown';
    const present = await this.#holding(id, (room) => this.#deps.work.read(PRESENT, room.held.updates));
    return { base: record.bytes, ...present };
  }

  /** Gives a draft to the owner. */
  handIn(board: string, id: string): Promise<Proposal | Refusal> {
    return this.#change(board, id, (one) => ({ ...one, state: 'open', handedInAt: this.#deps.now() }));
  }

  withdraw(board: string, id: string): Promise<Proposal | Refusal> {
    return this.#close(board, id, { state: 'withdrawn' });
  }

  decline(board: string, id: string, word: string): Promise<Proposal | Refusal> {
    return this.#close(board, id, { state: 'declined', word });
  }

  /**
   * Writes down that the owner took it over.
   * @param seen what the branch showed when it was; where it shows something else now, that is 'moved' and nothing is done
   */
  async accept(
    board: string,
    id: string,
    { seen, word, isPart }: { readonly seen: string; readonly word: string; readonly isPart: boolean },
  ): Promise<Proposal | Refusal> {
    if ((await this.find(board, id)) === null) return 'unknown';
    if (!(await this.#holding(id, (room) => this.#shows(room, seen)))) return 'moved';
    return this.#close(board, id, { state: 'accepted', word, isPart });
  }

  /** Everybody on the branches of a board is asked for anew; the branches of a board that is gone go too. */
  async narrowBranches(board: string): Promise<void> {
    if ((await this.#deps.store.board(board)) === null) await this.sweep(board);
    else for (const one of await this.list(board)) this.#deps.narrow(one.id);
  }

  /**
   * Removes branches whose board is gone, or that no proposal of it names: those of one board, or all there are, for when a process
   * ended, or the store failed, in between. Rejects where one could not be removed, once all were tried.
   * @returns how many
   */
  async sweep(board: string | null = null): Promise<number> {
    const { store, now } = this.#deps;
    return tryEach(await store.boardsOfKind('branch'), async ({ id, createdAt }) => {
      const record = await store.record(id, BRANCH, BRANCH_ID);
      const of = record === null ? null : readBranch(id, record.about).board;
      if (board !== null && of !== board) return false;
      const isOrphan = of !== null && (await store.board(of)) === null;
      if (of !== null && !isOrphan && (await store.record(of, PROPOSAL, id)) !== null) return false;
      // Half made: when a process ended or the store failed, or on another node right now.
      if (!isOrphan && createdAt > now() - BEING_MADE_MS) return false;
      await this.#removeBranch(id);
      return true;
    });
  }

  async #close(board: string, id: string, outcome: Partial<Proposal>): Promise<Proposal | Refusal> {
    const done = await this.#change(board, id, (one) => ({
      ...one,
      ...outcome,
      closedAt: this.#deps.now(),
    }));
    if (typeof done === 'string') return done;
    this.#deps.narrow(id);
    await this.#forgetOldest(board, done);
    return done;
  }

  async #change(
    board: string,
    id: string,
    change: (proposal: Proposal) => Proposal,
  ): Promise<Proposal | Refusal> {
    const { store } = this.#deps;
    const record = await store.record(board, PROPOSAL, id);
    if (record === null) return 'unknown';
    const proposal = readProposal(id, record.about);
    if (!isLive(proposal)) return 'closed';
    const next = change(proposal);
    const isFirst = await this.#changing(board, () =>
      store.putRecord({ ...record, about: writeProposal(next) }, record.about),
    );
    return isFirst ? next : 'changed';
  }

  /** Writes to the records of a board; that they may be others now is told whatever the store says, which may fail after it was done. */
  async #changing<T>(board: string, write: () => Promise<T>): Promise<T> {
    try {
      return await write();
    } finally {
      this.#deps.changed(board);
    }
  }

  /**
   * Answered ones and withdrawn ones are counted apart: to withdraw takes nobody else, and must push out nobody else's. Of withdrawn ones
   * those of the same person go, also where others fill the bound.
   */
  async #forgetOldest(board: string, { state, proposer }: Proposal): Promise<void> {
    const isWithdrawn = state === 'withdrawn';
    const closed = (await this.list(board))
      .filter((one) => !isLive(one) && (one.state === 'withdrawn') === isWithdrawn)
      .sort((a, b) => (a.closedAt ?? 0) - (b.closedAt ?? 0));
    const own = isWithdrawn ? closed.filter((one) => one.proposer === proposer) : closed;
    const most = isWithdrawn ? MAX_WITHDRAWN_OF_ONE : MAX_CLOSED;
    const over = Math.max(own.length - most, closed.length - MAX_CLOSED, 0);
    for (const { id } of own.slice(0, over)) {
      await this.#removeBranch(id);
      await this.#changing(board, () => this.#deps.store.removeRecord(board, PROPOSAL, id));
    }
  }

  async #removeBranch(id: string): Promise<void> {
    const { store, rooms } = this.#deps;
    await store.removeBoard(id);
    rooms.closeBoard(id);
  }

  /** Whether a branch shows what was seen, also after it has been read. */
  async #shows(room: Room, seen: string): Promise<boolean> {
    const { updates } = room.held;
    const present = await this.#deps.work.read(PRESENT, updates);
    return present.seen === seen && isSameDocument(updates, room.held.updates);
  }

  async #holding<T>(board: string, read: (room: Room) => Promise<T>): Promise<T> {
    const hold = await this.#deps.rooms.hold({ board, part: 'design' });
    try {
      if (hold.room.isStoreFailing) throw new StoreError('unavailable', 'edits cannot be stored now');
      // What is read here is compared, or stands for the board: it must not lack what another node has answered for.
      await hold.room.catchUp();
      return await read(hold.room);
    } finally {
      hold.release();
    }
  }
}
