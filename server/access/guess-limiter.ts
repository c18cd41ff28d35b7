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

  /** Takes back one that turned out to be none; nothing where its window has ended since. */
  wasRight(address: string, since: number): void {
    const entry = this.#failures.get(address);
    if (entry?.since === since && entry.count > 0) entry.count -= 1;
  }

  /**
   * Notes a failed try, or one that counts as failed until it is known: else of any number at once none would have failed yet.
   * @returns the beginning of its window, for {@link wasRight}
   */
  fail(address: string): number {
    const now = this.#now();
    const entry = this.#failures.get(address);
    if (entry && entry.since <= now && entry.since + this.#limits.windowMs > now) {
      entry.count += 1;
      return entry.since;
    }
    this.#failures.delete(address);
    this.#failures.set(address, { count: 1, since: now });
    if (this.#failures.size > this.#limits.addresses) {
      const oldest = this.#failures.keys().next();
      if (!oldest.done) this.#failures.delete(oldest.value);
    }
    return now;
  }
}

/** How long a link that was right is remembered, and how many of them. */
const KNOWN_MS = 60 * 60_000;
const MOST_KNOWN = 10_000;

/**
 * Links that let somebody in a short time ago, by the hash of their secret. Whoever shows one of them guesses nothing, whatever was tried
 * from their address; whether it still opens is looked up all the same.
 */
export class KnownLinks {
  readonly #now: () => number;
  readonly #links = new Map<string, number>();

  constructor(now: () => number) {
    this.#now = now;
  }

  note(boardId: string, secretHash: string): void {
    const key = `${boardId} ${secretHash}`;
    this.#links.delete(key);
    this.#links.set(key, this.#now());
    const oldest = this.#links.keys().next();
    if (this.#links.size > MOST_KNOWN && !oldest.done) this.#links.delete(oldest.value);
  }

  forget(boardId: string, secretHash: string): void {
    this.#links.delete(`${boardId} ${secretHash}`);
  }

  has(boardId: string, secretHash: string): boolean {
    const at = this.#links.get(`${boardId} ${secretHash}`);
    return at !== undefined && this.#now() >= at && this.#now() - at < KNOWN_MS;
  }
}
