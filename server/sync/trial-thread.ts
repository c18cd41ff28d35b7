/**
 * Tries in a thread of its own what may take Yjs too long to place: see `placing.ts`. It starts when it is first needed and
 * ends when it was not needed for a while; a trial that never ends is ended with it.
 */
import { Worker } from 'node:worker_threads';
import type { Clock } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';
import type { StepCount } from './count-steps.ts';

/** Updates to be placed one after the other, with no more steps than this beyond one a struct. */
export interface Trial {
  readonly updates: readonly Uint8Array[];
  readonly most: number;
}

export type ToTrialWorker = Trial;
export type FromTrialWorker = { readonly count: StepCount | null } | { readonly failure: string };

const IDLE_MS = 30_000;
/** The largest document takes some seconds. */
const MOST_MS = 30_000;
/** Copies of values and of the largest document have room in it. */
const MOST_HEAP_MIB = 1024;

interface Waiting extends Trial {
  readonly resolve: (count: StepCount | null) => void;
  readonly reject: (error: Error) => void;
}

export class TrialThread implements Answerable {
  readonly #file: URL;
  readonly #clock: Clock;
  /** The first is being tried. Each socket has one here at most, and waits for it. */
  readonly #waiting: Waiting[] = [];
  #worker: Worker | null = null;
  /** Takes back the end to come: of a thread that has nothing to do, or of one that takes too long. */
  #forgetEnd = (): void => {};
  #isClosed = false;

  /** @param file the compiled worker */
  constructor(file: URL, clock: Clock) {
    this.#file = file;
    this.#clock = clock;
  }

  /** @returns null when it takes more steps. Rejects when Yjs fails on it, and when the thread ends. */
  try(trial: Trial): Promise<StepCount | null> {
    if (this.#isClosed) return Promise.reject(new Error('the server stops'));
    return new Promise((resolve, reject) => {
      this.#waiting.push({ ...trial, resolve, reject });
      if (this.#waiting.length === 1) this.#begin();
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    this.#forgetEnd();
    await this.#worker?.terminate();
  }

  /** A thread that does not end when asked ends with the process; nobody waits for anything of it. */
  broke(what: string, cause: unknown): void {
    this.#worker?.emit('error', new Error(what, { cause }));
  }

  #begin(): void {
    const { updates, most } = this.#waiting[0]!;
    const worker = this.#worker ?? this.#start();
    this.#endIn(MOST_MS, () => worker.terminate());
    // A message takes the whole buffer along of which some bytes are a view.
    const own = updates.map((update) => Uint8Array.from(update));
    worker.postMessage({ updates: own, most } satisfies ToTrialWorker);
  }

  #endIn(ms: number, end: () => Promise<unknown>): void {
    this.#forgetEnd();
    this.#forgetEnd = this.#clock.after(ms, () => unattended(this, 'end-thread', end));
  }

  /** Lets go of a thread before it ends: what comes meanwhile needs another. */
  #endIdle(worker: Worker): void {
    this.#endIn(IDLE_MS, () => {
      this.#worker = null;
      return worker.terminate();
    });
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
      // The others have done nothing wrong, unless the server stops.
      const ended = this.#waiting.splice(0, this.#isClosed ? this.#waiting.length : 1);
      for (const { reject } of ended) reject(new Error(`the thread of the trials stopped: ${reason}`));
      if (this.#waiting.length > 0) this.#begin();
    });
    worker.on('message', (message: FromTrialWorker) => {
      const done = this.#waiting.shift();
      if ('failure' in message) done?.reject(new Error(message.failure));
      else done?.resolve(message.count);
      if (this.#isClosed) return;
      if (this.#waiting.length > 0) this.#begin();
      else this.#endIdle(worker);
    });
    return worker;
  }
}
