/**
 * Boards whose making was cut off: stored, and then the process ended, or a store failed, before anybody was made their owner. They
 * open to nobody and nobody knows of them. A board that was made where there are no links has no owner either, so a board
 * says itself that it is being made, by a record that is there from its first step and goes when its owner has it.
 *
 * Boards and links are kept in two stores, so no step makes both. Sweeping first turns the record, if it is still there: of sweeping and
 * finishing one happens. An hour has to go by, since another node may be making it.
 */
import { type BoardRecord, type FirstRecord, type Store, StoreError } from '../store/index.ts';
import { tryEach } from '../try-each.ts';

const [KIND, ID] = ['making', 'board'];
/** What the record says, one after the other: waits for its owner; is being removed, whatever comes. */
const [MADE, SWEPT] = ['made', 'swept'];
/** So long at most the making of a board takes, on whichever node. */
const BEING_MADE_MS = 60 * 60 * 1000;

/** The record with which a board begins that will have an owner. */
export const BEING_MADE: FirstRecord = { kind: KIND, id: ID, about: MADE, bytes: new Uint8Array(0) };

/** Whether a record only says that its board is being made. */
export function saysBeingMade({ kind }: Pick<FirstRecord, 'kind'>): boolean {
  return kind === KIND;
}

export interface HalfMadeDeps {
  readonly store: Store;
  readonly now: () => number;
  readonly hasOwner: (board: string) => Promise<boolean>;
  readonly forgetLinks: (board: string) => Promise<void>;
  /** Removes a board with all that belongs to it. */
  readonly remove: (board: string) => Promise<unknown>;
}

export class HalfMade {
  readonly #deps: HalfMadeDeps;

  constructor(deps: HalfMadeDeps) {
    this.#deps = deps;
  }

  /** The board has its owner. Rejects where it took so long that the board is being removed. */
  async finish(board: string): Promise<void> {
    if (!(await this.#deps.store.removeRecord(board, KIND, ID, MADE)))
      throw new StoreError('unavailable', `board ${board} took too long to be made`);
  }

  /**
   * Removes a board whose making failed, with what its owner got of it. The links go first: a board that stays then has no owner, and is
   * swept later.
   */
  async giveUp(board: string): Promise<void> {
    const { forgetLinks, remove } = this.#deps;
    await tryEach([forgetLinks, remove], async (step) => {
      await step(board);
      return true;
    });
  }

  /** Removes those whose making was cut off. Rejects where one could not be, once all were tried. @returns how many */
  async sweep(): Promise<number> {
    const { store, now, remove } = this.#deps;
    return tryEach(await store.boardsWithRecord(KIND), async (board) => {
      // Perhaps on another node right now.
      if (board.createdAt > now() - BEING_MADE_MS || !(await this.#isToGo(board))) return false;
      await remove(board.id);
      return true;
    });
  }

  /** Settles whether it goes or stays, so that nobody hears of a board that is about to go. */
  async #isToGo({ id: board }: BoardRecord): Promise<boolean> {
    const { store, hasOwner } = this.#deps;
    if ((await store.record(board, KIND, ID))?.about === SWEPT) return true;
    if (!(await hasOwner(board))) return store.putRecord({ ...BEING_MADE, board, about: SWEPT }, MADE);
    await store.removeRecord(board, KIND, ID, MADE);
    return false;
  }
}
