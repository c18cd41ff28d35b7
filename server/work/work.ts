/**
 * Does jobs where they hold up nobody: small ones here, large ones in a thread. (A board of 200 strings and 20,000 rows takes some 0.3 s to
 * read, in which no room goes on.) A job is a function of plain data and cannot see a live document: a room hands on the updates it is
 * made of, and what must not have changed meanwhile is compared afterwards. Archives have a second thread, since they take longest.
 */
import type { Clock } from '../clock.ts';
import type { Job } from './job.ts';
import { bytesOf } from './with-document.ts';
import { WorkThread } from './work-thread.ts';

/** Encoded designs larger than this are read in the thread: up to there it takes some milliseconds. */
const LARGE_BYTES = 64 * 1024;

/** Whether something of so many bytes takes long to read. */
export function isLarge(bytes: number): boolean {
  return bytes > LARGE_BYTES;
}

export class Work {
  readonly #thread: WorkThread | null;

  /** @param workerFile the compiled worker; null: everything is done here */
  constructor(workerFile: URL | null, clock: Clock) {
    this.#thread = workerFile === null ? null : new WorkThread(workerFile, clock);
  }

  /** Does a job whose input has so many bytes. Rejects with TooBusy when too much waits, and as the job does. */
  async run<In, Out>(job: Job<In, Out>, input: In, bytes: number): Promise<Out> {
    return this.#thread !== null && isLarge(bytes) ? this.#thread.run(job, input) : job.run(input);
  }

  /** Does a job on a document. */
  read<Out>(job: Job<readonly Uint8Array[], Out>, updates: readonly Uint8Array[]): Promise<Out> {
    return this.run(job, updates, bytesOf(updates));
  }

  async close(): Promise<void> {
    await this.#thread?.close();
  }
}
