/** Long computations of the engine, away from the page. One job for each worker: to cancel it, the page ends the worker. */
import {
  nearSymmetries,
  planMount,
  type Recolouring,
  recolour,
  symmetry,
  type WaysOut,
  waysOut,
} from '../../engine/index.ts';
import { consequencesOf } from './consequences.ts';
import type { Job, WorkerMessage } from './jobs.ts';
import { runMend } from './mend-job.ts';
import { runStart } from './run-start.ts';
import { runWish } from './wish-job.ts';
import { runWorkOrder } from './run-work-order.ts';

/** At most so many tellings of progress a second. */
const TELL_EVERY_MS = 50;

function post(message: WorkerMessage, transfer: Transferable[] = []): void {
  postMessage(message, { transfer });
}

addEventListener('message', ({ data }: MessageEvent<Job>) => {
  let told = 0;
  const onProgress = (share: number): void => {
    const now = performance.now();
    if (now - told < TELL_EVERY_MS) return;
    told = now;
    post({ kind: 'progress', share });
  };
  try {
    switch (data.kind) {
      case 'work-order': {
        const answer = runWorkOrder(data, onProgress);
        post({ kind: 'answer', answer }, answer.ok ? [answer.value.numbers.buffer] : []);
        return;
      }
      case 'plan':
        post({ kind: 'answer', answer: planMount(data.colours, { singles: data.singles, onProgress }) });
        return;
      case 'recolour': {
        const { colours, palette, singles } = data;
        const onBest = (answer: Recolouring): void => post({ kind: 'best', answer });
        post({ kind: 'answer', answer: recolour(colours, { palette, singles, onProgress, onBest }) });
        return;
      }
      case 'ways-out': {
        const { pattern, palette } = data;
        const onBest = (answer: WaysOut): void => post({ kind: 'best', answer });
        post({ kind: 'answer', answer: waysOut(pattern, { palette, onProgress, onBest }) });
        return;
      }
      case 'mend': {
        const answer = runMend(data, onProgress, (best) => post({ kind: 'best', answer: best }));
        post({ kind: 'answer', answer });
        return;
      }
      case 'consequences':
        post({ kind: 'answer', answer: data.boards.map(consequencesOf) });
        return;
      case 'start':
        post({ kind: 'answer', answer: runStart(data.ask) });
        return;
      case 'wish':
        post({
          kind: 'answer',
          answer: runWish(data, onProgress, (answer) => post({ kind: 'best', answer })),
        });
        return;
      case 'symmetries': {
        const { pattern } = data;
        post({ kind: 'answer', answer: { found: symmetry(pattern), near: nearSymmetries(pattern) } });
        return;
      }
    }
  } catch (error) {
    // Told to the page, which throws it there: an error in a worker would otherwise reach nobody who waits for the answer.
    post({ kind: 'thrown', message: error instanceof Error ? error.message : String(error) });
  }
});
