/** The thread that makes snapshots of large designs. Started by SnapshotThread. */
import { parentPort } from 'node:worker_threads';
import { snapshotOfState } from './snapshot.ts';
import type { FromSnapshotWorker, ToSnapshotWorker } from './snapshot-thread.ts';

const port = parentPort;
if (port === null) throw new TypeError('snapshot-worker runs as a worker thread only');

port.on('message', ({ id, state }: ToSnapshotWorker) => {
  let answer: FromSnapshotWorker;
  try {
    answer = { id, snapshot: snapshotOfState(state) };
  } catch (cause) {
    answer = { id, failure: (cause as Error).message };
  }
  port.postMessage(answer);
});
