/**
 * What frames cost the page's main thread, from a trace of the browser: processor time of its tasks between the marks that the page
 * sets at each frame, and page faults of its process as the system counts them.
 */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';

/** The page calls `performance.mark` with this at the beginning of each frame. */
export const FRAME_MARK = 'bench-frame';

const CATEGORIES = ['toplevel', 'blink.user_timing', 'disabled-by-default-devtools.timeline', '__metadata'];

/** An event of a trace: times in µs, `tdur` of the processor. */
interface TraceEvent {
  readonly name: string;
  readonly ph: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  readonly dur?: number;
  readonly tdur?: number;
}

export interface FrameCosts {
  /** Processor time of the main thread for each frame, in ms. */
  readonly mainMs: readonly number[];
  /** Page faults of the page's process, a frame. */
  readonly faults: number;
}

/**
 * Processor time of the main thread from each frame's mark to the next, in ms, the task that set the mark included.
 * @throws Error where the trace holds no frames
 */
export function mainThreadTimes(events: readonly TraceEvent[]): {
  readonly pid: number;
  readonly mainMs: readonly number[];
} {
  const marks = events.filter(({ name }) => name === FRAME_MARK).sort((a, b) => a.ts - b.ts);
  const [first] = marks;
  if (first === undefined || marks.length < 2) throw new Error('the trace holds no frames');
  const { pid, tid } = first;
  const tasks = events.filter(
    (one) => one.name === 'RunTask' && one.ph === 'X' && one.pid === pid && one.tid === tid,
  );
  const frameAt = (ts: number): number => marks.findLastIndex((mark) => mark.ts <= ts);
  const mainMs = new Array<number>(marks.length - 1).fill(0);
  for (const { ts, dur = 0, tdur = 0 } of tasks) {
    const next = marks[frameAt(ts) + 1];
    const holdsNext = next !== undefined && ts + dur >= next.ts;
    const frame = frameAt(ts) + (holdsNext ? 1 : 0);
    if (frame >= 0 && frame < mainMs.length) mainMs[frame] = (mainMs[frame] as number) + tdur / 1000;
  }
  return { pid, mainMs };
}

/**
 * Lets frames pass while the browser records them.
 * @param frames marks each with {@link FRAME_MARK}
 */
export async function traceFrames(
  browser: Browser,
  page: Page,
  frames: () => Promise<unknown>,
): Promise<FrameCosts> {
  const pid = await rendererOf(browser, page);
  await browser.startTracing(page, { categories: CATEGORIES });
  const before = faultsOf(pid);
  await frames();
  const after = faultsOf(pid);
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString('utf8')) as {
    traceEvents: TraceEvent[];
  };
  const { mainMs } = mainThreadTimes(traceEvents);
  return { mainMs, faults: (after - before) / mainMs.length };
}

/** The process that the page is in, as a trace of one mark says. */
async function rendererOf(browser: Browser, page: Page): Promise<number> {
  await browser.startTracing(page, { categories: CATEGORIES });
  await page.evaluate(async (mark) => {
    for (let i = 0; i < 2; i++) {
      performance.mark(mark);
      await new Promise(requestAnimationFrame);
    }
  }, FRAME_MARK);
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString('utf8')) as {
    traceEvents: TraceEvent[];
  };
  return mainThreadTimes(traceEvents).pid;
}

/** Page faults of a process so far that needed no disk (field 10 of its `stat`, see proc(5)). */
function faultsOf(pid: number): number {
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
  return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[7]);
}
