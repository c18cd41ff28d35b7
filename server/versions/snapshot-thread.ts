/**
 * Makes snapshots of large designs in a thread of its own: reading a board of a million knots would hold up every room.
 * The thread starts when it is first needed and ends when it was not needed for a while.
 */
import { Worker } from 'node:worker_threads';
import type { Clock } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';
import type { Snapshot } from './snapshot.ts';

export type ToSnapshotWorker = { readonly id: number; readonly state: Uint8Array };
export type FromSnapshotWorker =
  | { readonly id: number; readonly snapshot: Snapshot | null }
  | { readonly id: number; readonly failure: string };

const IDLE_MS = 30_000;

interface Waiter {
  readonly resolve: (snapshot: Snapshot | null) => void;
  readonly reject: (error: Error) => void;
}

export class SnapshotThread implements Answerable {
  readonly #file: URL;
  readonly #clock: Clock;
  readonly #waiters = new Map<number, Waiter>();
  #worker: Worker | null = null;
  /** Takes back the end to come. */
  #forgetIdle = (): void => {};
  #isClosed = false;
  #count = 0;

  /** @param file the compiled worker */
  constructor(file: URL, clock: Clock) {
    this.#file = file;
    this.#clock = clock;
  }

  /** The design in an encoded document; null when there is none. Rejects when the thread ends or the document cannot be read. */
  of(state: Uint8Array): Promise<Snapshot | null> {
    this.#forgetIdle();
    this.#count += 1;
    const id = this.#count;
    return new Promise((resolve, reject) => {
      this.#waiters.set(id, { resolve, reject });
      this.#worker ??= this.#start();
      this.#worker.postMessage({ id, state: Uint8Array.from(state) } satisfies ToSnapshotWorker);
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    this.#forgetIdle();
    await this.#worker?.terminate();
  }

  /** A thread that does not end when asked ends with the process; nobody waits for anything of it. */
  broke(what: string, cause: unknown): void {
    this.#worker?.emit('error', new Error(what, { cause }));
  }

  #start(): Worker {
    const worker = new Worker(this.#file);
    // It has nothing to finish that would be worth keeping the process for.
    worker.unref();
    let reason = 'it ended';
    worker.on('error', (error) => {
      reason = error.message;
    });
    worker.on('exit', () => {
      if (this.#worker === worker) this.#worker = null;
      const waiters = [...this.#waiters.values()];
      this.#waiters.clear();
      for (const { reject } of waiters) reject(new Error(`the thread of the versions stopped: ${reason}`));
    });
    worker.on('message', (message: FromSnapshotWorker) => {
      const waiter = this.#waiters.get(message.id);
      this.#waiters.delete(message.id);
      if ('failure' in message) waiter?.reject(new Error(message.failure));
      else waiter?.resolve(message.snapshot);
      if (this.#waiters.size > 0 || this.#isClosed) return;
      this.#forgetIdle = this.#clock.after(IDLE_MS, () =>
        unattended(this, 'end-thread', () => worker.terminate()),
      );
    });
    return worker;
  }
}
