/** One job at a time for an element: edits are waited out, a newer job counts alone, and leaving the page ends it. */
import type { ReactiveControllerHost } from 'lit';
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { loadTexts } from '../../../web/text/index.ts';
import { BackgroundJob } from '../../../web/worker/index.ts';
import type { Job } from '../../../web/worker/jobs.ts';
import { ToldWorker } from '../../support/told-worker.ts';

const reported: unknown[] = [];
beforeAll(() => loadTexts('panels'));
beforeEach(() => {
  ToldWorker.all.length = 0;
  reported.length = 0;
  vi.useFakeTimers();
  vi.stubGlobal('Worker', ToldWorker);
  // A page of which nobody knows where it came from: what is missing may come on another try.
  vi.stubGlobal('document', { querySelector: () => null });
  vi.stubGlobal('reportError', (error: unknown) => reported.push(error));
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const JOB = { kind: 'plan', colours: ['a', 'a'], singles: 'free' } as const satisfies Job;

function newJob() {
  let renders = 0;
  const host = {
    addController: () => {},
    requestUpdate: () => renders++,
  } as unknown as ReactiveControllerHost;
  const job = new BackgroundJob<Extract<Job, { kind: 'plan' }>>(host);
  return { job, renders: () => renders };
}
const settled = (): Promise<unknown> => vi.advanceTimersByTimeAsync(0);

describe('a job in the background', () => {
  it('[B120] begins when edits have come to rest, and shows how far it is', async () => {
    const { job, renders } = newJob();
    expect(job.state).toEqual({ kind: 'idle' });
    job.start(JOB);
    await vi.advanceTimersByTimeAsync(200);
    job.start(JOB);
    await vi.advanceTimersByTimeAsync(299);
    expect(ToldWorker.all).toHaveLength(0);
    await vi.advanceTimersByTimeAsync(1);
    const [worker] = ToldWorker.all;
    worker!.tell({ kind: 'best', answer: 'so far' });
    worker!.tell({ kind: 'progress', share: 0.5 });
    expect(job.state).toEqual({ kind: 'looking', share: 0.5, best: 'so far' });
    const before = renders();
    worker!.tell({ kind: 'answer', answer: 'all' });
    await settled();
    expect([job.state, renders()]).toEqual([{ kind: 'found', answer: 'all' }, before + 1]);
  });

  it('a newer one ends the one before, whose answer does not count', async () => {
    const { job } = newJob();
    job.start(JOB, true);
    await settled();
    job.start(JOB, true);
    await settled();
    const [first, second] = ToldWorker.all;
    expect([first!.isEnded, second!.isEnded]).toEqual([true, false]);
    first!.tell({ kind: 'progress', share: 0.9 });
    first!.tell({ kind: 'answer', answer: 'old' });
    await settled();
    expect(job.state).toMatchObject({ kind: 'looking', share: 0 });
  });

  it('stopped, it keeps the best so far, or is as if it never was', async () => {
    const { job } = newJob();
    job.stop();
    expect(job.state).toEqual({ kind: 'idle' });
    job.start(JOB, true);
    await settled();
    ToldWorker.all[0]!.tell({ kind: 'best', answer: 'so far' });
    job.stop();
    expect([job.state, ToldWorker.all[0]!.isEnded]).toEqual([{ kind: 'found', answer: 'so far' }, true]);
    job.start(JOB, true);
    job.stop();
    expect(job.state).toEqual({ kind: 'idle' });
    await settled();
    expect(ToldWorker.all).toHaveLength(1);
  });

  it('an element that leaves the page ends it', async () => {
    const { job } = newJob();
    job.start(JOB, true);
    await settled();
    job.hostDisconnected();
    expect([job.state, ToldWorker.all[0]!.isEnded]).toEqual([{ kind: 'idle' }, true]);
  });

  it('what failed is said; what the engine threw is reported too', async () => {
    const fail = async (how: (worker: ToldWorker) => void): Promise<unknown> => {
      const { job } = newJob();
      job.start(JOB, true);
      await settled();
      how(ToldWorker.all.at(-1)!);
      await settled();
      return job.state;
    };
    expect(await fail((worker) => worker.fail(''))).toMatchObject({
      kind: 'failed',
      why: expect.stringMatching(/connection/),
    });
    expect(reported).toEqual([]);
    expect(await fail((worker) => worker.tell({ kind: 'thrown', message: 'ours' }))).toMatchObject({
      kind: 'failed',
      why: expect.stringMatching(/mistake/),
    });
    expect(reported).toHaveLength(1);
  });

  it('what comes of one that was given up, an answer or a failure, is nothing any more', async () => {
    const { job, renders } = newJob();
    for (const end of [
      (worker: ToldWorker) => worker.tell({ kind: 'answer', answer: 'late' }),
      (worker: ToldWorker) => worker.tell({ kind: 'best', answer: 'late' }),
      (worker: ToldWorker) => worker.fail(''),
    ]) {
      job.start(JOB, true);
      await settled();
      job.cancel();
      const before = renders();
      end(ToldWorker.all.at(-1)!);
      await settled();
      expect([job.state, renders()]).toEqual([{ kind: 'idle' }, before]);
    }
    expect(reported).toEqual([]);
  });

  it('an answer found without a worker counts at once', () => {
    const { job } = newJob();
    job.start(JOB);
    job.settle('at hand' as never);
    expect(job.state).toEqual({ kind: 'found', answer: 'at hand' });
  });
});
