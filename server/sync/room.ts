/**
 * One open document (`live-document.ts`), those who are in it (`members.ts`), and the turn in which edits are gathered (`turn.ts`). How edits come to the
 * disk is in `storing.ts`, what other nodes say in `peers.ts`.
 *
 * Invariants. The document holds every row of the store that was there when the room opened. Nothing is applied that
 * has not passed `checkUpdate`. What is applied goes, at the end of the event loop's turn, as one update to every socket
 * and to the saver; saved marks are answered by the saver alone.
 */
import * as Y from 'yjs';
import type { CloseReason } from '../../engine/document/index.ts';
import { type BoardRecord, type DocumentAddress, StoreError } from '../store/index.ts';
import { faultFields, unattended } from '../unattended.ts';
import { isEmptyUpdate } from './check-update.ts';
import type { Deletions } from './freed-bytes.ts';
import { clientOf, isSameGeneration } from './identity.ts';
import { type FittingUpdate, isFitting, judgeUpdate } from './judge-update.ts';
import { LiveDocument } from './live-document.ts';
import { type DocumentLog, readLog } from './log-rows.ts';
import { Members } from './members.ts';
import { frameOf } from './messages.ts';
import { Peers } from './peers.ts';
import { LateCopies, LiveRenewals, renew } from './renewal/index.ts';
import type { ReadingResult } from './rereading.ts';
import type { Guard, RoomDeps } from './room-deps.ts';
import type { ReceiveResult, RoomMember } from './room-member.ts';
import { Signing } from './signing.ts';
import { Storing } from './storing.ts';
import { Turn } from './turn.ts';
import type { UnsavedShare } from './unsaved.ts';

export class Room {
  readonly name: string;
  readonly address: DocumentAddress;
  readonly members: Members;
  /** The board, once somebody came in by it; null again when it is gone. */
  record: BoardRecord | null = null;
  /** Whether the board was deleted: nobody comes in any more. */
  isGone = false;
  /** Other nodes that have the document open. */
  readonly peers: Peers;
  /** Renewal while people are there. */
  readonly renewals: LiveRenewals;
  readonly #deps: RoomDeps<Room>;
  readonly #signing: Signing;
  #storing: Storing;
  #turnMarks: (() => void)[] = [];
  /** What must be on the disk before the edits of the turn. */
  #turnGuards: Guard[] = [];
  readonly #turn: Turn;
  #live: LiveDocument;
  #copies: LateCopies | null = null;
  #leaveRelay: (() => void) | null = null;
  #isRenewing = false;
  #isOutdated = false;
  #isDestroyed = false;
  #isBroken = false;

  constructor(name: string, address: DocumentAddress, deps: RoomDeps<Room>) {
    this.name = name;
    this.address = address;
    this.#deps = deps;
    this.#turn = new Turn(this, deps.clock);
    this.#live = new LiveDocument(name, this);
    this.members = new Members(this, deps.clock.now, deps.limits.presenceBytes);
    this.peers = new Peers(this, deps.relay, deps.clock);
    this.#storing = new Storing(this, deps);
    this.#signing = new Signing(this, deps.clock.now);
    this.renewals = new LiveRenewals(this, deps);
  }

  /** An edit is about to be in the document. */
  coming({ effect }: FittingUpdate, origin: unknown, isOwn: boolean): void {
    const by = this.members.has(origin) ? (origin.personId ?? origin) : this.#signing.person;
    const guard = this.#deps.watch?.coming(this, { effect, by, isStored: origin === this, isOwn });
    if (guard) this.#turnGuards.push(guard);
  }

  /** It is. */
  came(update: Uint8Array, origin: unknown, check: FittingUpdate): void {
    // First: what is added may end the turn at once.
    if (origin !== this) this.#signing.note(origin, check);
    this.#turn.add(update, origin);
    if (this.members.has(origin)) origin.wrote(update.length);
  }

  /** Something was shown to all who are here. */
  onShown(): void {
    this.#deps.onPresence(this);
  }

  /** Reads the document from the store. Rejects as the store does. */
  async open(): Promise<void> {
    this.#leaveRelay = await this.peers.join();
    const { store, recent } = this.#deps;
    const stored = await readLog(store, this.address, recent);
    this.#live.open(stored);
    if (stored !== null) this.#storing.note(stored);
    this.peers.open();
  }

  /** The document. Reading it costs memory until the room is quiet again. */
  get doc(): Y.Doc {
    return this.#sound('document', () => this.#live.doc);
  }

  /** Made with the first: most rooms never see a copy of another generation. */
  get copies(): LateCopies {
    const { watch } = this.#deps;
    this.#copies ??= new LateCopies(this, {
      ...this.#deps,
      keep: watch ? (copy) => watch.leftOver(this, copy) : null,
      before: async () => watch?.beforeBringing(this),
    });
    return this.#copies;
  }

  /** Whether some of the log cannot be read: what can be is shown, and nothing is taken. */
  get isDamaged(): boolean {
    return this.#storing.fault !== null;
  }

  /** Whether the room was given up: it takes and answers nothing more. */
  get isBroken(): boolean {
    return this.#isBroken;
  }

  /**
   * Gives the room up at once, its Y.Doc with it: what failed may have been done by half. What was not stored is not called saved;
   * whoever comes next opens the document anew from the store.
   */
  broke(what: string, cause: unknown): void {
    if (this.#isBroken || this.#isDestroyed) {
      this.#deps.log.warn('room-broken-again', { room: this.name, what, ...faultFields(cause) });
      return;
    }
    this.#isBroken = true;
    this.#deps.log.error('room-broken', { room: this.name, what, ...faultFields(cause) });
    this.#deps.metrics.count('larkboard_broken_rooms_total', 'Rooms given up because of a fault.', { what });
    this.#turn.stop();
    this.#turnMarks = [];
    this.#turnGuards = [];
    this.#storing.abandon();
    this.#deps.onBroken(this);
  }

  /** Runs what may not be left half done: when it fails the room is given up, and the caller told to come again. */
  #sound<T>(what: string, act: () => T): T {
    if (this.#isBroken) throw new StoreError('unavailable', 'the document is read anew');
    try {
      return act();
    } catch (cause) {
      this.broke(what, cause);
      throw new StoreError('unavailable', 'the document is read anew', { cause });
    }
  }

  /** The document's state vector, encoded. */
  stateVector(): Uint8Array {
    return this.#live.vector();
  }

  get generation(): number {
    return this.#live.identity.generation;
  }

  /** About how large the document is, what it is made of, and of which generation, for who reads it elsewhere. */
  get held(): Pick<LiveDocument, 'bytes' | 'updates' | 'identity'> {
    return this.#live;
  }

  /** Whether only the encoded state is kept, because nobody edits. */
  get isAside(): boolean {
    return this.#live.isAside;
  }

  get isStoreFailing(): boolean {
    return this.#storing.isFailing || this.#isRenewing || this.#isBroken;
  }

  /** Whether nothing is taken now: it could not be stored, or the next generation begins. */
  get takesNothing(): boolean {
    return this.isStoreFailing || this.renewals.isPaused;
  }

  get unsaved(): UnsavedShare {
    return this.#storing.unsaved;
  }

  /** Whether all that was taken is stored, no copy is being brought over and no generation begun: whether it may be let go of. */
  get isSaved(): boolean {
    return this.#isBroken || (this.isStored && !this.renewals.isBusy);
  }

  /** Whether all that was taken is stored, and no copy is being brought over. */
  get isStored(): boolean {
    return this.#turn.isEmpty && this.#storing.isIdle && !this.isBringing;
  }

  get isBringing(): boolean {
    return this.#copies?.isBusy === true;
  }

  /** Rows of the store that the document holds for sure. */
  get seqs(): readonly number[] {
    return this.#storing.seqs;
  }

  /**
   * Takes an update from a socket. Nothing is changed unless it is taken.
   * @param isComplete whether it answers a step 1, so that most of it may be known
   * @param isTried whether its steps were counted, and are few
   */
  receive(update: Uint8Array, origin: RoomMember, isComplete: boolean, isTried = false): ReceiveResult {
    const { limits, metrics } = this.#deps;
    if (isEmptyUpdate(update)) return 'taken';
    const arriving = { check: this.#live.check(update), bytes: update.length, isComplete };
    const check = judgeUpdate(arriving, origin, limits, this);
    if (!isFitting(check)) return check;
    if (!isTried && this.#live.isCostly(check, limits.steps)) return 'costly';
    try {
      if (this.#live.take(update, check, isComplete, origin) === 'circle')
        return { reason: 'malformed', message: 'structs build on each other in a circle' };
    } catch (cause) {
      this.broke('apply', cause);
      return { reason: 'restarted', message: 'the document is read anew' };
    }
    if (isTried) this.#live.wasCounted();
    origin.newClients += check.placing.clients;
    metrics.count('larkboard_updates_total', 'Updates taken from sockets.');
    return 'taken';
  }

  /** Takes an update that was found to be costly, if it is not, tried in a thread. */
  async receiveTried(update: Uint8Array, origin: RoomMember, isComplete: boolean): Promise<ReceiveResult> {
    const live = this.#live;
    const outcome = await this.#deps.trials.try([...live.updates, update]);
    // Of a generation that has ended: whoever sent it has it in hand.
    if (live !== this.#live) return 'store-failing';
    if (outcome === 'too-much') return { reason: 'tooLarge', message: 'an edit takes too many steps' };
    // Who was put out meanwhile changes nothing any more.
    if (outcome === 'unknown' || !this.members.has(origin))
      return { reason: 'busy', message: 'an edit could not be tried' };
    return this.receive(update, origin, isComplete, true);
  }

  /** Whether the document may grow by so many bytes, less what goes with these deletions, to so many times its limit. */
  hasRoomFor(bytes: number, times = 1, deletions: Deletions = new Map()): boolean {
    // The size is an estimate that only grows; it is looked at closely before anybody is turned away.
    const over = bytes - this.#deps.limits.documentBytes * times;
    return this.#live.bytes + over <= 0 || this.#live.frees(deletions, this.encodedState(true).length + over);
  }

  /**
   * Fulfils once the document holds all that any node had stored before this call; rejects with a StoreError where that takes 10 s.
   * @returns whether there are other nodes
   */
  async catchUp(): Promise<boolean> {
    const { isShared } = this.peers;
    if (isShared && !(await this.peers.inTime()))
      throw new StoreError('unavailable', 'what other nodes stored cannot be read now');
    return isShared;
  }

  /**
   * Runs a change of the server's own as one edit. Fulfils once it is on the disk; rejects with a StoreError after 10 s.
   * @param personId who asked for it
   */
  async edit(change: (doc: Y.Doc) => void, personId: string | null = null): Promise<void> {
    this.unsaved.requireRoom();
    await this.renewals.over();
    const { fault } = this.#storing;
    if (fault !== null)
      throw new StoreError('damaged', `the log of ${this.name} cannot be read whole: ${fault}`);
    this.endTurn();
    this.#sound('edit', () => {
      this.#turn.together(() => this.#signing.runFor(personId, () => change(this.doc)));
      this.endTurn();
    });
    await this.#storing.savedInTime();
  }

  /** Takes an edit that was worked out beside the room, on a state that it had, and is on the disk. */
  tookOver(seq: number, update: Uint8Array): void {
    // Whoever opened the document meanwhile may have read it before.
    if (this.#isBroken || this.#isDestroyed) this.#deps.readAnew(this.name);
    else
      this.#sound('take-over', () => {
        this.endTurn();
        this.#storing.knows([seq]);
        if (!this.takeStored(update)) throw new Error('what was brought over does not fit');
        this.endTurn();
        this.#deps.watch?.edited(this);
        this.#storing.onSaved(update);
      });
  }

  /** Says who wrote a row that is stored beside the room. */
  signedBy(member: RoomMember): string {
    return this.#signing.textOf(member);
  }

  /** Whether an update comes from a copy of another generation. */
  isOfOtherGeneration(update: Uint8Array): boolean {
    return this.#live.check(update).kind === 'other-generation';
  }

  /** Whether a state vector shows a copy of the present generation. */
  isPresentIn(held: ReadonlyMap<number, number>): boolean {
    return held.has(clientOf(this.#live.identity));
  }

  /** Begins a new generation where that is due. Nobody must be in the room. @returns whether the room is over and must be opened anew */
  renew(): Promise<boolean> {
    return renew(this, this.#deps);
  }

  /** Takes nothing from now on, because a new generation begins. @returns the rows of the store that hold the document */
  stopTaking(): readonly number[] {
    this.#isRenewing = true;
    return this.#storing.seqs;
  }

  /** Goes on with the next generation, as the store has it, and hands people over by these frames. */
  handOver(stored: DocumentLog, frames: readonly Buffer[]): void {
    this.#sound('hand-over', () => {
      this.endTurn();
      this.#live.destroy();
      this.#storing.abandon();
      this.#copies = null;
      this.#live = new LiveDocument(this.name, this);
      this.#storing = new Storing(this, this.#deps);
      this.#live.open(stored);
      this.#storing.note(stored);
      this.#deps.watch?.renewed?.(this);
      this.members.handOver(frames);
      this.peers.wentOver();
    });
    this.renewals.end();
  }

  /** Whether another node has begun a new generation. */
  get isOutdated(): boolean {
    return this.#isOutdated;
  }

  /** Calls once everything received so far is on the disk. */
  whenSaved(call: () => void): void {
    if (this.#isBroken) return;
    if (!this.#turn.isEmpty) this.#turnMarks.push(call);
    else this.#storing.whenSaved(call);
  }

  /** Fulfils once everything received so far is on the disk: with false when it will never be. */
  stored(): Promise<boolean> {
    return new Promise((resolve) => {
      const forget = this.#storing.whenLost(() => resolve(false));
      this.whenSaved(() => {
        forget();
        resolve(true);
      });
    });
  }

  /** Sends and stores what came since the last time. */
  endTurn(): void {
    if (this.#isBroken) return;
    const turn = this.#turn.end();
    if (turn === null) return;
    const { update, author } = turn;
    const marks = this.#turnMarks;
    const guards = this.#turnGuards;
    if (marks.length > 0) this.#turnMarks = [];
    if (guards.length > 0) this.#turnGuards = [];
    this.members.sendEdits(update, author);
    // What came from the store or from other nodes is stored already.
    if (author !== this) this.#storing.take(update, this.#signing.take(), guards);
    if (author !== this) this.#deps.watch?.edited(this);
    this.renewals.look();
    for (const call of marks) this.#storing.whenSaved(call);
  }

  /** The whole document as one update, encoded once until it changes. */
  encodedState(isFolded = false): Uint8Array {
    return this.#sound('encode', () => {
      this.endTurn();
      return this.#live.encoded(isFolded);
    });
  }

  /** Frames that answer a step 1. */
  answerStep1(stateVector: Uint8Array): Buffer[] {
    const isNewcomer = stateVector.length === 1 && stateVector[0] === 0;
    if (!isNewcomer) return [frameOf({ kind: 'step2', update: this.#live.beyond(stateVector) })];
    this.endTurn();
    return this.#live.framesForNewcomer();
  }

  /** What a member that stopped reading at a state vector has missed. */
  missedSince(stateVector: Uint8Array): Buffer {
    this.endTurn();
    return frameOf({ kind: 'update', update: this.#live.beyond(stateVector) });
  }

  /** Puts everybody out. */
  closeAll(reason: CloseReason): void {
    this.isGone ||= reason === 'deleted';
    if (this.isGone) this.record = null;
    this.members.closeAll(reason);
  }

  /** Rows have gone to the past of the document. */
  onPast(): void {
    this.#deps.onPast?.(this);
  }

  /** Called every few seconds. */
  tick(): void {
    this.members.expire();
    this.#signing.tick();
    this.renewals.look();
    if (this.#deps.clock.elapsed() - this.#turn.endedAt <= this.#deps.limits.asideMs) return;
    if (this.isSaved) this.#live.putAside();
  }

  /** Stores what is left and compacts the log where it has grown; the room may be used again meanwhile. False = not all is stored yet. */
  settle(): Promise<boolean> {
    this.endTurn();
    return this.#storing.settle(() => this.isSaved);
  }

  /** Lets go of everything. */
  destroy(): void {
    this.#isDestroyed = true;
    this.renewals.end();
    this.peers.end();
    unattended(this, 'goodbye', () => this.members.sendShown());
    this.#turn.stop();
    this.#leaveRelay?.();
    this.#storing.abandon();
    this.#live.destroy();
  }

  /** Reads the store again, because messages of other nodes may have been lost. Tries until it could, or the room is over. */
  reload(): Promise<void> {
    return this.peers.reload();
  }

  /** Reads the log and applies it, once; never rejects. */
  async reread(): Promise<ReadingResult> {
    const { rereading, store } = this.#deps;
    try {
      const stored = await rereading.run(async () =>
        this.#isDestroyed ? null : readLog(store, this.address),
      );
      if (this.#isDestroyed || stored === null) return this.#isDestroyed ? 'over' : 'applied';
      const isNewlyDamaged = stored.fault !== null && this.#storing.fault === null;
      if (!isSameGeneration(stored.identity, this.#live.identity)) {
        if (this.renewals.isBusy || stored.identity.generation !== this.generation + 1) this.onOutdated();
        else {
          this.renewals.follow();
          // Read again when the room has gone over.
          return 'failed';
        }
      }
      // Read anew it shows what can be read, and takes no more.
      else if (isNewlyDamaged) this.#deps.onBroken(this);
      else {
        Y.applyUpdate(this.doc, stored.update, this);
        this.#storing.note(stored);
        return 'applied';
      }
    } catch (cause) {
      if (cause instanceof StoreError && !this.#isBroken) {
        this.#deps.log.warn('reload-failed', { room: this.name, message: cause.message });
        return 'failed';
      }
      this.broke('reload', cause);
    }
    return 'over';
  }

  /** Takes what another node has stored. @returns false when it does not fit, so that the store has to be read */
  takeStored(update: Uint8Array): boolean {
    const check = this.#live.check(update);
    if (check.kind === 'fits') this.#live.take(update, check, false, this);
    return check.kind === 'fits' || check.kind === 'empty';
  }

  /** Another node has begun a new generation. Who is here joins that, with a copy whose edits are brought over. */
  onOutdated(): void {
    this.#isOutdated = true;
    this.#deps.log.info('renewed-elsewhere', { room: this.name, generation: this.generation });
    this.#deps.onBroken(this);
  }
}
