/** Counted steps: what a search may still do, the same on every machine. */

/** What a search tells on its way, and is asked. */
export interface Watch {
  /** Told the share of the steps done, 0 to 1, now and then. */
  readonly onProgress?: ((share: number) => void) | undefined;
  /** Asked now and then; true ends the search with the best found so far. */
  readonly isCancelled?: (() => boolean) | undefined;
}

export class Budget {
  readonly #most: number;
  readonly #watch: Watch;
  readonly #whole: Budget | null;
  #used = 0;
  #isCancelled = false;

  /** @param whole the budget of which this is a part; what is spent here is spent there too */
  constructor(most: number, watch: Watch = {}, whole: Budget | null = null) {
    this.#most = most;
    this.#watch = watch;
    this.#whole = whole;
  }

  /** Steps that may still be done; 0 once cancelled. */
  get left(): number {
    if (this.#isCancelled) return 0;
    const own = Math.max(0, this.#most - this.#used);
    return this.#whole === null ? own : Math.min(own, this.#whole.left);
  }

  get isOver(): boolean {
    return this.left === 0;
  }

  /** Takes note of steps done. */
  spend(steps: number): void {
    this.#used += steps;
    this.#whole?.spend(steps);
    if (!this.#isCancelled && this.#watch.isCancelled?.() === true) this.#isCancelled = true;
    this.#watch.onProgress?.(Math.min(1, this.#used / this.#most));
  }

  /** At most so many of the steps left. */
  part(most: number): Budget {
    return new Budget(Math.min(most, this.left), {}, this);
  }
}
