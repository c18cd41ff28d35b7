/**
 * Renewal while people are there. Where a document is found to be worn its room takes nothing for a moment; everything taken is stored, the next generation
 * is worked out in the thread and takes the place of the rows, provided that they are those it was worked out of; then the room goes on with
 * it, and its people are handed over on the sockets they have.
 *
 * Invariants. Whoever is handed over holds all that the ended generation held when it ended: so the page knows what it holds beyond, and puts
 * that on the next one. What is read meanwhile, and from a client until it has gone over, is passed over; the client has it in hand, and sends it
 * again. Where any of this is not known the room closes instead (`onOutdated`), and its people come with copies, which are brought over: see
 * `late-copies.ts`. Nothing depends on the pause: it only makes it likely that nobody writes meanwhile.
 */
import { inflateRawSync } from 'node:zlib';
import * as Y from 'yjs';
import { atMost, type Clock, pause } from '../../clock.ts';
import type { Log } from '../../log.ts';
import type { Metrics } from '../../metrics.ts';
import { type DocumentAddress, type Store, StoreError } from '../../store/index.ts';
import { type Answerable, unattended } from '../../unattended.ts';
import type { Work } from '../../work/index.ts';
import type { Identity } from '../identity.ts';
import type { SyncLimits } from '../limits.ts';
import { type DocumentLog, readLog } from '../log-rows.ts';
import { frameOf } from '../messages.ts';
import { isBeginning, WORN_TIMES } from './beginning.ts';
import { COMPACT, type CompactOutput } from './compact-job.ts';
import { storeRenewal } from './generations.ts';

/** The room of a document that may be worn. */
export interface LiveRoom extends Answerable {
  readonly name: string;
  readonly address: DocumentAddress;
  readonly isDamaged: boolean;
  readonly isBroken: boolean;
  readonly isOutdated: boolean;
  readonly isStoreFailing: boolean;
  /** Whether all that was taken is stored and no copy is being brought over. */
  readonly isStored: boolean;
  /** Whether one is being brought over. */
  readonly isBringing: boolean;
  /** What the document is made of, about how large it is, and its generation. */
  readonly held: {
    readonly bytes: number;
    readonly updates: readonly Uint8Array[];
    readonly identity: Identity;
  };
  /** The rows of the store that hold it. */
  readonly seqs: readonly number[];
  readonly members: {
    readonly hasFollowers: boolean;
    /** Asks those whose edits were passed over for all they have. */
    askLacking(): void;
  };
  readonly peers: {
    readonly isShared: boolean;
    inTime(): Promise<boolean>;
    tell(kind: 'pausing' | 'going-on'): void;
    tellRenewed(generation: number): void;
  };
  endTurn(): void;
  /** Fulfils once everything received so far is on the disk: with false when it will never be. */
  stored(): Promise<boolean>;
  readonly doc: Y.Doc;
  /** Goes on with the next generation, as the store has it, and hands its people over by these frames. */
  handOver(stored: DocumentLog, frames: readonly Buffer[]): void;
  /** The generation has ended, and it is not known what its people hold. */
  onOutdated(): void;
}

export interface LiveRenewalsDeps {
  readonly store: Store;
  readonly work: Work;
  readonly clock: Clock;
  readonly log: Log;
  readonly metrics: Metrics;
  readonly limits: Pick<SyncLimits, 'renewBytes'>;
}

/** A room begins no two renewals within so long. */
const RENEWALS_APART_MS = 60_000;
/** After one that did not come about it waits so long; after one that found the document not worn only for that to grow, and a moment. */
const TRIES_APART_MS = 10_000;
const LOOKS_APART_MS = 1_000;
/** What is on its way to the disk, and the thread, have so long; then the document stays as it is. */
const PATIENCE_MS = 5_000;
/** Other nodes have so long to stop taking and to store what they took. */
const OTHERS_MS = 250;
/** A node that was told to pause and hears no more goes on after so long. */
const PAUSED_MS = 10_000;
/** Times that it is worked out anew because another node has stored something meanwhile. */
const MOST_TRIES = 3;
/** Who joins waits at most so long for a renewal that is under way. */
const NEWCOMER_MS = 2_000;

export class LiveRenewals {
  readonly #room: LiveRoom;
  readonly #deps: LiveRenewalsDeps;
  /** Bytes from which on it is worth looking whether the document is worn. */
  #dueBytes: number;
  /** Whether the document was worn when it was last looked at, or that could not be found out. */
  #isWorn = true;
  #notBefore = Number.NEGATIVE_INFINITY;
  /** Whether the room takes nothing for what is under way. */
  #isHolding = false;
  /** Fulfils when what is under way is over; null = nothing is. */
  #running: Promise<void> | null = null;
  /** The generation that another node has ended meanwhile; null = none. */
  #followDue: number | null = null;
  /** Ends the pause that another node has asked for; null = none did. */
  #endPause: (() => void) | null = null;

  constructor(room: LiveRoom, deps: LiveRenewalsDeps) {
    this.#room = room;
    this.#deps = deps;
    const { renewBytes } = deps.limits;
    this.#dueBytes =
      renewBytes === 0 || room.address.part !== 'design' ? Number.POSITIVE_INFINITY : renewBytes;
  }

  /** Whether the room takes nothing now. */
  get isPaused(): boolean {
    return this.#isHolding || this.#endPause !== null;
  }

  /** Whether a renewal is under way, so that the room must stay. */
  get isBusy(): boolean {
    return this.#running !== null;
  }

  /** The document has grown, or somebody joins: begins a renewal where one is due. */
  look(): void {
    const room = this.#room;
    if (room.held.bytes < this.#dueBytes || this.#running !== null || this.isPaused) return;
    if (this.#deps.clock.elapsed() < this.#notBefore || !room.members.hasFollowers) return;
    if (room.isStoreFailing || room.isDamaged || room.isOutdated || room.isBringing) return;
    this.#run('hand-over', () => this.#renew());
  }

  /** Whether a renewal is under way, after it was begun where one is due. */
  isBegun(): boolean {
    this.look();
    return this.isBusy;
  }

  /** Fulfils when nothing is under way; soon in any case. */
  async over(): Promise<void> {
    if (this.#running !== null) await atMost(this.#deps.clock, NEWCOMER_MS, this.#running);
  }

  /** Another node is about to renew the document. */
  pause(): void {
    this.#endPause?.();
    this.#endPause = this.#deps.clock.after(PAUSED_MS, () => this.goOn());
  }

  /** It does not. */
  goOn(): void {
    if (this.#endPause === null) return;
    this.#endPause();
    this.#endPause = null;
    unattended(this.#room, 'going-on', () => this.#room.members.askLacking());
  }

  /** Another node has renewed it: goes over as well, once what is under way is over. */
  follow(): void {
    if (this.#followDue !== null) return;
    this.#wait(RENEWALS_APART_MS);
    if (this.#running === null) {
      this.end();
      this.#run('follow', () => this.#follow());
      return;
    }
    this.#followDue = this.#room.held.identity.generation;
    if (!this.#isHolding) this.pause();
  }

  /** The room is over, or goes on with another generation. */
  end(): void {
    this.#endPause?.();
    this.#endPause = null;
  }

  #run(what: string, act: () => Promise<void>): void {
    let done = (): void => {};
    this.#running = new Promise((resolve) => {
      done = resolve;
    });
    unattended(this.#room, what, async () => {
      try {
        await act();
      } finally {
        this.#isHolding = false;
        this.#running = null;
        done();
        const isDue = this.#followDue === this.#room.held.identity.generation;
        this.#followDue = null;
        if (isDue && !this.#room.isBroken && !this.#room.isOutdated) this.follow();
      }
    });
  }

  #wait(ms: number): void {
    this.#notBefore = this.#deps.clock.elapsed() + ms;
  }

  async #renew(): Promise<void> {
    const room = this.#room;
    const { isShared } = room.peers;
    const { identity } = room.held;
    // It is looked at first, while all goes on.
    const looked = await this.#compacted();
    if (looked === null || looked.begun === null || room.isBroken || room.isOutdated || this.isPaused) {
      this.#wait(this.#isWorn ? TRIES_APART_MS : LOOKS_APART_MS);
      return;
    }
    this.#isHolding = true;
    if (isShared) room.peers.tell('pausing');
    const stored = await this.#begun();
    this.#wait(stored === null && room.held.identity === identity ? TRIES_APART_MS : RENEWALS_APART_MS);
    if (room.isBroken || room.isOutdated) return;
    if (stored !== null) this.#handOver(stored);
    else {
      if (isShared) room.peers.tell('going-on');
      this.#isHolding = false;
      room.members.askLacking();
    }
  }

  /** The next generation as the store has it; null where the present one goes on. */
  async #begun(): Promise<DocumentLog | null> {
    const room = this.#room;
    const { store, clock } = this.#deps;
    const { identity } = room.held;
    room.endTurn();
    await atMost(clock, PATIENCE_MS, room.stored());
    if (room.peers.isShared) {
      await pause(clock, OTHERS_MS);
      if (this.#followDue !== null || !(await room.peers.inTime())) return null;
    }
    for (let tries = 0; tries < MOST_TRIES; tries += 1) {
      if (!room.isStored || room.isStoreFailing || room.isBroken || room.isOutdated) return null;
      const seqs = [...room.seqs];
      const output = await this.#compacted();
      if (output === null || output.begun === null || room.isBroken) return null;
      const isDone = await storeRenewal(this.#deps, room.address, identity, { seqs, ...output.begun });
      if (isDone) room.peers.tellRenewed(identity.generation + 1);
      let stored: DocumentLog | null;
      try {
        // Also where it failed: whether it happened is not always known.
        stored = await readLog(store, room.address);
      } catch (cause) {
        if (!(cause instanceof StoreError)) throw cause;
        if (!room.isBroken) room.onOutdated();
        return null;
      }
      if (isDone && stored !== null) return stored;
      if (stored !== null && stored.identity.generation > identity.generation) {
        // By another node, which knew of rows that this one may not; or by this one, which was not told so.
        await this.#follow();
        return null;
      }
      if (!room.peers.isShared || !(await room.peers.inTime())) return null;
    }
    return null;
  }

  /** What would begin the next generation; null where that is not known in time. */
  async #compacted(): Promise<CompactOutput | null> {
    const { work, clock, log, limits } = this.#deps;
    const { name, held } = this.#room;
    const { bytes, updates, identity } = held;
    const { renewBytes } = limits;
    let output: CompactOutput | null = null;
    const working = work.run(COMPACT, { updates, identity, renewBytes }, bytes).then(
      (result) => {
        output = result;
      },
      (cause: Error) => log.warn('renewal-failed', { room: name, message: cause.message }),
    );
    await atMost(clock, PATIENCE_MS, working);
    this.#noteSize(bytes, output);
    return output;
  }

  /** Looks again when the document is so large that it may be worn, by more than it was overestimated. */
  #noteSize(estimate: number, output: CompactOutput | null): void {
    const { renewBytes } = this.#deps.limits;
    this.#isWorn = output === null || output.begun !== null;
    if (output === null) return;
    const { bytes, freshBytes } = output;
    const worn = Math.max(renewBytes, WORN_TIMES * freshBytes);
    this.#dueBytes = this.#isWorn ? worn : estimate + Math.max(worn - bytes, worn / 4);
  }

  /** What people hold beyond the ended generation is known by what the next one begins with alone. */
  #handOver(stored: DocumentLog): void {
    const room = this.#room;
    const [first, ...more] = stored.rows.map(({ bytes }) => bytes);
    const isNext = stored.fault === null && stored.identity.generation === room.held.identity.generation + 1;
    if (!isNext || first === undefined || !isBeginning(first)) {
      room.onOutdated();
      return;
    }
    const frames = [frameOf({ kind: 'renewed', state: first })];
    if (more.length > 0) frames.push(frameOf({ kind: 'update', update: Y.mergeUpdates(more) }));
    room.handOver(stored, frames);
  }

  async #follow(): Promise<void> {
    const room = this.#room;
    const { store } = this.#deps;
    const { generation, drawn } = room.held.identity;
    // What is not stored is not part of what the ended generation held.
    if (!room.isStored || room.isStoreFailing || room.isDamaged) return room.onOutdated();
    this.#isHolding = true;
    try {
      const last = await store.lastState(room.address, generation);
      const ended = (await store.endedGenerations(room.address)).find((one) => one.generation === generation);
      const stored = await readLog(store, room.address);
      if (room.isBroken || room.isOutdated) return;
      // A late copy that was brought over since is in the last state, and was not when the generation ended.
      const isKnown = last !== null && ended?.drawn === drawn && ended.version === 0;
      if (!isKnown || stored === null || !room.isStored) return room.onOutdated();
      // What its people may not have heard of.
      Y.applyUpdate(room.doc, inflateRawSync(last), room);
      room.endTurn();
      this.#handOver(stored);
    } catch (cause) {
      if (!(cause instanceof StoreError)) throw cause;
      if (!room.isBroken) room.onOutdated();
    }
  }
}
