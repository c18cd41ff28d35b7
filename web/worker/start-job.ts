/** Starts a job in a worker of its own. */
import type { Job, JobAnswers, WorkerMessage } from './jobs.ts';

export interface RunningJob<A> {
  /** Never settles once cancelled. Rejects when the engine threw, or the worker could not be fetched. */
  readonly answer: Promise<A>;
  /** Ends the worker at once. Does nothing when the job is done. */
  cancel(): void;
}

/** @param onProgress told the share done, 0 to 1, now and then */
export function startJob<J extends Job>(
  job: J,
  onProgress: (share: number) => void,
): RunningJob<JobAnswers[J['kind']]> {
  const worker = new Worker(new URL('./engine-worker.ts', import.meta.url), { type: 'module' });
  const answer = new Promise<JobAnswers[J['kind']]>((resolve, reject) => {
    worker.addEventListener('message', ({ data }: MessageEvent<WorkerMessage>) => {
      if (data.kind === 'progress') {
        onProgress(data.share);
        return;
      }
      worker.terminate();
      if (data.kind === 'answer') resolve(data.answer as JobAnswers[J['kind']]);
      else reject(new Error(data.message));
    });
    worker.addEventListener('error', (event) => {
      worker.terminate();
      reject(new Error(event.message || 'the worker could not be started'));
    });
  });
  worker.postMessage(job);
  return { answer, cancel: () => worker.terminate() };
}
