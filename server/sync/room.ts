/**
 * One open document and the sockets in it.
 *
 * Invariants. The document holds every row of the store that was there when the room opened. Nothing is applied that
 * has not passed `checkUpdate`. What is applied goes, at the end of the event loop's turn, as one update to every socket
 * and to the saver; saved marks are answered by the saver alone.
 */
import * as Y from 'yjs';
import { CLOSE_CODES, type CloseReason, type NoticeCode } from '../../engine/document/index.ts';
import type { RelayMessage } from '../relay/index.ts';
import { type DocumentAddress, StoreError } from '../store/index.ts';
import { checkUpdate, isEmptyUpdate } from './check-update.ts';
import {
  decodePresence,
  encodePresence,
  noticeFrame,
  type PresenceEntry,
  presenceFrame,
  step1Frame,
  step2Frame,
  updateFrame,
} from './frames.ts';
import { bringCopyOver, packFormer, renewedState } from './generations.ts';
import { formerGenerationIn, generationOf, type Identity, identityUpdate } from './identity.ts';
import { PresenceBoard } from './presence-board.ts';
import type { ReceiveResult, RoomDeps, RoomMember } from './room-member.ts';
import { Saver } from './saver.ts';
import { StateCache } from './state-cache.ts';

/** Rows, or bytes since the last snapshot, after which the log is compacted while people are in the room. */
const COMPACT_ROWS = 500;
const COMPACT_BYTES = 1024 * 1024;
/** On closing it takes fewer. */
const COMPACT_ROWS_CLOSING = 20;
const EDIT_MS = 10_000;
/** Frames of edits are at least so far apart. */
const PACE_MS = 5;
const RELOAD_RETRY_MS = 1_000;

export class Room {
  readonly name: string;
  readonly address: DocumentAddress;
  readonly presence: PresenceBoard<RoomMember>;
  readonly members = new Set<RoomMember>();
  readonly #deps: RoomDeps;
  readonly #saver: Saver;
  #turnMarks: (() => void)[] = [];
  #turnTimer: NodeJS.Timeout | null = null;
  #lastTurnAt = performance.now() - 1_000;
  #turn: { readonly update: Uint8Array; readonly origin: unknown }[] = [];
  #isPresenceDirty = new Map<number, PresenceEntry>();
  readonly #cache = new StateCache();
  #size = 0;
  #logBytes = 0;
  #isCompacting = false;
  #isFull = false;
  #leaveRelay: (() => void) | null = null;
  #identity: Identity;
  /** Null while put aside; then the cache holds all of it. */
  #doc: Y.Doc | null = new Y.Doc();
  #isRenewing = false;
  #bringing: Promise<void> = Promise.resolve();
  #reloadsWanted = 0;
  #isDestroyed = false;

  constructor(name: string, address: DocumentAddress, deps: RoomDeps) {
    this.name = name;
    this.#identity = { name, generation: 1 };
    this.address = address;
    this.#deps = deps;
    this.presence = new PresenceBoard(deps.now, deps.limits.presenceBytes);
    this.#saver = new Saver(deps.store, address, {
      onSaved: (bytes) => this.#onSaved(bytes),
      onFailing: (error) => this.#onFailing(error),
      onRecovered: () => this.#onRecovered(),
      onLost: (error) => this.closeAll(error.kind === 'unknown-board' ? 'deleted' : 'restarted'),
    });
  }

  /** Reads the document from the store. Rejects as the store does. */
  async open(): Promise<void> {
    const { relay } = this.#deps;
    let early: RelayMessage[] | null = [];
    this.#leaveRelay = await relay.join(this.name, (message) => {
      if (early) early.push(message);
      else this.#hearRelay(message);
    });
    await this.#load();
    this.#identity = { name: this.name, generation: generationOf(this.doc, this.name) };
    Y.applyUpdate(this.doc, identityUpdate(this.#identity), this);
    this.#listen(this.doc);
    const messages = early;
    early = null;
    for (const message of messages) this.#hearRelay(message);
    if (relay.isShared) relay.send(this.name, { kind: 'present?', bytes: new Uint8Array(0) });
  }

  /** The document; made again from its encoded state when it was put aside. */
  get doc(): Y.Doc {
    if (this.#doc !== null) return this.#doc;
    const doc = new Y.Doc();
    if (this.#cache.current !== null) Y.applyUpdate(doc, this.#cache.current, this);
    this.#listen(doc);
    this.#doc = doc;
    this.#lastTurnAt = performance.now();
    return doc;
  }

  #listen(doc: Y.Doc): void {
    doc.on('update', (update: Uint8Array, origin: unknown) => {
      this.#turn.push({ update, origin });
      // A lone edit leaves at once. Where they come thick, what comes within a few ms leaves together.
      const waitMs = this.#lastTurnAt + PACE_MS - performance.now();
      if (waitMs <= 0) this.endTurn();
      else this.#turnTimer ??= setTimeout(() => this.endTurn(), waitMs);
    });
  }

  /** Keeps the encoded state alone, a small part of what the document takes, until somebody edits. */
  #putAside(doc: Y.Doc): void {
    if (this.#turn.length > 0 || !this.#saver.isIdle || doc.store.pendingStructs !== null) return;
    this.encodedState();
    doc.destroy();
    this.#doc = null;
  }

  async #load(): Promise<void> {
    const rows = await this.#deps.store.load(this.address);
    if (rows.length === 0 || this.#isDestroyed) return;
    const bytes = rows.length === 1 ? rows[0]!.bytes : Y.mergeUpdates(rows.map((row) => row.bytes));
    Y.applyUpdate(this.doc, bytes, this);
    const known = new Set(this.#saver.seqs);
    this.#saver.knows(rows.map((row) => row.seq).filter((seq) => !known.has(seq)));
    this.#size = Math.max(this.#size, bytes.length);
    this.#logBytes = rows.slice(1).reduce((sum, row) => sum + row.bytes.length, 0);
    if (this.doc.store.pendingStructs !== null || this.doc.store.pendingDs !== null)
      this.#deps.log.error('document-incomplete', { room: this.name, rows: rows.length });
  }

  /** Whether only the encoded state is kept, because nobody edits. */
  get isAside(): boolean {
    return this.#doc === null;
  }

  get isStoreFailing(): boolean {
    return this.#saver.isFailing || this.#isFull || this.#isRenewing;
  }

  get isSaved(): boolean {
    return this.#turn.length === 0 && this.#saver.isIdle;
  }

  /** Takes an update from a socket. Nothing is changed unless it is taken. */
  receive(update: Uint8Array, origin: RoomMember): ReceiveResult {
    const { limits, metrics } = this.#deps;
    if (isEmptyUpdate(update)) return 'taken';
    const check = checkUpdate(this.doc, this.#identity, update);
    if (check.kind === 'empty') return 'taken';
    if (check.kind === 'former') return check;
    if (check.kind === 'malformed' || check.kind === 'foreign')
      return { reason: 'malformed', message: check.message };
    if (this.isStoreFailing) return 'store-failing';
    if (check.kind === 'unmet') return 'unmet';
    if (this.#saver.unsavedBytes + update.length > limits.unsavedBytes) {
      this.#noteFull();
      return 'store-failing';
    }
    if (!this.hasRoomFor(update.length))
      return { reason: 'boardFull', message: `a document has at most ${limits.documentBytes} bytes` };
    const { store } = this.doc;
    // Of another node's edits some may wait for others that the relay lost; reading the store anew is under way then.
    const wasWaiting = store.pendingStructs !== null || store.pendingDs !== null;
    try {
      Y.applyUpdate(this.doc, update, origin);
    } catch (cause) {
      this.#deps.log.error('apply-failed', { room: this.name, message: (cause as Error).message });
      this.#deps.onBroken(this);
      return { reason: 'restarted', message: 'the document is read anew' };
    }
    metrics.count('larkboard_updates_total', 'Updates taken from sockets.');
    if (!wasWaiting && (store.pendingStructs !== null || store.pendingDs !== null)) {
      // Structs that wait for each other in a circle pass the check; Yjs sets them aside. They must not stay.
      store.pendingStructs = null;
      store.pendingDs = null;
      return { reason: 'malformed', message: 'structs build on each other in a circle' };
    }
    return 'taken';
  }

  /** Whether the document may grow by so many bytes. */
  hasRoomFor(bytes: number): boolean {
    const most = this.#deps.limits.documentBytes;
    if (this.#size + bytes > most) this.#size = this.encodedState().length;
    return this.#size + bytes <= most;
  }

  /** Reads what other nodes stored and the relay has not brought yet. @returns whether there are other nodes */
  async catchUp(): Promise<boolean> {
    if (this.#deps.relay.isShared) await this.reload();
    return this.#deps.relay.isShared;
  }

  /** Runs a change of the server's own as one edit. Fulfils once it is on the disk; rejects with a StoreError after 10 s. */
  async edit(change: (doc: Y.Doc) => void): Promise<void> {
    change(this.doc);
    this.endTurn();
    await new Promise<void>((resolve, reject) => {
      const timer = setTimeout(
        () => reject(new StoreError('unavailable', 'the edit could not be stored within ten seconds')),
        EDIT_MS,
      );
      this.#saver.whenSaved(() => {
        clearTimeout(timer);
        resolve();
      });
    });
  }

  /** Whether an update comes from a copy of a former generation. */
  isOfFormerGeneration(update: Uint8Array): boolean {
    return this.#identity.generation > 1 && checkUpdate(this.doc, this.#identity, update).kind === 'former';
  }

  /** The former generation that a client's state vector shows; null for a copy of the present one, or none. */
  formerGenerationIn(stateVector: Uint8Array): number | null {
    return formerGenerationIn(stateVector, this.#identity);
  }

  /**
   * Repeats on this document the edits that a copy of a former generation holds; see {@link bringCopyOver}. One copy at a
   * time.
   */
  bringOver(generation: number, copy: Uint8Array): Promise<string | null> {
    const { store, log } = this.#deps;
    const { name, address } = this;
    const former = { name, generation };
    const brought = this.#bringing.then(() =>
      bringCopyOver({ store, address, former, copy, edit: (change) => this.edit(change), log }),
    );
    this.#bringing = brought.then(
      () => {},
      () => {},
    );
    return brought;
  }

  /**
   * Begins a new generation where the document is large and most of it is its past. Nobody must be in the room.
   * @returns whether the room is of the past now and must be opened anew
   */
  async renew(): Promise<boolean> {
    const { limits, store, relay, log, metrics } = this.#deps;
    // Another node may have the document open and would go on writing the former generation.
    if (limits.renewBytes === 0 || this.address.part !== 'design' || relay.isShared) return false;
    const state = this.encodedState();
    const snapshot = state.length < limits.renewBytes ? null : renewedState(this.doc, this.#identity);
    if (snapshot === null || snapshot.length * 2 > state.length) return false;
    this.#isRenewing = true;
    const { generation } = this.#identity;
    try {
      const renewal = { seqs: this.#saver.seqs, snapshot, generation, former: packFormer(state) };
      const isDone = await store.renew(this.address, renewal);
      log.info('renewed', { room: this.name, isDone, generation, from: state.length, to: snapshot.length });
      if (isDone) metrics.count('larkboard_renewals_total', 'New generations of documents.');
    } catch (cause) {
      log.warn('renewal-failed', { room: this.name, message: (cause as Error).message });
    }
    // Also where it failed: whether it happened is not always known, and reading anew finds out.
    return true;
  }

  /** Calls once everything received so far is on the disk. */
  whenSaved(call: () => void): void {
    if (this.#turn.length > 0) this.#turnMarks.push(call);
    else this.#saver.whenSaved(call);
  }

  /** Sends and stores what came since the last time. */
  endTurn(): void {
    if (this.#turnTimer !== null) clearTimeout(this.#turnTimer);
    this.#turnTimer = null;
    if (this.#turn.length === 0) return;
    const turn = this.#turn;
    const marks = this.#turnMarks;
    this.#turn = [];
    this.#turnMarks = [];
    this.#lastTurnAt = performance.now();
    const update = turn.length === 1 ? turn[0]!.update : Y.mergeUpdates(turn.map((part) => part.update));
    const first = turn[0]!.origin;
    const author = turn.every((part) => part.origin === first) ? first : null;
    this.#size += update.length;
    this.#cache.add(update);
    // One socket's edits need not go back to it.
    // The author may be the server itself, who is not in the room.
    if (this.members.size > (this.members.has(author as RoomMember) ? 1 : 0)) {
      const frame = updateFrame(update);
      for (const member of this.members) if (member !== author) member.sendEdits(frame);
    }
    // What came from the store or from other nodes is stored already.
    if (author !== this) this.#saver.take(update);
    for (const call of marks) this.#saver.whenSaved(call);
  }

  /** The whole document as one update, encoded once for all who ask until it changes. */
  encodedState(): Uint8Array {
    this.endTurn();
    return this.#cache.stateOf(() => this.doc);
  }

  /** Frames that answer a step 1. */
  answerStep1(stateVector: Uint8Array): Buffer[] {
    const isNewcomer = stateVector.length === 1 && stateVector[0] === 0;
    if (!isNewcomer) return [step2Frame(Y.encodeStateAsUpdate(this.doc, stateVector))];
    this.endTurn();
    return this.#cache.framesFor(() => this.doc);
  }

  stateVector(): Uint8Array {
    const aside = this.#doc === null ? this.#cache.current : null;
    return aside === null ? Y.encodeStateVector(this.doc) : Y.encodeStateVectorFromUpdate(aside);
  }

  /** What a member that stopped reading at a state vector has missed. */
  missedSince(stateVector: Uint8Array): Buffer {
    this.endTurn();
    return updateFrame(Y.encodeStateAsUpdate(this.doc, stateVector));
  }

  join(member: RoomMember): void {
    this.members.add(member);
    member.send(step1Frame(this.stateVector()));
    const entries = this.presence.entries();
    if (entries.length > 0) member.send(presenceFrame(entries));
  }

  leave(member: RoomMember): void {
    if (!this.members.delete(member)) return;
    const entry = this.presence.leave(member);
    if (entry) this.showPresence(entry);
  }

  /** Tells everybody, together with what others show in the next moments. */
  showPresence(entry: PresenceEntry): void {
    this.#isPresenceDirty.set(entry.client, entry);
    this.#deps.onPresence(this);
  }

  /** Sends what was shown since the last time. The sender hears itself: stock clients take silence for a dead line. */
  sendPresence(): void {
    if (this.#isPresenceDirty.size === 0) return;
    const entries = [...this.#isPresenceDirty.values()];
    this.#isPresenceDirty = new Map();
    const frame = presenceFrame(entries);
    for (const member of this.members) member.sendPresence(frame);
    const { relay } = this.#deps;
    if (!relay.isShared) return;
    const own = entries.filter(
      (entry) => this.presence.ownerOf(entry.client) !== null || entry.state === 'null',
    );
    if (own.length > 0) relay.send(this.name, { kind: 'presence', bytes: encodePresence(own) });
  }

  /** Says a state of the room to the people in it. */
  notify(code: NoticeCode): void {
    const frame = noticeFrame(code);
    for (const member of this.members) member.sendNotice(frame);
  }

  /** Puts everybody out. */
  closeAll(reason: CloseReason): void {
    for (const member of [...this.members]) member.close(reason, `code ${CLOSE_CODES[reason]}`);
  }

  /** Called every few seconds. */
  tick(): void {
    for (const entry of this.presence.expire()) this.showPresence(entry);
    if (this.#doc !== null && performance.now() - this.#lastTurnAt > this.#deps.limits.asideMs)
      this.#putAside(this.#doc);
  }

  /**
   * Stores what is left and writes a snapshot where the log has grown. The room may be used again meanwhile.
   * @returns false when something could not be stored yet
   */
  async settle(): Promise<boolean> {
    this.endTurn();
    await new Promise<void>((resolve) => {
      if (this.#saver.isFailing) resolve();
      else this.#saver.whenSaved(resolve);
      if (this.#saver.isIdle) resolve();
    });
    if (!this.#saver.isIdle) return false;
    if (this.#saver.seqs.length >= COMPACT_ROWS_CLOSING) await this.#compact();
    return this.isSaved;
  }

  /** Lets go of everything. */
  destroy(): void {
    this.sendPresence();
    this.#isDestroyed = true;
    if (this.#turnTimer !== null) clearTimeout(this.#turnTimer);
    this.#leaveRelay?.();
    this.#saver.abandon();
    this.#doc?.destroy();
  }

  /** Reads the store again, because messages of other nodes may have been lost. Tries until it could. */
  async reload(): Promise<void> {
    // A reading under way may have begun before what this call is about was stored.
    this.#reloadsWanted += 1;
    if (this.#reloadsWanted > 1) return;
    while (this.#reloadsWanted > 0 && !this.#isDestroyed) {
      const answered = this.#reloadsWanted;
      try {
        await this.#load();
        this.#reloadsWanted -= answered;
      } catch (cause) {
        this.#deps.log.warn('reload-failed', { room: this.name, message: (cause as Error).message });
        await new Promise((resolve) => setTimeout(resolve, RELOAD_RETRY_MS));
      }
    }
  }

  #hearRelay(message: RelayMessage): void {
    const { relay } = this.#deps;
    switch (message.kind) {
      case 'update':
        Y.applyUpdate(this.doc, message.bytes, this);
        if (this.doc.store.pendingStructs !== null || this.doc.store.pendingDs !== null) void this.reload();
        return;
      case 'presence':
        for (const entry of decodePresence(message.bytes))
          if (this.presence.hearRemote(entry)) {
            this.#isPresenceDirty.set(entry.client, entry);
            this.#deps.onPresence(this);
          }
        return;
      case 'present?': {
        const own = this.presence.entries('own');
        if (own.length > 0) relay.send(this.name, { kind: 'presence', bytes: encodePresence(own) });
        return;
      }
      case 'reload':
        void this.reload();
        return;
      case 'removed':
        this.closeAll('deleted');
    }
  }

  #onSaved(bytes: Uint8Array): void {
    this.#logBytes += bytes.length;
    if (this.#isFull && this.#saver.unsavedBytes < this.#deps.limits.unsavedBytes / 2) this.#onRecovered();
    if (this.#deps.relay.isShared) this.#deps.relay.send(this.name, { kind: 'update', bytes });
    if (this.#saver.seqs.length > COMPACT_ROWS || this.#logBytes > Math.max(COMPACT_BYTES, this.#size))
      void this.#compact();
  }

  async #compact(): Promise<void> {
    if (this.#isCompacting) return;
    this.#isCompacting = true;
    const snapshot = this.encodedState();
    this.#size = snapshot.length;
    this.#logBytes = 0;
    try {
      await this.#saver.compact(snapshot);
      this.#deps.metrics.count('larkboard_compactions_total', 'Logs replaced by a snapshot.');
    } catch (cause) {
      // The log stays as it is, complete; the next occasion tries again.
      this.#deps.log.warn('compaction-failed', { room: this.name, message: (cause as Error).message });
    } finally {
      this.#isCompacting = false;
    }
  }

  #noteFull(): void {
    if (this.#isFull) return;
    this.#isFull = true;
    this.#deps.log.warn('store-behind', { room: this.name, unsavedBytes: this.#saver.unsavedBytes });
    this.notify('store-read-only');
  }

  #onFailing(error: StoreError): void {
    this.#deps.log.error('store-failing', { room: this.name, kind: error.kind, message: error.message });
    this.#deps.metrics.count('larkboard_store_failures_total', 'Times a room lost its store.', {
      kind: error.kind,
    });
    this.notify('store-read-only');
  }

  #onRecovered(): void {
    this.#isFull = false;
    this.#deps.log.info('store-recovered', { room: this.name });
    this.notify('store-ok');
    for (const member of this.members) if (member.canWrite) member.askForAll();
  }
}
