/**
 * How the edits of a room come to the disk: the saver that brings them there, the log that they make, how much may wait, and what the room's people
 * are told when it fails. What is stored in which order is the saver's.
 */
import type { NoticeCode } from '../../engine/document/index.ts';
import { type DocumentAddress, keepsPast, type StoreError } from '../store/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { LogKeeper } from './log-keeper.ts';
import type { DocumentLog } from './log-rows.ts';
import type { Guard, RoomDeps } from './room-deps.ts';
import { Saver, type SaverOwner } from './saver.ts';
import { type UnsavedOwner, UnsavedShare } from './unsaved.ts';
import type { WrittenBy } from './written-by.ts';

/** The room whose edits these are. */
export interface StoringRoom extends Answerable {
  readonly name: string;
  readonly address: DocumentAddress;
  readonly generation: number;
  /** About how large its document is. */
  readonly held: { readonly bytes: number };
  readonly members: { notify(code: NoticeCode): void; askForAll(): void };
  readonly peers: { tellStored(bytes: Uint8Array): void };
  encodedState(): Uint8Array;
  closeAll(reason: 'deleted' | 'restarted'): void;
  /** Another node has begun a new generation. */
  onOutdated(): void;
  /** Rows have gone to the past. */
  onPast(): void;
}

type Deps = Pick<RoomDeps<never>, 'store' | 'clock' | 'log' | 'metrics' | 'unsaved' | 'limits'>;

export class Storing implements SaverOwner, UnsavedOwner {
  readonly unsaved: UnsavedShare;
  readonly #room: StoringRoom;
  readonly #deps: Deps;
  readonly #saver: Saver;
  readonly #log: LogKeeper;

  constructor(room: StoringRoom, deps: Deps) {
    this.#room = room;
    this.#deps = deps;
    this.unsaved = new UnsavedShare(deps, this);
    this.#saver = new Saver(deps.store, room.address, this, deps.clock);
    this.#log = new LogKeeper(room.name, deps, this.#saver);
  }

  get name(): string {
    return this.#room.name;
  }

  get generation(): number {
    return this.#room.generation;
  }

  /** Whether nothing is stored now, because the store does not take it, too much waits or the log is damaged. */
  get isFailing(): boolean {
    return this.#saver.isFailing || this.unsaved.isFull || this.#log.fault !== null;
  }

  /** Why some of the log cannot be read; then nothing is taken and nothing on the disk is touched. */
  get fault(): string | null {
    return this.#log.fault;
  }

  get isIdle(): boolean {
    return this.#saver.isIdle;
  }

  /** Rows of the log that the document in memory holds for sure. */
  get seqs(): readonly number[] {
    return this.#saver.seqs;
  }

  /** The document holds this log now. */
  note(log: DocumentLog): void {
    this.#log.note(log);
  }

  /** Notes rows that were written beside the room. */
  knows(seqs: readonly number[]): void {
    this.#saver.knows(seqs);
  }

  /**
   * @param by     who wrote it
   * @param guards what must be on the disk before it
   */
  take(update: Uint8Array, by: WrittenBy | null, guards: readonly Guard[]): void {
    this.#saver.take(update, by, guards);
  }

  /** Calls once everything taken so far is on the disk; at once when it is. */
  whenSaved(call: () => void): void {
    this.#saver.whenSaved(call);
  }

  /** Calls once nothing more will be stored; at once when that is so. @returns forgets the call */
  whenLost(call: () => void): () => void {
    return this.#saver.whenLost(call);
  }

  /** Fulfils once everything taken so far is on the disk. Rejects with a StoreError after 10 s. */
  savedInTime(): Promise<void> {
    return this.#saver.inTime(new Promise<void>((resolve) => this.#saver.whenSaved(resolve)));
  }

  /** Stops trying. What is not stored stays so. */
  abandon(): void {
    this.#saver.abandon();
  }

  /**
   * Stores what is left and compacts the log where it has grown; more may be taken meanwhile.
   * @param isSaved whether nothing has come meanwhile
   * @returns false when not all is stored yet
   */
  async settle(isSaved: () => boolean): Promise<boolean> {
    let forget = (): void => {};
    await new Promise<void>((resolve) => {
      forget = this.#saver.whenLost(resolve);
      if (this.#saver.isFailing) resolve();
      else this.#saver.whenSaved(resolve);
      if (this.#saver.isIdle) resolve();
    });
    forget();
    if (!this.#saver.isIdle) return false;
    if (this.#log.isLong(null)) await this.#compact();
    return isSaved();
  }

  onSaved(bytes: Uint8Array): void {
    this.#log.grow(bytes.length);
    this.#room.peers.tellStored(bytes);
    if (this.#log.isLong(this.#room.held.bytes)) unattended(this.#room, 'compact', () => this.#compact());
  }

  onUnsaved(isFull: boolean): void {
    if (isFull) this.#room.members.notify('store-read-only');
    // While the store fails the room says so when that is over.
    else if (!this.#saver.isFailing) this.onRecovered();
  }

  onFailing(error: StoreError): void {
    const { log, metrics } = this.#deps;
    log.error('store-failing', { room: this.name, kind: error.kind, message: error.message });
    metrics.count('larkboard_store_failures_total', 'Times a room lost its store.', { kind: error.kind });
    this.#room.members.notify('store-read-only');
  }

  onRecovered(): void {
    this.unsaved.reopen();
    this.#deps.log.info('store-recovered', { room: this.name });
    this.#room.members.notify('store-ok');
    this.#room.members.askForAll();
  }

  onLost(error: StoreError): void {
    if (error.kind === 'outdated') this.#room.onOutdated();
    else this.#room.closeAll(error.kind === 'unknown-board' ? 'deleted' : 'restarted');
  }

  broke(what: string, cause: unknown): void {
    this.#room.broke(what, cause);
  }

  async #compact(): Promise<void> {
    await this.#log.compact(() => this.#room.encodedState());
    if (keepsPast(this.#room.address.part)) this.#room.onPast();
  }
}
