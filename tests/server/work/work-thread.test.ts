/** Large work is done in a thread, which may fail without anything else failing. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { machineClock } from '../../../server/index.ts';
import { type Job, TooBusy, Work } from '../../../server/work/index.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { turnsOfTheLoop } from '../../support/until.ts';

/** Does what it is told by name; its input may have to be answered by an echo. */
const WORKER = new URL(
  `data:text/javascript,${encodeURIComponent(`
    import { parentPort } from 'node:worker_threads';
    parentPort.on('message', ({ name, input }) => {
      if (name === 'end') process.exit(3);
      if (name === 'hang') for (;;);
      if (name === 'hoard') { const all = []; for (;;) all.push(new Array(100000).fill(all.length)); }
      if (name === 'throw') parentPort.postMessage({ failure: 'thrown there' });
      else parentPort.postMessage({ output: { there: input } });
    });
  `)}`,
);

const LARGE = 1_000_000;
const job = (name: string): Job<unknown, unknown> => ({ name, run: (input) => ({ here: input }) });

let clock: HandClock;
let work: Work;
beforeEach(() => {
  clock = new HandClock();
  work = new Work(WORKER, clock);
});
afterEach(() => work.close());

describe('work', () => {
  it('[V281] that is small is done at once, large in the thread; without one everything is done here', async () => {
    expect(await work.run(job('echo'), 'a', 64 * 1024)).toEqual({ here: 'a' });
    expect(await work.run(job('echo'), 'a', 64 * 1024 + 1)).toEqual({ there: 'a' });
    expect(await new Work(null, clock).run(job('echo'), 'a', LARGE)).toEqual({ here: 'a' });
  });

  it('[V281] takes along only the bytes that it is about, and leaves them where they are', async () => {
    const buffer = new Uint8Array(1_000).fill(7);
    const view = buffer.subarray(10, 13);
    const { there } = (await work.run(job('echo'), { deep: [view] }, LARGE)) as {
      there: { deep: Uint8Array[] };
    };
    expect([there.deep[0]!.length, there.deep[0]!.buffer.byteLength]).toEqual([3, 3]);
    expect(buffer[10]).toBe(7);
  });

  it('[V285] that fails, or ends the thread, fails alone', async () => {
    const asked = ['echo', 'throw', 'end', 'echo', 'end', 'echo'].map((name) =>
      work.run(job(name), name, LARGE),
    );
    const outcomes = await Promise.allSettled(asked);
    expect(outcomes.map(({ status }) => status)).toEqual([
      'fulfilled',
      'rejected',
      'rejected',
      'fulfilled',
      'rejected',
      'fulfilled',
    ]);
    expect(outcomes[1]).toMatchObject({ reason: { message: 'thrown there' } });
  });

  it('[V285] that takes too long is ended, and the next is done', async () => {
    // The thread has started when it has answered once.
    await work.run(job('echo'), 1, LARGE);
    const hanging = work.run(job('hang'), 1, LARGE);
    const next = work.run(job('echo'), 2, LARGE);
    await turnsOfTheLoop(3);
    clock.turn(60_000);
    await expect(hanging).rejects.toThrow('stopped');
    expect(await next).toEqual({ there: 2 });
  });

  it('[V285] beyond what may wait is refused', async () => {
    await work.run(job('echo'), 1, LARGE);
    const hanging = Array.from({ length: 64 }, () => work.run(job('hang'), 1, LARGE));
    const ends = Promise.allSettled(hanging);
    await expect(work.run(job('echo'), 1, LARGE)).rejects.toBeInstanceOf(TooBusy);
    await work.close();
    expect((await ends).every(({ status }) => status === 'rejected')).toBe(true);
  });

  it('[V281] the thread ends when it was not needed for a while, and starts anew', async () => {
    expect(clock.waiting).toBe(0);
    await work.run(job('echo'), 1, LARGE);
    expect(clock.waiting).toBe(1);
    clock.turn(30_000);
    expect(clock.waiting).toBe(0);
    expect(await work.run(job('echo'), 2, LARGE)).toEqual({ there: 2 });
  });
});

describe('a machine with little memory', () => {
  it('[V285] work that hoards memory ends its thread, and not the process', async () => {
    const other = new Work(WORKER, machineClock);
    await expect(other.run(job('hoard'), 1, LARGE)).rejects.toThrow('memory');
    expect(await other.run(job('echo'), 2, LARGE)).toEqual({ there: 2 });
    await other.close();
  });
});
