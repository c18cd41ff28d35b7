/**
 * Brings a room's updates to the store, in order, one append at a time; what gathers meanwhile goes as one row.
 *
 * Order matters: an edit may build on the one before, so a later one is never stored while an earlier one failed. After a
 * failure the same bytes are tried again (a repeated update does no harm), and the saver calls itself failing
 * until they are in. Where something must be on the disk before an edit, that edit begins a row of its own and waits for it, and what comes
 * behind waits too: it may build on it.
 */
import type { Clock } from '../clock.ts';
import { type DocumentAddress, type Store, StoreError } from '../store/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { mergeUpdates } from './merge-updates.ts';
import type { Guard } from './room-deps.ts';
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

/** Updates that go as one row. */
interface Waiting {
  readonly updates: Uint8Array[];
  bytes: number;
  /** How many were taken. */
  count: number;
  /** Who wrote them. */
  by: WrittenBy | null;
  /** What must be on the disk before them. */
  guards: readonly Guard[];
}

/** Has more stored in a row. */
function join(row: Waiting, more: Waiting): void {
  row.updates.push(...more.updates);
  row.bytes += more.bytes;
  row.count += more.count;
  if (row.by === null) row.by = more.by;
  else if (more.by !== null) row.by.add(more.by);
}

const NO_GUARDS: readonly Guard[] = [];

const EDIT_MS = 10_000;

const RETRY_FROM_MS = 200;
const RETRY_TO_MS = 5_000;

export class Saver {
  readonly #store: Store;
  readonly #address: DocumentAddress;
  readonly #owner: SaverOwner;
  readonly #clock: Clock;
  readonly #waiting: Waiting[] = [];
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

  /**
   * @param by     who wrote it; null = nobody says
   * @param guards what must be on the disk before it
   */
  take(update: Uint8Array, by: WrittenBy | null = null, guards: readonly Guard[] = NO_GUARDS): void {
    if (this.#isLost) {
      // Never stored, and so never called saved.
      this.#taken += 1;
      return;
    }
    const row = { updates: [update], bytes: update.length, count: 1, by, guards };
    const last = this.#waiting.at(-1);
    if (last === undefined || guards.length > 0) this.#waiting.push(row);
    else join(last, row);
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
    this.#waiting.length = 0;
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
  #begin(): void {
    unattended(this.#owner, 'append', () => this.#append());
  }

  async #append(): Promise<void> {
    const row = this.#waiting.shift()!;
    const bytes = mergeUpdates(row.updates);
    this.#inFlightBytes = row.bytes;
    this.#waitingBytes -= row.bytes;
    this.#isAppending = true;
    try {
      for (const guard of row.guards) await guard();
      row.guards = NO_GUARDS;
      // The room may have been given up while it waited.
      if (!this.#isLost) {
        const { by } = row;
        const { generation } = this.#owner;
        const options = { generation, ...(by !== null && { by: by.text(this.#clock.now()) }) };
        this.#seqs.push(await this.#store.append(this.#address, bytes, options));
      }
    } catch (cause) {
      this.#isAppending = false;
      if (!(cause instanceof StoreError)) throw cause;
      this.#putBack(row);
      this.#waitingBytes += this.#inFlightBytes;
      this.#inFlightBytes = 0;
      this.#fail(cause);
      return;
    }
    this.#isAppending = false;
    this.#inFlightBytes = 0;
    if (this.#isLost) return;
    this.#saved += row.count;
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

  /** What came meanwhile goes along with it, unless that has to wait for something else. */
  #putBack(row: Waiting): void {
    const next = this.#waiting[0];
    if (next?.guards.length === 0) {
      this.#waiting.shift();
      join(row, next);
    }
    this.#waiting.unshift(row);
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
