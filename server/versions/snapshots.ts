/** Reads designs for versions: small ones here, large ones in a thread. */
import type { Clock } from '../clock.ts';
import type { Room } from '../sync/index.ts';
import { type Snapshot, snapshotOf, snapshotOfState } from './snapshot.ts';
import { SnapshotThread } from './snapshot-thread.ts';

/** Encoded designs larger than this are read in the thread. */
const LARGE_BYTES = 64 * 1024;

export class Snapshots {
  readonly #thread: SnapshotThread | null;

  /** @param workerFile the compiled worker; null: everything is read here */
  constructor(workerFile: URL | null, clock: Clock) {
    this.#thread = workerFile === null ? null : new SnapshotThread(workerFile, clock);
  }

  /** Of a room as it is now, or of an encoded document; null when there is no design. */
  async read(of: Room | Uint8Array): Promise<Snapshot | null> {
    const state = of instanceof Uint8Array ? of : of.encodedState();
    if (this.#thread !== null && state.length > LARGE_BYTES) return this.#thread.of(state);
    return of instanceof Uint8Array ? snapshotOfState(of) : snapshotOf(of.doc);
  }

  async close(): Promise<void> {
    await this.#thread?.close();
  }
}
