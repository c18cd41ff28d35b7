/**
 * Questions to a worker thread, each with its answer. The thread begins with the first question, and again with the next one
 * after it has ended by a fault.
 */
import type { Worker } from 'node:worker_threads';
import { StoreError, type StoreFailure } from './store.ts';

/** What the thread hears. */
export interface ThreadQuestion<Call> {
  readonly id: number;
  /** Null: let go of everything and end. It is the last. */
  readonly call: Call | null;
}

/** What it answers. */
export type ThreadAnswer =
  | { readonly id: number; readonly value: unknown }
  | { readonly id: number; readonly failure: { readonly kind: StoreFailure; readonly message: string } };

interface Waiter {
  readonly resolve: (value: never) => void;
  readonly reject: (error: StoreError) => void;
}

export class ThreadCalls<Call> {
  readonly #start: () => Worker;
  readonly #waiters = new Map<number, Waiter>();
  #worker: Worker | null = null;
  #nextId = 0;
  #closing: Promise<void> | null = null;

  constructor(start: () => Worker) {
    this.#start = start;
  }

  /** Asks. Rejects with a {@link StoreError}. */
  async ask<T>(call: Call): Promise<T> {
    if (this.#closing !== null) throw new StoreError('closed', 'the store is closed');
    return this.#send<T>(call);
  }

  /** Waits for what was asked, then ends the thread. */
  close(): Promise<void> {
    this.#closing ??= this.#close();
    return this.#closing;
  }

  async #close(): Promise<void> {
    const worker = this.#worker;
    if (worker === null) return;
    const ended = new Promise<void>((resolve) => worker.once('exit', () => resolve()));
    await this.#send<void>(null);
    await ended;
  }

  #send<T>(call: Call | null): Promise<T> {
    const worker = this.#worker ?? this.#begin();
    this.#nextId += 1;
    const id = this.#nextId;
    return new Promise<T>((resolve, reject) => {
      this.#waiters.set(id, { resolve: resolve as (value: never) => void, reject });
      worker.postMessage({ id, call } satisfies ThreadQuestion<Call>);
    });
  }

  #begin(): Worker {
    const worker = this.#start();
    this.#worker = worker;
    let reason = 'it ended';
    worker.on('message', (answer: ThreadAnswer) => {
      const waiter = this.#waiters.get(answer.id);
      this.#waiters.delete(answer.id);
      if ('failure' in answer) waiter?.reject(new StoreError(answer.failure.kind, answer.failure.message));
      else waiter?.resolve(answer.value as never);
    });
    worker.on('error', (error) => {
      reason = error.message;
    });
    worker.on('exit', () => {
      this.#worker = null;
      const waiters = [...this.#waiters.values()];
      this.#waiters.clear();
      for (const { reject } of waiters)
        reject(new StoreError('unavailable', `the thread of the store stopped: ${reason}`));
    });
    return worker;
  }
}
