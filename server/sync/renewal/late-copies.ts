/**
 * Copies of other generations that come to a room. What one holds beyond the last state of its generation is brought over to the
 * present document. It is worked out in a thread, on a state that is on the disk, and stored in one step with the last state
 * that holds it from then on, provided that nobody else has written that meanwhile; only then the room hears of it. So the same copy
 * brings nothing twice, wherever else it comes and whatever happens in between: as an edit of the room, of two nodes with one copy both had
 * told theirs before either could know.
 *
 * A copy is asked for by the state vector of its generation, so the question waits until the client has shown what it holds. Clients that
 * never ask for the document are asked after five seconds.
 *
 * A copy whose generation is not kept, because an earlier backup took its place, has nothing to be compared with: it is kept whole,
 * as a version of its own.
 */
import type { CloseReason } from '../../../engine/document/index.ts';
import type { Log } from '../../log.ts';
import { type DocumentAddress, type EndedGeneration, type Store, StoreError } from '../../store/index.ts';
import { type Answerable, unattended } from '../../unattended.ts';
import type { ByteBudget, Job, Work } from '../../work/index.ts';
import { BRING, type BringOutput, type CopyRefusal, JUDGE_LOOSE, LAST_STATE_VECTOR } from './copy-jobs.ts';
import { clientOf, type Identity } from '../identity.ts';
import type { SyncLimits } from '../limits.ts';
import type { Trials } from '../trials.ts';

/** One whose copy is brought over, and one who waits. */
const MOST_SEATS = 2;
/** A packed state is unpacked to some times its size. */
const UNPACKED = 8;

/** The room of the present document. */
export interface CopiedRoom extends Answerable {
  readonly name: string;
  readonly address: DocumentAddress;
  readonly generation: number;
  /** Whether nothing is taken now. */
  readonly takesNothing: boolean;
  /** What the document is made of, and about how large it is. */
  readonly held: { readonly bytes: number; readonly updates: readonly Uint8Array[] };
  endTurn(): void;
  /** Fulfils once everything received so far is on the disk: with false when it will never be. */
  stored(): Promise<boolean>;
  hasRoomFor(bytes: number): boolean;
  /** Takes what was worked out of a copy and is stored. */
  tookOver(seq: number, update: Uint8Array): void;
  /** The generation has ended. */
  onOutdated(): void;
  /** Reads the store anew. */
  reload(): Promise<void>;
}

export interface CopiesDeps {
  readonly store: Store;
  readonly log: Log;
  readonly limits: Pick<SyncLimits, 'documentBytes' | 'steps'>;
  readonly trials: Pick<Trials, 'count'>;
  readonly work: Work;
  /** Of copies that wait to be brought over, in all rooms together. */
  readonly copyBytes: ByteBudget;
  /**
   * Keeps a copy, as one update, with edits that have no place in the present document. Never rejects. Null = nobody keeps any.
   * @returns whether it is kept, or there is nothing in it to keep
   */
  readonly keep: ((copy: Uint8Array) => Promise<boolean>) | null;
  /** Fulfils when what a copy may change on the board is on the disk as it was; rejects with a StoreError where that cannot be. */
  readonly before: () => Promise<void>;
}

/** A place among those who may bring a copy now. */
export interface CopySeat {
  /** Takes room for bytes of the copy, until it is given back. @returns false when there is none */
  readonly hold: (bytes: number) => boolean;
  /** Gives back the room. */
  readonly drop: () => void;
  /** Gives back all; further calls do nothing. */
  readonly leave: () => void;
}

export type CopyOutcome =
  | { readonly kind: 'taken' }
  /** What was sent of the copy builds on more of it than its generation holds: all of it is needed. */
  | { readonly kind: 'partial' }
  | { readonly kind: 'refused'; readonly reason: CloseReason; readonly message: string };

const TAKEN: CopyOutcome = { kind: 'taken' };
const nothing = (): void => {};

export class LateCopies {
  readonly #room: CopiedRoom;
  readonly #deps: CopiesDeps;
  #seats = 0;
  #running = 0;
  #last: Promise<void> = Promise.resolve();

  constructor(room: CopiedRoom, deps: CopiesDeps) {
    this.#room = room;
    this.#deps = deps;
  }

  /** Whether one is being brought over: the room must stay until it is done. */
  get isBusy(): boolean {
    return this.#running > 0;
  }

  /** A place for one more copy; null when others bring theirs, and who comes now should come again. */
  seat(): CopySeat | null {
    if (this.#seats >= MOST_SEATS) return null;
    this.#seats += 1;
    const { copyBytes } = this.#deps;
    let held = 0;
    let isLeft = false;
    const drop = (): void => {
      copyBytes.give(held);
      held = 0;
    };
    return {
      hold: (bytes) => {
        if (isLeft || !copyBytes.take(bytes)) return false;
        held += bytes;
        return true;
      },
      drop,
      leave: () => {
        if (isLeft) return;
        isLeft = true;
        drop();
        this.#seats -= 1;
      },
    };
  }

  /** The latest ended generation that a state vector holds the name of; null when it holds none. Rejects as the store does. */
  async endedGenerationIn(held: ReadonlyMap<number, number>): Promise<Identity | null> {
    for (const { generation, drawn } of await this.#deps.store.endedGenerations(this.#room.address)) {
      const identity = { name: this.#room.name, generation, drawn };
      if (held.has(clientOf(identity))) return identity;
    }
    return null;
  }

  /** The state vector of an ended generation as it is kept now; null when it is not. Rejects as the store does. */
  async vectorOf(identity: Identity): Promise<Uint8Array | null> {
    const kept = await this.#kept(identity);
    return kept && this.#work(LAST_STATE_VECTOR, kept.bytes, kept.bytes.length * UNPACKED);
  }

  /**
   * Brings over to the present document what a copy holds, or keeps it. One copy at a time. Fulfils once all is on the disk; rejects as
   * the store does.
   * @param isWhole whether it is all of the copy
   * @param by who brings it, as rows are signed
   */
  async bring(identity: Identity, copy: Uint8Array, isWhole: boolean, by = ''): Promise<CopyOutcome> {
    const before = this.#last;
    let done = nothing;
    this.#last = new Promise((resolve) => {
      done = resolve;
    });
    this.#running += 1;
    try {
      await before;
      // A generation may be about to begin, and a copy is brought over to one document.
      if (this.#room.takesNothing) throw new StoreError('unavailable', 'nothing can be taken now');
      return await this.#bring(identity, copy, isWhole, by);
    } finally {
      this.#running -= 1;
      done();
    }
  }

  async #kept(identity: Identity): Promise<(EndedGeneration & { readonly bytes: Uint8Array }) | null> {
    const { store } = this.#deps;
    const { generation, drawn } = identity;
    const entry = (await store.endedGenerations(this.#room.address)).find(
      (one) => one.generation === generation && one.drawn === drawn,
    );
    // Read behind its version: where it is a later state, that is found out when another is to take its place.
    const bytes = entry === undefined ? null : await store.lastState(this.#room.address, generation);
    return entry === undefined || bytes === null ? null : { ...entry, bytes };
  }

  async #bring(identity: Identity, copy: Uint8Array, isWhole: boolean, by: string): Promise<CopyOutcome> {
    const { limits } = this.#deps;
    const { generation } = this.#room;
    for (;;) {
      const kept = await this.#kept(identity);
      if (kept === null) return isWhole ? this.#keep(identity, copy) : { kind: 'partial' };
      this.#room.endTurn();
      const present = this.#room.held.updates;
      const stored = this.#room.stored();
      const bytes = kept.bytes.length * UNPACKED + copy.length + this.#room.held.bytes;
      const output = await this.#work(
        BRING,
        { lastState: kept.bytes, identity, copy, present, steps: limits.steps },
        bytes,
      );
      switch (output.kind) {
        case 'refused':
          return this.#refused(output);
        case 'misfit':
          return isWhole ? this.#keep(identity, copy) : { kind: 'partial' };
        case 'damaged':
          throw new StoreError('damaged', `generation ${identity.generation}: ${output.message}`);
        case 'brought': {
          // It builds on the state that it was worked out from.
          if (!(await stored)) throw new StoreError('unavailable', 'the document is not stored any more');
          const outcome = await this.#store(identity, output, kept, generation, by);
          if (outcome !== 'overtaken') return outcome;
        }
      }
    }
  }

  #refused({ message, isTooMuch }: CopyRefusal): CopyOutcome {
    if (isTooMuch) this.#deps.trials.count('too-much');
    return { kind: 'refused', reason: 'malformed', message };
  }

  /** A thread that is busy or gives up says nothing about the copy: whoever brought it comes again. */
  async #work<In, Out>(job: Job<In, Out>, input: In, bytes: number): Promise<Out> {
    try {
      return await this.#deps.work.run(job, input, bytes);
    } catch (cause) {
      throw new StoreError('unavailable', `${job.name}: ${(cause as Error).message}`, { cause });
    }
  }

  /** Stores what was brought and the last state that holds it, and tells the room. */
  async #store(
    identity: Identity,
    { update, lastState, lastStateBytes, commands, refused, leftOver }: BringOutput & { kind: 'brought' },
    { generation, version }: EndedGeneration,
    present: number,
    by: string,
  ): Promise<CopyOutcome | 'overtaken'> {
    const { store, limits, log, keep, before } = this.#deps;
    const room = this.#room;
    if (lastStateBytes > limits.documentBytes)
      return { kind: 'refused', reason: 'tooLarge', message: 'the copy is larger than a document may be' };
    if (update !== null && !room.hasRoomFor(update.length))
      return { kind: 'refused', reason: 'boardFull', message: 'the document is full' };
    // First: once the last state holds the copy, it brings nothing new when it comes again.
    if (leftOver !== null && keep !== null && !(await keep(leftOver)))
      throw new StoreError('unavailable', 'what has no place on the board could not be kept');
    if (update !== null) {
      await before();
      try {
        const options = {
          generation: present,
          by,
          lastState: { generation, version, bytes: lastState },
        };
        const seq = await store.append(this.#room.address, update, options);
        room.tookOver(seq, update);
      } catch (cause) {
        if (!(cause instanceof StoreError)) throw cause;
        if (cause.kind === 'overtaken') return 'overtaken';
        // Whether it happened is not always known; the store says so once it answers.
        if (cause.kind !== 'outdated') unattended(room, 'reload', () => room.reload());
        else if (room.generation === present) room.onOutdated();
        throw cause;
      }
    }
    log.info('brought-over', {
      room: room.name,
      generation: identity.generation,
      commands,
      refused: refused.join('; '),
    });
    return TAKEN;
  }

  /** Keeps a copy of a generation that is not kept. */
  async #keep({ name, generation }: Identity, copy: Uint8Array): Promise<CopyOutcome> {
    const { limits, log, keep } = this.#deps;
    const why = await this.#work(JUDGE_LOOSE, { copy, name, steps: limits.steps }, copy.length);
    if (why !== null) return this.#refused(why);
    if (keep === null || !(await keep(copy)))
      throw new StoreError('unavailable', 'the copy could not be kept');
    log.info('copy-kept', { room: name, generation });
    return TAKEN;
  }
}
