/** Reads designs for versions. */
import type { Room } from '../sync/index.ts';
import type { Job, Work } from '../work/index.ts';
import { type Snapshot, snapshotOfUpdates } from './snapshot.ts';

const SNAPSHOT: Job<readonly Uint8Array[], Snapshot | null> = { name: 'snapshot', run: snapshotOfUpdates };

/** What the thread for large work does for versions. */
export const VERSION_JOBS = [SNAPSHOT];

export class Snapshots {
  readonly #work: Work;

  constructor(work: Work) {
    this.#work = work;
  }

  /** Of a room as it is now, or of an encoded document; null when there is no design. */
  read(of: Room | Uint8Array): Promise<Snapshot | null> {
    return this.#work.read(SNAPSHOT, of instanceof Uint8Array ? [of] : of.held.updates);
  }
}
