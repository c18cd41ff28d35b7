/** The thread that does large work: all jobs there are, by their names. Started by WorkThread. */
import { parentPort } from 'node:worker_threads';
import { ARCHIVE_JOBS } from './archive/index.ts';
import { BOARD_JOBS } from './boards/index.ts';
import { JOURNAL_JOBS } from './journal/index.ts';
import { PROPOSAL_JOBS } from './proposals/index.ts';
import { COPY_JOBS, SYNC_JOBS } from './sync/index.ts';
import { VERSION_JOBS } from './versions/index.ts';
import type { AnyJob, FromWorker, ToWorker } from './work/index.ts';

const port = parentPort;
if (port === null) throw new TypeError('worker runs as a worker thread only');

const jobs = new Map<string, AnyJob>(
  [
    ...ARCHIVE_JOBS,
    ...BOARD_JOBS,
    ...COPY_JOBS,
    ...JOURNAL_JOBS,
    ...PROPOSAL_JOBS,
    ...SYNC_JOBS,
    ...VERSION_JOBS,
  ].map((job) => [job.name, job]),
);

port.on('message', async ({ name, input }: ToWorker) => {
  let answer: FromWorker;
  try {
    const job = jobs.get(name);
    if (job === undefined) throw new RangeError(`there is no job ${name}`);
    answer = { output: await job.run(input as never) };
  } catch (cause) {
    answer = { failure: (cause as Error).message };
  }
  port.postMessage(answer);
});
