/** How the bench reads frames from a trace. */
import { describe, expect, it } from 'vitest';
import { FRAME_MARK, mainThreadTimes } from './frame-trace.ts';

const mark = (ts: number) => ({ name: FRAME_MARK, ph: 'I', pid: 7, tid: 1, ts });
const task = (ts: number, tdur: number, more = {}) => ({
  name: 'RunTask',
  ph: 'X',
  pid: 7,
  tid: 1,
  ts,
  dur: tdur + 20,
  tdur,
  ...more,
});

describe('frames in a trace', () => {
  it('are given the processor time of the tasks of their thread: the one a mark was set in, and all until the next mark', () => {
    const events = [
      task(50, 20),
      task(90, 2000),
      mark(100),
      task(2200, 500),
      task(2300, 9000, { tid: 2 }),
      task(2400, 9000, { pid: 8 }),
      { ...task(2500, 9000), name: 'Commit' },
      task(10_090, 1000),
      mark(10_100),
      task(12_000, 250),
      mark(20_000),
      task(21_000, 9000),
    ];
    expect(mainThreadTimes(events)).toEqual({ pid: 7, mainMs: [2.5, 1.25] });
  });

  it('are missed where the page set no marks', () => {
    expect(() => mainThreadTimes([task(1, 2)])).toThrow('no frames');
    expect(() => mainThreadTimes([mark(1), task(1, 2)])).toThrow('no frames');
  });
});
