/** Reads designs for versions. */
import { FewAtATime } from '../few-at-a-time.ts';
import type { Room } from '../sync/index.ts';
import type { Job, Work } from '../work/index.ts';
import { type Snapshot, snapshotOfUpdates } from './snapshot.ts';

const SNAPSHOT: Job<readonly Uint8Array[], Snapshot | null> = { name: 'snapshot', run: snapshotOfUpdates };

/** What the thread for large work does for versions. */
export const VERSION_JOBS = [SNAPSHOT];

/** Read at once: others wait here, where there is no end to how many may. */
const AT_ONCE = 4;

export class Snapshots {
  readonly #work: Work;
  readonly #few = new FewAtATime(AT_ONCE);

  constructor(work: Work) {
    this.#work = work;
  }

  /** Of a room as it is now, or of the updates that make a document; null when there is no design. */
  read(of: Room | readonly Uint8Array[]): Promise<Snapshot | null> {
    const updates = 'held' in of ? of.held.updates : of;
    return this.#few.run(() => this.#work.read(SNAPSHOT, updates));
  }
}
