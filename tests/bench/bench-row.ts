/** One measured line of the bench report. Functions named `bench…` in `tests/bench/*.bench.ts` return them. */
export interface BenchRow {
  /** What ran, with its variant: `planMount, forced`. Rows of one name and growing sizes form a series, whose growth exponent is printed. */
  readonly name: string;
  /** What the cost grows with, as a number: places, knots, cells. */
  readonly size: number;
  /** The figure to report, usually the median, in `unit`. */
  readonly value: number;
  /** Unit of `value`, `min` and `median`: `ms`, `µs`, `B`, `pick-ups`, `×` … */
  readonly unit: string;
  /** Least and middle of the repeats. */
  readonly min: number;
  readonly median: number;
  /** What the figure is compared with in the same run. `bound`: the most (or, with `atLeast`, the least) the ratio may be. */
  readonly ratioTo?: {
    readonly name: string;
    readonly ratio: number;
    readonly bound?: number;
    readonly atLeast?: boolean;
  };
  /** Anything the reader needs: the input, what `size` counts. */
  readonly note?: string;
}

/** A function of a `*.bench.ts` file; exported under a name that begins with `bench`. */
export type Bench = () => readonly BenchRow[] | Promise<readonly BenchRow[]>;
