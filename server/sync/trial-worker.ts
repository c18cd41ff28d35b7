/** The thread that tries what may take long to place. Started by TrialThread. */
import { parentPort } from 'node:worker_threads';
import { countSteps } from './count-steps.ts';
import { mostSteps } from './trials.ts';
import type { FromTrialWorker, ToTrialWorker } from './trial-thread.ts';

const port = parentPort;
if (port === null) throw new TypeError('trial-worker runs as a worker thread only');

port.on('message', ({ updates, most }: ToTrialWorker) => {
  let answer: FromTrialWorker;
  try {
    answer = { count: countSteps(updates, (structs) => mostSteps(most, structs)) };
  } catch (cause) {
    answer = { failure: (cause as Error).message };
  }
  port.postMessage(answer);
});
