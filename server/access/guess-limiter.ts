/** Slows down whoever tries links: a number of failed tries for each address in a window of time, then a wait. */
export interface GuessLimits {
  readonly tries: number;
  readonly windowMs: number;
  /** Addresses remembered at most; beyond it the oldest are forgotten. */
  readonly addresses: number;
}

const DEFAULT_GUESS_LIMITS: GuessLimits = { tries: 20, windowMs: 60_000, addresses: 10_000 };

/** Counts failed tries. Memory is bounded by `addresses`; an entry ends with its window. */
export class GuessLimiter {
  readonly #limits: GuessLimits;
  readonly #now: () => number;
  readonly #failures = new Map<string, { count: number; since: number }>();

  constructor(now: () => number, limits: GuessLimits = DEFAULT_GUESS_LIMITS) {
    this.#now = now;
    this.#limits = limits;
  }

  /** Milliseconds the address has to wait before its next try; 0 when it may try now. */
  waitMs(address: string): number {
    const entry = this.#failures.get(address);
    if (!entry) return 0;
    const left = entry.since + this.#limits.windowMs - this.#now();
    // More than a window is left only where the clock was set back.
    if (left <= 0 || left > this.#limits.windowMs) {
      this.#failures.delete(address);
      return 0;
    }
    return entry.count >= this.#limits.tries ? left : 0;
  }

  /** Notes a failed try. */
  fail(address: string): void {
    const now = this.#now();
    const entry = this.#failures.get(address);
    if (entry && entry.since <= now && entry.since + this.#limits.windowMs > now) {
      entry.count += 1;
      return;
    }
    this.#failures.delete(address);
    this.#failures.set(address, { count: 1, since: now });
    if (this.#failures.size > this.#limits.addresses) {
      const oldest = this.#failures.keys().next();
      if (!oldest.done) this.#failures.delete(oldest.value);
    }
  }
}
