/** When knots were marked as tied, for the pace: knows no screen, and is told the time. */
import type { TiedMark } from '../../engine/index.ts';

/** Marks that are kept: more knots than a pace is taken from, one by one, and enough of a sitting to tell when rest is due. */
export const MOST_MARKS = 400;

export class TieClock {
  readonly #now: () => number;
  /** When the last mark was, or tying began. */
  #since: number;
  #wasHidden = false;

  /** @param now the time in milliseconds */
  constructor(now: () => number) {
    this.#now = now;
    this.#since = now();
  }

  /** The page was out of sight. */
  hide(): void {
    this.#wasHidden = true;
  }

  /** So many knots were marked as tied at once. Rule N60. */
  tied(marks: readonly TiedMark[], knots: number): readonly TiedMark[] {
    const mark = { gapMs: this.#now() - this.#since, knots, wasHidden: this.#wasHidden };
    this.anew();
    return [...marks, mark].slice(-MOST_MARKS);
  }

  /** The last mark was none: its time counts for the next one. Rule N60. */
  back(marks: readonly TiedMark[]): readonly TiedMark[] {
    const last = marks.at(-1);
    if (last === undefined) return marks;
    this.#since -= last.gapMs;
    this.#wasHidden ||= last.wasHidden;
    return marks.slice(0, -1);
  }

  /** Counts from now on, as after what nobody timed. */
  anew(): void {
    this.#since = this.#now();
    this.#wasHidden = false;
  }
}
