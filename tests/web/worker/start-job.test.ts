/** A job in a worker of its own: what it tells, how it ends, and that nothing is heard of it once it was called off. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { letMissing, toldMissing } from '../../../web/parts/index.ts';
import type { Job } from '../../../web/worker/jobs.ts';
import { JobError, startJob } from '../../../web/worker/start-job.ts';
import { ToldWorker } from '../../support/told-worker.ts';

/** A page whose server answers so when it is asked for the first script. */
function pageOf(head: () => Promise<Response>): void {
  vi.stubGlobal('document', { querySelector: () => ({ src: 'https://board.test/main.js' }) });
  vi.stubGlobal('fetch', vi.fn(head));
}

beforeEach(() => {
  vi.stubGlobal('Worker', ToldWorker);
  pageOf(() => Promise.reject(new TypeError('nobody answers')));
});
afterEach(() => {
  letMissing();
  vi.unstubAllGlobals();
});

const last = (): ToldWorker => ToldWorker.all.at(-1)!;
const JOB = { kind: 'plan', colours: ['a', 'a'], singles: 'free' } as const satisfies Job;

describe('a job', () => {
  it('[B120] tells how far it is and the best so far, and ends its worker with the answer', async () => {
    const told: unknown[] = [];
    const { answer } = startJob(
      JOB,
      (share) => told.push(share),
      (best) => told.push(best),
    );
    const worker = last();
    expect(worker.job).toEqual(JOB);
    worker.tell({ kind: 'progress', share: 0.5 });
    worker.tell({ kind: 'best', answer: 'so far' });
    expect([told, worker.isEnded]).toEqual([[0.5, 'so far'], false]);
    worker.tell({ kind: 'answer', answer: 'all' });
    expect([await answer, worker.isEnded]).toEqual(['all', true]);
  });

  it('what the engine throws breaks it; a worker that cannot be fetched has not started', async () => {
    const ends = async (how: (worker: ToldWorker) => void): Promise<unknown> => {
      const { answer } = startJob(JOB, () => {});
      how(last());
      const error = await answer.catch((thrown: unknown) => thrown);
      expect([error instanceof JobError, last().isEnded]).toEqual([true, true]);
      return (error as JobError).kind;
    };
    expect(await ends((worker) => worker.tell({ kind: 'thrown', message: 'ours' }))).toBe('broke');
    expect(await ends((worker) => worker.fail('syntax'))).toBe('broke');
    expect(await ends((worker) => worker.fail(''))).toBe('notStarted');
    expect(toldMissing()).toBeNull();
    pageOf(async () => new Response(null, { headers: { 'content-type': 'text/javascript' } }));
    expect(await ends((worker) => worker.fail(''))).toBe('notStarted');
  });

  it('[B191] a worker that a newer release has replaced is told from that, as a part is', async () => {
    pageOf(async () => new Response(null, { status: 404 }));
    const { answer } = startJob(JOB, () => {});
    last().fail('');
    await expect(answer).rejects.toMatchObject({ kind: 'replaced' });
    expect(toldMissing()).toMatchObject({ kind: 'replaced' });
    expect(fetch).toHaveBeenCalledWith(
      'https://board.test/main.js',
      expect.objectContaining({ method: 'HEAD' }),
    );
  });

  it('[B191] nothing is told of a job that was called off while the server was asked', async () => {
    let tell = (_answer: Response): void => {};
    pageOf(
      () =>
        new Promise((resolve) => {
          tell = resolve;
        }),
    );
    const { answer, cancel } = startJob(JOB, () => {});
    let isSettled = false;
    answer.catch(() => {
      isSettled = true;
    });
    last().fail('');
    cancel();
    tell(new Response(null, { status: 404 }));
    await new Promise((resolve) => setImmediate(resolve));
    expect([isSettled, toldMissing()]).toEqual([false, null]);
  });

  it('called off ends its worker at once', () => {
    startJob(JOB, () => {}).cancel();
    expect(last().isEnded).toBe(true);
  });
});
