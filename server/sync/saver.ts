/**
 * Brings a room's updates to the store, in order, one append at a time; what gathers meanwhile goes as one row.
 *
 * Order matters: an edit may build on the one before, so a later one is never stored while an earlier one failed. After a
 * failure the same bytes are tried again (a repeated update does no harm), and the saver calls itself failing
 * until they are in.
 */
import * as Y from 'yjs';
import type { Clock } from '../clock.ts';
import { type DocumentAddress, type Store, StoreError } from '../store/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import type { WrittenBy } from './written-by.ts';

/** Who hears how it goes, and answers for what goes wrong beyond that. */
export interface SaverOwner extends Answerable {
  /** Number of the generation whose edits these are. */
  readonly generation: number;
  /** Hears how many bytes more wait for the disk, or less. */
  readonly unsaved: { add(bytes: number): void };
  /** Updates are on the disk. */
  onSaved(bytes: Uint8Array): void;
  /** The store does not take edits now. */
  onFailing(error: StoreError): void;
  /** It does again. */
  onRecovered(): void;
  /** The board or its generation is gone, or the store is closed: nothing will be stored any more. */
  onLost(error: StoreError): void;
}

const EDIT_MS = 10_000;

const RETRY_FROM_MS = 200;
const RETRY_TO_MS = 5_000;

export class Saver {
  readonly #store: Store;
  readonly #address: DocumentAddress;
  readonly #owner: SaverOwner;
  readonly #clock: Clock;
  #waiting: Uint8Array[] = [];
  /** Who wrote what waits. */
  #waitingBy: WrittenBy | null = null;
  #waitingBytes = 0;
  #inFlightBytes = 0;
  #toldBytes = 0;
  #isAppending = false;
  #isFailing = false;
  #isLost = false;
  #taken = 0;
  #saved = 0;
  #retryMs = RETRY_FROM_MS;
  /** Takes back the next try. */
  #forget: (() => void) | null = null;
  readonly #seqs: number[] = [];
  /** Made when somebody waits; a quiet room has none. */
  #whenLost: Set<() => void> | null = null;
  readonly #marks: { readonly at: number; readonly call: () => void }[] = [];

  constructor(store: Store, address: DocumentAddress, owner: SaverOwner, clock: Clock) {
    this.#store = store;
    this.#address = address;
    this.#owner = owner;
    this.#clock = clock;
  }

  /** Rows of the log that the document in memory holds for sure. */
  get seqs(): readonly number[] {
    return this.#seqs;
  }

  get unsavedBytes(): number {
    return this.#waitingBytes + this.#inFlightBytes;
  }

  get isFailing(): boolean {
    return this.#isFailing;
  }

  get isIdle(): boolean {
    return this.#saved === this.#taken || this.#isLost;
  }

  /** Notes rows that were loaded. */
  knows(seqs: readonly number[]): void {
    for (const seq of seqs) this.#seqs.push(seq);
  }

  /** @param by who wrote it; null = nobody says */
  take(update: Uint8Array, by: WrittenBy | null = null): void {
    if (this.#isLost) {
      // Never stored, and so never called saved.
      this.#taken += 1;
      return;
    }
    this.#waiting.push(update);
    this.#sign(by);
    this.#waitingBytes += update.length;
    this.#taken += 1;
    this.#tellUnsaved();
    if (!this.#isAppending && !this.#isFailing) this.#begin();
  }

  /** Calls once everything taken so far is on the disk; at once when it is. */
  whenSaved(call: () => void): void {
    if (this.#saved === this.#taken) call();
    else if (!this.#isLost) this.#marks.push({ at: this.#taken, call });
  }

  /** Waits for an edit of the server's own. Rejects with a StoreError after 10 s. */
  async inTime(stored: Promise<void>): Promise<void> {
    let forget = (): void => {};
    const late = new Promise<never>((_, reject) => {
      forget = this.#clock.after(EDIT_MS, () =>
        reject(new StoreError('unavailable', 'the edit could not be stored within ten seconds')),
      );
    });
    try {
      await Promise.race([stored, late]);
    } finally {
      forget();
    }
  }

  /** Calls once nothing more will be stored; at once when that is so. @returns forgets the call */
  whenLost(call: () => void): () => void {
    if (this.#isLost) call();
    else {
      this.#whenLost ??= new Set();
      this.#whenLost.add(call);
    }
    return () => {
      this.#whenLost?.delete(call);
    };
  }

  /** Stops trying. What is not stored stays so. */
  abandon(): void {
    this.#isLost = true;
    this.#forget?.();
    this.#waiting = [];
    this.#tellUnsaved();
    this.#marks.length = 0;
    const calls = [...(this.#whenLost ?? [])];
    this.#whenLost = null;
    for (const call of calls) call();
  }

  /** Replaces the known rows by a snapshot that holds all of them. Rejects as the store does; the rows then stay. */
  async compact(snapshot: Uint8Array): Promise<void> {
    const seqs = this.#seqs.splice(0);
    try {
      this.#seqs.push(await this.#store.compact(this.#address, seqs, snapshot, this.#owner.generation));
    } catch (cause) {
      this.#seqs.push(...seqs);
      throw cause;
    }
  }

  #sign(by: WrittenBy | null): void {
    if (by === null) return;
    if (this.#waitingBy === null) this.#waitingBy = by;
    else this.#waitingBy.add(by);
  }

  #begin(): void {
    unattended(this.#owner, 'append', () => this.#append());
  }

  async #append(): Promise<void> {
    const updates = this.#waiting;
    const upTo = this.#taken;
    const bytes = updates.length === 1 ? updates[0]! : Y.mergeUpdates(updates);
    const by = this.#waitingBy;
    this.#waiting = [];
    this.#waitingBy = null;
    this.#inFlightBytes = this.#waitingBytes;
    this.#waitingBytes = 0;
    this.#isAppending = true;
    try {
      const { generation } = this.#owner;
      const options = { generation, ...(by !== null && { by: by.text(this.#clock.now()) }) };
      this.#seqs.push(await this.#store.append(this.#address, bytes, options));
    } catch (cause) {
      this.#isAppending = false;
      if (!(cause instanceof StoreError)) throw cause;
      this.#waiting.unshift(bytes);
      const later = this.#waitingBy;
      this.#waitingBy = by;
      this.#sign(later);
      this.#waitingBytes += this.#inFlightBytes;
      this.#inFlightBytes = 0;
      this.#fail(cause);
      return;
    }
    this.#isAppending = false;
    this.#inFlightBytes = 0;
    if (this.#isLost) return;
    this.#saved = upTo;
    this.#owner.onSaved(bytes);
    while (this.#marks.length > 0 && this.#marks[0]!.at <= this.#saved) this.#marks.shift()!.call();
    if (this.#isFailing) {
      this.#isFailing = false;
      this.#retryMs = RETRY_FROM_MS;
      this.#owner.onRecovered();
    }
    this.#tellUnsaved();
    if (this.#waiting.length > 0 && !this.#isAppending) this.#begin();
  }

  /** Of what is lost nothing waits any more. */
  #tellUnsaved(): void {
    const bytes = this.#isLost ? 0 : this.unsavedBytes;
    const more = bytes - this.#toldBytes;
    this.#toldBytes = bytes;
    if (more !== 0) this.#owner.unsaved.add(more);
  }

  #fail(error: StoreError): void {
    if (this.#isLost) return;
    if (error.kind === 'unknown-board' || error.kind === 'outdated' || error.kind === 'closed') {
      this.abandon();
      this.#owner.onLost(error);
      return;
    }
    if (!this.#isFailing) {
      this.#isFailing = true;
      this.#owner.onFailing(error);
    }
    this.#forget = this.#clock.after(this.#retryMs, () => {
      this.#forget = null;
      if (!this.#isLost) this.#begin();
    });
    this.#retryMs = Math.min(this.#retryMs * 2, RETRY_TO_MS);
  }
}
