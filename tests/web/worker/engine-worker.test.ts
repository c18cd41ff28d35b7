/** The worker's end of a job: which computation it does, what it tells meanwhile, and that an error of the engine reaches the page. */
import { beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  ifTiedSo,
  mendPiece,
  nearSymmetries,
  planMount,
  recolour,
  stepKey,
  symmetry,
  waysOut,
  workOrder,
} from '../../../engine/index.ts';
import { consequencesOf } from '../../../web/worker/consequences.ts';
import type { Job, MendAnswer, WorkerMessage } from '../../../web/worker/jobs.ts';
import { runWorkOrder } from '../../../web/worker/run-work-order.ts';
import { sampleBoard } from '../../support/sample-board.ts';

const told: { readonly message: WorkerMessage; readonly transfer: readonly unknown[] }[] = [];
const scope = new EventTarget();
let now = 0;

beforeAll(async () => {
  vi.stubGlobal('addEventListener', scope.addEventListener.bind(scope));
  vi.stubGlobal('postMessage', (message: WorkerMessage, { transfer }: { transfer: unknown[] }) =>
    told.push({ message, transfer }),
  );
  vi.stubGlobal('performance', { now: () => now });
  await import('../../../web/worker/engine-worker.ts');
});
beforeEach(() => {
  told.length = 0;
  now = 1000;
});

function answerTo(job: Job): unknown {
  scope.dispatchEvent(new MessageEvent('message', { data: job }));
  const last = told.at(-1)?.message;
  if (last?.kind !== 'answer') throw new Error(`no answer, but ${JSON.stringify(last)}`);
  return last.answer;
}

const BOARD = sampleBoard(8, 8);
const { pattern } = BOARD;
const CROSSED = ['r', 'g', 'r', 'g', 'r', 'g', 'r', 'g'];

describe('a job is done', () => {
  it('a work order, whose table is handed over, not copied', () => {
    const job = {
      kind: 'work-order',
      board: BOARD,
      method: 'rows',
      covers: 'pattern',
      rowsFirst: 0,
    } as never;
    const answer = answerTo(job);
    expect(answer).toEqual(runWorkOrder(job));
    const { value } = answer as { readonly value: { readonly numbers: { readonly buffer: ArrayBuffer } } };
    expect(told.at(-1)?.transfer).toEqual([value.numbers.buffer]);
  });

  it('[N48] a way on below a mistake: the first at once, the last as good as the answer, each with what it comes to', () => {
    const { steps } = workOrder(BOARD, { method: 'rows' });
    const tied = new Set(steps.slice(0, 6).map(stepKey));
    const kinds = new Map([[stepKey(steps[4]!), 'fb' as const]]);
    const answer = answerTo({ kind: 'mend', board: BOARD, kinds, tied }) as MendAnswer;
    const best = told.flatMap(({ message }) =>
      message.kind === 'best' ? [message.answer as MendAnswer] : [],
    );
    expect(best[0]).toMatchObject({ comes: ifTiedSo(BOARD, best[0]!.kinds) });
    expect(best.at(-1)!.wrong).toBe(answer.wrong);
    expect(answer).toEqual({
      ...mendPiece(BOARD, kinds, tied, { steps: 400_000_000 }),
      comes: ifTiedSo(BOARD, answer.kinds),
    });
  });

  it('a work order that cannot be, with nothing to hand over', () => {
    const board = { ...BOARD, gauge: { cordMm: -1 } };
    const answer = answerTo({
      kind: 'work-order',
      board,
      method: 'rows',
      covers: 'piece',
      rowsFirst: -1,
    } as never);
    expect(answer).toMatchObject({ ok: false });
    expect(told.at(-1)?.transfer).toEqual([]);
  });

  it('how it mounts', () => {
    expect(answerTo({ kind: 'plan', colours: CROSSED, singles: 'free' })).toEqual(
      planMount(CROSSED, { singles: 'free' }),
    );
  });

  it('ways out of crossings', () => {
    const palette = ['r', 'g', 'b'];
    expect(answerTo({ kind: 'ways-out', pattern, palette })).toEqual(waysOut(pattern, { palette }));
  });

  it('what boards come to, in their order', () => {
    const boards = [BOARD, sampleBoard(6, 4)];
    expect(answerTo({ kind: 'consequences', boards })).toEqual(boards.map(consequencesOf));
  });

  it('what the band keeps, and nearly keeps', () => {
    expect(answerTo({ kind: 'symmetries', pattern })).toEqual({
      found: symmetry(pattern),
      near: nearSymmetries(pattern),
    });
  });

  it('the fewest strings to recolour, telling better ones on the way', () => {
    const palette = ['r', 'g'];
    const options = { palette, singles: 'forced' } as const;
    expect(answerTo({ kind: 'recolour', colours: CROSSED, ...options })).toEqual(recolour(CROSSED, options));
    const best = told.filter(({ message }) => message.kind === 'best');
    expect(best.length).toBeGreaterThan(0);
  });
});

describe('what is told meanwhile', () => {
  const shares = (): number[] =>
    told.flatMap(({ message }) => (message.kind === 'progress' ? [message.share] : []));
  const recolouring = (): unknown =>
    answerTo({ kind: 'recolour', colours: CROSSED, palette: ['r', 'g'], singles: 'forced' });

  it('is how far it is, each time where time passes in between', () => {
    vi.stubGlobal('performance', { now: () => (now += 60) });
    recolouring();
    expect(shares().length).toBeGreaterThan(1);
    for (const share of shares()) expect(share).toBeLessThanOrEqual(1);
  });

  it('is told once where no time passes, however often the engine counts', () => {
    vi.stubGlobal('performance', { now: () => now });
    recolouring();
    expect(shares()).toHaveLength(1);
  });
});

describe('a fault', () => {
  it.each([
    ['of the engine', { kind: 'plan', colours: null, singles: 'free' }, /colours must be a list/],
    [
      'without a message of its own',
      {
        kind: 'consequences',
        boards: {
          map: () => {
            throw 'no boards';
          },
        },
      },
      /^no boards$/,
    ],
  ])('%s is told to the page, which waits for an answer', (_what, job, message) => {
    scope.dispatchEvent(new MessageEvent('message', { data: job }));
    expect(told).toHaveLength(1);
    expect(told[0]?.message).toEqual({ kind: 'thrown', message: expect.stringMatching(message) });
  });
});
