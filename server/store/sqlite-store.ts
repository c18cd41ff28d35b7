/**
 * The store of one machine: SQLite in a worker thread, since better-sqlite3 is synchronous and a FULL commit waits for the disk. So editing
 * never waits for it, only the answer "saved" does.
 *
 * Group commit. While the worker waits for the disk, rows of all rooms gather here; they go as one message and one
 * transaction when it is free again.
 */
import { Worker } from 'node:worker_threads';
import { type Clock, pause } from '../clock.ts';
import { rowBytes, takeBatch } from './batch.ts';
import type { Answered, AskedName, FromWorker, PackedRow, ToWorker } from './sqlite-messages.ts';
import type { RecordChange } from './sqlite-records.ts';
import {
  type BoardKind,
  type BoardRecord,
  type CheckReport,
  type DocumentAddress,
  type EndedGeneration,
  type FirstRecord,
  type KeptRecord,
  type ListedRecord,
  type LoadOptions,
  type PastFold,
  type PastSize,
  type RecordAmong,
  type Renewal,
  type RowOptions,
  refusalError,
  type Store,
  type StoredRow,
  StoreError,
  type WrittenRow,
} from './store.ts';

/** Short-lived memory of the thread. It handles bytes; more would only stand about: by default up to 48 MB. */
const YOUNG_MB = 4;
/** Boards whose record is remembered. It never changes, only goes; this process alone writes the file. */
const KNOWN_BOARDS = 256;

interface Waiter {
  readonly resolve: (value: never) => void;
  readonly reject: (error: StoreError) => void;
}

interface WaitingRow extends Waiter {
  readonly address: DocumentAddress;
  readonly bytes: Uint8Array;
  readonly options: RowOptions;
}

interface WaitingChange extends Waiter {
  readonly change: RecordChange;
}

/** What goes to the disk in one step, in order. */
interface Commit {
  readonly rows: readonly WaitingRow[];
  readonly changes: readonly WaitingChange[];
}

export interface SqliteStoreOptions {
  readonly file: string;
  /** The compiled worker. */
  readonly workerFile: URL;
  readonly clock: Clock;
  /**
   * Commits begin at least so far apart, in ms; default 250. After a pause the first begins at once; under load what comes
   * meanwhile goes together, which saves most of the processor time that waiting for the disk costs.
   */
  readonly gatherMs?: number;
  /** See {@link SqliteOptions}. */
  readonly maxBytes?: number;
  readonly busyMs?: number;
  /** Hears how long each commit took and how many rows it held. */
  readonly onCommit?: (commitMs: number, rows: number) => void;
}

export class SqliteStore implements Store {
  readonly #options: SqliteStoreOptions;
  readonly #waiters = new Map<number, Waiter>();
  #rows: WaitingRow[] = [];
  #changes: WaitingChange[] = [];
  #worker: Worker | null = null;
  /** What is with the worker now. */
  #committing: Commit | null = null;
  /** Takes back the commit to come; null = none is to come. */
  #forget: (() => void) | null = null;
  #committedAt = Number.NEGATIVE_INFINITY;
  #nextId = 0;
  readonly #boards = new Map<string, BoardRecord>();
  #closing: Promise<void> | null = null;

  constructor(options: SqliteStoreOptions) {
    this.#options = options;
  }

  addBoard(
    board: BoardRecord,
    documents: readonly { readonly part: DocumentAddress['part']; readonly bytes: Uint8Array }[],
    records: readonly FirstRecord[] = [],
  ): Promise<boolean> {
    const copied = <T extends { readonly bytes: Uint8Array }>(all: readonly T[]): readonly T[] =>
      all.map((one) => ({ ...one, bytes: Uint8Array.from(one.bytes) }));
    return this.#call('addBoard', board, copied(documents), copied(records));
  }

  async board(id: string): Promise<BoardRecord | null> {
    const known = this.#closing === null ? this.#boards.get(id) : undefined;
    if (known !== undefined) return known;
    const board = await this.#call('board', id);
    if (board !== null) {
      // The one remembered longest goes.
      if (this.#boards.size >= KNOWN_BOARDS) this.#boards.delete(this.#boards.keys().next().value ?? '');
      this.#boards.set(id, board);
    }
    return board;
  }

  boardsOfKind(kind: BoardKind): Promise<readonly BoardRecord[]> {
    return this.#call('boardsOfKind', kind);
  }

  boardsWithRecord(recordKind: string): Promise<readonly BoardRecord[]> {
    return this.#call('boardsWithRecord', recordKind);
  }

  async removeBoard(id: string): Promise<boolean> {
    try {
      return await this.#call('removeBoard', id);
    } finally {
      // Answers come in the order of the questions, so no earlier one can bring it back after this.
      this.#boards.delete(id);
    }
  }

  load(address: DocumentAddress, options?: LoadOptions): Promise<readonly StoredRow[]> {
    return this.#call('load', address, options);
  }

  append(address: DocumentAddress, bytes: Uint8Array, options: RowOptions = {}): Promise<number> {
    return this.#commitWith<number>(({ resolve, reject }) =>
      this.#rows.push({ address, bytes, options, resolve, reject }),
    );
  }

  putRecord(record: KeptRecord, expected?: string | null, among?: readonly RecordAmong[]): Promise<boolean> {
    const { board, kind, id, about } = record;
    const copy = { board, kind, id, about, bytes: Uint8Array.from(record.bytes) };
    return this.#change({
      kind: 'put',
      record: copy,
      ...(expected === undefined ? {} : { expected }),
      ...(among === undefined ? {} : { among: among.map((one) => ({ id: one.id, about: one.about })) }),
    });
  }

  records(board: string, kind: string | null): Promise<readonly ListedRecord[]> {
    return this.#call('records', board, kind);
  }

  record(board: string, kind: string, id: string): Promise<KeptRecord | null> {
    return this.#call('record', board, kind, id);
  }

  removeRecord(board: string, kind: string, id: string, expected?: string): Promise<boolean> {
    const only = expected === undefined ? {} : { expected };
    return this.#change({ kind: 'remove', board, recordKind: kind, id, ...only });
  }

  compact(
    address: DocumentAddress,
    seqs: readonly number[],
    snapshot: Uint8Array,
    generation?: number,
  ): Promise<number> {
    return this.#call('compact', address, seqs, Uint8Array.from(snapshot), generation);
  }

  renew(address: DocumentAddress, renewal: Renewal): Promise<boolean> {
    const { seqs, generation, drawn } = renewal;
    const snapshot = Uint8Array.from(renewal.snapshot);
    const lastState = Uint8Array.from(renewal.lastState);
    return this.#call('renew', address, { seqs, generation, drawn, snapshot, lastState });
  }

  lastState(address: DocumentAddress, generation: number): Promise<Uint8Array | null> {
    return this.#call('lastState', address, generation);
  }

  endedGenerations(address: DocumentAddress): Promise<readonly EndedGeneration[]> {
    return this.#call('endedGenerations', address);
  }

  writtenRows(address: DocumentAddress): Promise<readonly WrittenRow[]> {
    return this.#call('writtenRows', address);
  }

  pastSize(address: DocumentAddress): Promise<PastSize> {
    return this.#call('pastSize', address);
  }

  foldPast(address: DocumentAddress, { seqs, generation, base }: PastFold): Promise<boolean> {
    return this.#call('foldPast', address, { seqs, generation, base: base && Uint8Array.from(base) });
  }

  check(): Promise<CheckReport> {
    return this.#call('check');
  }

  async ping(): Promise<void> {
    await this.#call('ping');
  }

  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async #close(): Promise<void> {
    this.#commit();
    while (this.#committing !== null || this.#isWaiting) await pause(this.#options.clock, 1);
    const worker = this.#worker;
    if (worker === null) return;
    const ended = new Promise<void>((resolve) => worker.once('exit', () => resolve()));
    this.#send({ kind: 'close' });
    await ended;
  }

  #wait(waiter: Waiter): number {
    this.#nextId += 1;
    this.#waiters.set(this.#nextId, waiter);
    return this.#nextId;
  }

  #call<Name extends AskedName>(name: Name, ...args: Parameters<Store[Name]>): Promise<Answered<Name>> {
    return new Promise((resolve, reject) => {
      if (this.#closing !== null) {
        reject(new StoreError('closed', 'the store is closed'));
        return;
      }
      const id = this.#wait({ resolve: resolve as (value: never) => void, reject });
      this.#send({ kind: 'call', id, call: { name, args } });
    });
  }

  #change(change: RecordChange): Promise<boolean> {
    return this.#commitWith<boolean>((waiter) => this.#changes.push({ ...waiter, change }));
  }

  /** Something that goes with the next commit. */
  #commitWith<T>(add: (waiter: Waiter) => void): Promise<T> {
    return new Promise<T>((resolve, reject) => {
      if (this.#closing !== null) {
        reject(new StoreError('closed', 'the store is closed'));
        return;
      }
      add({ resolve: resolve as (value: never) => void, reject });
      this.#gather();
    });
  }

  get #isWaiting(): boolean {
    return this.#rows.length > 0 || this.#changes.length > 0;
  }

  #gather(): void {
    if (this.#committing !== null || this.#forget !== null) return;
    const { clock, gatherMs = 250 } = this.#options;
    const waitMs = Math.max(0, this.#committedAt + gatherMs - clock.elapsed());
    this.#forget = clock.after(waitMs, () => this.#commit());
  }

  #commit(): void {
    this.#forget?.();
    this.#forget = null;
    if (this.#committing !== null || !this.#isWaiting) return;
    const rows = takeBatch(this.#rows, rowBytes);
    const changes = takeBatch(this.#changes, ({ change }) =>
      'record' in change ? change.record.bytes.length : 0,
    );
    this.#committing = { rows, changes };
    this.#committedAt = this.#options.clock.elapsed();
    const bytes = new Uint8Array(rows.reduce((sum, row) => sum + row.bytes.length, 0));
    let at = 0;
    const packed: PackedRow[] = rows.map(({ address, bytes: own, options }) => {
      bytes.set(own, at);
      const from = at;
      at += own.length;
      return { address, from, to: at, ...options };
    });
    const message = {
      kind: 'append',
      rows: packed,
      bytes,
      changes: changes.map(({ change }) => change),
    } as const;
    this.#send(message, [bytes.buffer]);
  }

  #send(message: ToWorker, transfer: ArrayBuffer[] = []): void {
    this.#worker ??= this.#startWorker();
    this.#worker.postMessage(message, transfer);
  }

  #startWorker(): Worker {
    const { file, workerFile, maxBytes, busyMs } = this.#options;
    const options = {
      ...(maxBytes === undefined ? {} : { maxBytes }),
      ...(busyMs === undefined ? {} : { busyMs }),
    };
    const worker = new Worker(workerFile, {
      workerData: { file, options },
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
    });
    worker.on('message', (message: FromWorker) => this.#hear(message));
    let reason = 'it ended';
    worker.on('error', (error) => {
      reason = error.message;
    });
    worker.on('exit', () => {
      this.#worker = null;
      const { rows, changes } = this.#committing ?? { rows: [], changes: [] };
      const waiters = [...this.#waiters.values(), ...rows, ...changes, ...this.#rows, ...this.#changes];
      this.#waiters.clear();
      this.#committing = null;
      this.#rows = [];
      this.#changes = [];
      for (const { reject } of waiters)
        reject(new StoreError('unavailable', `the thread of the store stopped: ${reason}`));
    });
    return worker;
  }

  /** The worker has answered. @returns what it was about */
  #committed(): Commit {
    const commit = this.#committing ?? { rows: [], changes: [] };
    this.#committing = null;
    if (this.#isWaiting) this.#gather();
    return commit;
  }

  #settle(id: number): Waiter | undefined {
    const waiter = this.#waiters.get(id);
    this.#waiters.delete(id);
    return waiter;
  }

  #hear(message: FromWorker): void {
    switch (message.kind) {
      case 'appended': {
        const { rows, changes } = this.#committed();
        this.#options.onCommit?.(message.commitMs, rows.length);
        rows.forEach(({ address, resolve, reject }, index) => {
          const seq = message.seqs[index];
          if (typeof seq === 'number') resolve(seq as never);
          else reject(refusalError(seq ?? 'unknown-board', address));
        });
        changes.forEach(({ change, resolve, reject }, index) => {
          const isChanged = message.changed[index] ?? null;
          if (isChanged !== null) resolve(isChanged as never);
          else
            reject(
              new StoreError(
                'unknown-board',
                `there is no board ${'record' in change ? change.record.board : change.board}`,
              ),
            );
        });
        return;
      }
      case 'append-failed':
        {
          const { rows, changes } = this.#committed();
          for (const { reject } of [...rows, ...changes])
            reject(new StoreError(message.failure.kind, message.failure.message));
        }
        return;
      case 'answer':
        this.#settle(message.id)?.resolve(message.value as never);
        return;
      case 'call-failed':
        this.#settle(message.id)?.reject(new StoreError(message.failure.kind, message.failure.message));
        return;
      case 'closed':
        return;
    }
  }
}
