/**
 * A thread for jobs, one after the other. It starts when it is first needed and ends when it was not needed for a while; a job that
 * takes too long, or too much memory, ends it, and with it nothing else.
 */
import { Worker } from 'node:worker_threads';
import type { Clock } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';
import { type Job, TooBusy } from './job.ts';

export type ToWorker = { readonly name: string; readonly input: unknown };
export type FromWorker = { readonly output: unknown } | { readonly failure: string };

const IDLE_MS = 30_000;
/** The largest archive takes some seconds. */
const MOST_MS = 60_000;
const MOST_WAITING = 64;
const MOST_HEAP_MIB = 1024;

interface Waiting {
  readonly name: string;
  readonly input: unknown;
  readonly resolve: (output: unknown) => void;
  readonly reject: (error: Error) => void;
}

export class WorkThread implements Answerable {
  readonly #file: URL;
  readonly #clock: Clock;
  readonly #mostMs: number;
  /** The first is being done. */
  readonly #waiting: Waiting[] = [];
  #worker: Worker | null = null;
  /** Takes back the end to come: of a thread that has nothing to do, or whose job takes too long. */
  #forgetEnd = (): void => {};
  #isClosed = false;

  /**
   * @param file the compiled worker
   * @param mostMs after which a job is given up
   */
  constructor(file: URL, clock: Clock, mostMs = MOST_MS) {
    this.#file = file;
    this.#clock = clock;
    this.#mostMs = mostMs;
  }

  /** Rejects with {@link TooBusy} when too much waits, with an Error when the thread ends or the job throws. */
  run<In, Out>(job: Job<In, Out>, input: In): Promise<Out> {
    if (this.#isClosed) return Promise.reject(new Error('the server stops'));
    if (this.#waiting.length >= MOST_WAITING) return Promise.reject(new TooBusy('too much large work waits'));
    return new Promise((resolve, reject) => {
      const done = (output: unknown): void => resolve(output as Out);
      this.#waiting.push({ name: job.name, input, resolve: done, reject });
      if (this.#waiting.length === 1) this.#begin();
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    this.#forgetEnd();
    await this.#worker?.terminate();
  }

  /** Copies of the bytes are made now: what waits only refers to them. */
  #begin(): void {
    const { name, input } = this.#waiting[0]!;
    const worker = this.#worker ?? this.#start();
    this.#endIn(this.#mostMs, () => this.#end(worker));
    worker.postMessage({ name, input: owned(input) } satisfies ToWorker);
  }

  #endIn(ms: number, end: () => void): void {
    this.#forgetEnd();
    this.#forgetEnd = this.#clock.after(ms, end);
  }

  /** Lets go of a thread at once: what comes while it ends needs another. */
  #endIdle(worker: Worker): void {
    this.#worker = null;
    this.#end(worker);
  }

  #end(worker: Worker): void {
    unattended(this, 'end-thread', () => worker.terminate());
  }

  /** A thread that does not end when asked ends with the process; nobody waits for anything of it. */
  broke(what: string, cause: unknown): void {
    this.#worker?.emit('error', new Error(what, { cause }));
  }

  #start(): Worker {
    const worker = new Worker(this.#file, { resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MIB } });
    this.#worker = worker;
    // It has nothing to finish that would be worth keeping the process for.
    worker.unref();
    let reason = 'it ended';
    worker.on('error', (error) => {
      reason = error.message;
    });
    worker.on('exit', () => {
      if (this.#worker !== worker) return;
      this.#worker = null;
      this.#forgetEnd();
      // The others have done nothing wrong.
      this.#waiting.shift()?.reject(new Error(`the thread for large work stopped: ${reason}`));
      const isOver = this.#isClosed;
      if (isOver) for (const { reject } of this.#waiting.splice(0)) reject(new Error('the server stops'));
      else if (this.#waiting.length > 0) this.#begin();
    });
    worker.on('message', (message: FromWorker) => {
      const done = this.#waiting.shift();
      if ('failure' in message) done?.reject(new Error(message.failure));
      else done?.resolve(message.output);
      if (this.#isClosed) return;
      if (this.#waiting.length > 0) this.#begin();
      else this.#endIn(IDLE_MS, () => this.#endIdle(worker));
    });
    return worker;
  }
}

/** The same data with bytes in buffers of their own: a message takes the whole buffer along of which some bytes are a view. */
function owned(value: unknown): unknown {
  if (value instanceof Uint8Array)
    return value.byteLength === value.buffer.byteLength ? value : Uint8Array.from(value);
  if (Array.isArray(value)) return value.map(owned);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, owned(one)]));
}
