/** Timing for the benches: warm-up, repeats, least and middle, results kept alive. Only benches read a clock. */
import type { BenchRow } from './bench-row.ts';

export interface MeasureOptions {
  /** Timed repeats, 1 or more; default 9. */
  readonly repeats?: number;
  /** Untimed runs before them; default 2. */
  readonly warmUp?: number;
}

export interface Timing {
  readonly minMs: number;
  readonly medianMs: number;
}

const sink: unknown[] = [];

/** Keeps a result reachable until the next one, so that the work that made it cannot be dropped. */
export function keepAlive(result: unknown): void {
  sink[0] = result;
}

/** Least and middle of some figures. @throws RangeError when there are none. */
export function minAndMedian(figures: readonly number[]): { readonly min: number; readonly median: number } {
  if (figures.length === 0) throw new RangeError('no figures to summarise');
  const sorted = [...figures].sort((a, b) => a - b);
  return { min: sorted[0]!, median: sorted[sorted.length >> 1]! };
}

/** Runs `run` and times it. `run` returns its result, which is kept alive. */
export function measure(run: () => unknown, options: MeasureOptions = {}): Timing {
  for (let i = options.warmUp ?? 2; i > 0; i--) keepAlive(run());
  const times: number[] = [];
  for (let i = options.repeats ?? 9; i > 0; i--) {
    const began = performance.now();
    const result = run();
    times.push(performance.now() - began);
    keepAlive(result);
  }
  const { min, median } = minAndMedian(times);
  return { minMs: min, medianMs: median };
}

/** Several runs timed in turn, so that a busy machine slows all of them alike; one timing each. */
export function measureInTurn(
  runs: readonly (() => unknown)[],
  options: MeasureOptions = {},
): readonly Timing[] {
  const times = runs.map((): number[] => []);
  const warmUp = options.warmUp ?? 2;
  for (let i = -warmUp; i < (options.repeats ?? 9); i++) {
    runs.forEach((run, index) => {
      const began = performance.now();
      const result = run();
      const took = performance.now() - began;
      keepAlive(result);
      if (i >= 0) times[index]!.push(took);
    });
  }
  return times.map((list) => {
    const { min, median } = minAndMedian(list);
    return { minMs: min, medianMs: median };
  });
}

/** A timing as a row of the report, in ms. */
export function timingRow(
  name: string,
  size: number,
  timing: Timing,
  extra: Pick<BenchRow, 'ratioTo' | 'note'> = {},
): BenchRow {
  return {
    name,
    size,
    unit: 'ms',
    value: timing.medianMs,
    min: timing.minMs,
    median: timing.medianMs,
    ...extra,
  };
}
