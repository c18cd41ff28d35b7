/** Starts a job in a worker of its own. */
import { type MissingKind, tellMissing, whyMissing } from '../parts/index.ts';
import type { Job, JobAnswers, WorkerMessage } from './jobs.ts';

/** The engine threw; or the worker could not be fetched, now or, since a newer release has replaced it, ever. The message is for logs. */
export class JobError extends Error {
  readonly kind: 'broke' | 'notStarted' | 'replaced';

  constructor(kind: JobError['kind'], message: string) {
    super(message);
    this.kind = kind;
  }
}

export interface RunningJob<A> {
  /** Never settles once cancelled. Rejects with {@link JobError}. */
  readonly answer: Promise<A>;
  /** Ends the worker at once. Does nothing when the job is done. */
  cancel(): void;
}

/**
 * @param onProgress told the share done, 0 to 1, now and then
 * @param onBest told the best answer so far, by jobs that have one before they are done
 */
export function startJob<J extends Job>(
  job: J,
  onProgress: (share: number) => void,
  onBest: (answer: JobAnswers[J['kind']]) => void = () => {},
): RunningJob<JobAnswers[J['kind']]> {
  const worker = new Worker(new URL('./engine-worker.ts', import.meta.url), { type: 'module' });
  let isCalledOff = false;
  const answer = new Promise<JobAnswers[J['kind']]>((resolve, reject) => {
    const missing = (kind: MissingKind): void => {
      if (isCalledOff) return;
      // As of a part: another try would not bring it.
      if (kind === 'replaced') tellMissing(kind, () => {});
      reject(
        new JobError(kind === 'replaced' ? kind : 'notStarted', `the worker could not be fetched: ${kind}`),
      );
    };
    worker.addEventListener('message', ({ data }: MessageEvent<WorkerMessage>) => {
      if (data.kind === 'progress') {
        onProgress(data.share);
        return;
      }
      if (data.kind === 'best') {
        onBest(data.answer as JobAnswers[J['kind']]);
        return;
      }
      worker.terminate();
      if (data.kind === 'answer') resolve(data.answer as JobAnswers[J['kind']]);
      else reject(new JobError('broke', data.message));
    });
    worker.addEventListener('error', (event) => {
      worker.terminate();
      // A file that could not be fetched has no message.
      if (event.message) reject(new JobError('broke', event.message));
      else void whyMissing('').then(missing);
    });
  });
  worker.postMessage(job);
  const cancel = (): void => {
    isCalledOff = true;
    worker.terminate();
  };
  return { answer, cancel };
}
